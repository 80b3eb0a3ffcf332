# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright search`: from a brief to the rings worth building."""

from pathlib import Path

import click

from ringwright.cli.units import units_options


@click.command(
    epilog="""\b
Examples:
  ringwright search brief.toml
  ringwright search brief.toml --parts parts.toml --write designs
  ringwright search brief.toml --json > found.json
  ringwright search brief.toml --scheduler tcp://192.0.2.7:8786"""
)
@click.argument("brief", type=click.Path(path_type=Path))
@click.option(
    "--parts",
    type=click.Path(path_type=Path),
    help="Your own parts and prices; parts.toml beside the brief counts without it.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON document.")
@click.option(
    "--write",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Also write each ring as a design file.",
)
@click.option("--workers", type=click.IntRange(1, 256), help="Processes; one for each core without it.")
@click.option("--scheduler", metavar="ADDRESS", help="Solve with the workers of a Dask scheduler instead.")
@click.option("--afresh", is_flag=True, help="Solve everything anew, and keep nothing.")
@click.option(
    "--workspace",
    type=click.Path(path_type=Path),
    help="Keep solutions in this one, wherever the brief lies.",
)
@units_options("Lengths; left out, as the brief is written", default=None)
@click.pass_context
def search(
    context: click.Context,
    *,
    brief: Path,
    parts: Path | None,
    as_json: bool,
    write: Path | None,
    workers: int | None,
    scheduler: str | None,
    afresh: bool,
    workspace: Path | None,
    is_imperial: bool | None,
) -> None:
    """Find the rings worth building for a brief: bands, room, site, parts and what counts.

    Every combination is considered; what is provably out is not solved, the rest is, full-wave on the site with the
    coupling matched. A search that was stopped goes on where it was when it is asked again. Exit code 1: no ring
    passes, and the answer says what to relax.
    """
    if workers is not None and scheduler is not None:
        raise click.UsageError("--workers and --scheduler exclude each other", context)
    if afresh and workspace is not None:
        raise click.UsageError("--afresh keeps nothing; leave it or --workspace out", context)
    from ringwright.cli.searching import show_search
    from ringwright.desk.searching import SearchWay, journal_of

    way = SearchWay(
        workers=workers, scheduler=scheduler, journal=None if afresh else journal_of(brief, workspace)
    )
    context.exit(show_search(brief, parts, way, as_json=as_json, write=write, is_imperial=is_imperial))
