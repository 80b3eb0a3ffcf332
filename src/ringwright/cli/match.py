# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright match`: the coupling for all bands at once."""

from pathlib import Path

import click

from ringwright.cli.units import units_options


@click.command(
    epilog="""\b
Examples:
  ringwright match designs/first-ring.toml
  ringwright match designs/first-ring.toml --vary squash --vary clearance
  ringwright match designs/first-ring.toml --write designs/matched.toml
  ringwright match designs/first-ring.toml --json > match.json"""
)
@click.argument("design", type=click.Path(path_type=Path))
@click.option(
    "--vary",
    multiple=True,
    type=click.Choice(["squash", "clearance", "at"]),
    help="Vary this, too, beside the size; repeatable. An oval loop's squash always is.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON document.")
@click.option("--explain", is_flag=True, help="Also: what every figure is, its formula, source and limits.")
@click.option(
    "--write",
    type=click.Path(path_type=Path),
    help="Also write the design with the coupling found, comments kept: FILE.toml.",
)
@click.option(
    "--calibration", metavar="NAME", help="With what prove --accept NAME learnt of it, or of that file."
)
@units_options("Lengths in metres, or in feet and inches")
@click.pass_context
def match(
    context: click.Context,
    *,
    design: Path,
    vary: tuple[str, ...],
    as_json: bool,
    explain: bool,
    write: Path | None,
    calibration: str | None,
    is_imperial: bool,
) -> None:
    """Find the coupling with the lowest SWR on the worst band.

    One coupling serves all bands of the design, each re-tuned by its capacitor for its lowest SWR. Solved full-wave on
    the design's site. A loop's diameter is varied, a tapped coupling's tap, a transformer's turns.
    """
    if as_json and explain:
        raise click.UsageError("--json and --explain exclude each other", context)
    if write is not None and write.suffix.lower() != ".toml":
        raise click.BadParameter(f"{write.name!r} does not end in .toml, the form of a design file", context)
    from ringwright.cli.matching import show_match

    show_match(
        design,
        vary,
        as_json=as_json,
        explain=explain,
        write=write,
        is_imperial=is_imperial,
        calibration=calibration,
    )
