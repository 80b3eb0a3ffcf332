# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright keepout`: how far people must stay away."""

from pathlib import Path

import click

from ringwright.cli.units import units_options


@click.command(
    epilog="""\b
Examples:
  ringwright keepout designs/first-ring.toml
  ringwright keepout designs/first-ring.toml --report station-file.html
  ringwright keepout designs/first-ring.toml --json --strict

People stand in the design file: [[site.people]]."""
)
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON document.")
@click.option(
    "--report",
    type=click.Path(path_type=Path),
    help="Also write a dated page for the station file: FILE.html.",
)
@click.option(
    "--strict", is_flag=True, help="Exit with 1 if a limit is exceeded where one of the people may be."
)
@click.option(
    "--calibration", metavar="NAME", help="With what prove --accept NAME learnt of it, or of that file."
)
@units_options("Distances in metres, or in feet")
@click.pass_context
def keepout(
    context: click.Context,
    *,
    design: Path,
    as_json: bool,
    report: Path | None,
    strict: bool,
    calibration: str | None,
    is_imperial: bool,
) -> None:
    """How far people must stay away, on each band and by each limit.

    Distances count from the ring's centre to the last point where the electric or the magnetic field exceeds the limit;
    the advised one has a margin. Limits and codes differ by country: your licence and your local codes decide.
    """
    if report is not None and report.suffix.lower() not in (".html", ".htm"):
        raise click.BadParameter(f"{report.name!r} does not end in .html, the one format written", context)
    from ringwright.cli.exposure import show_keepout

    passes = show_keepout(
        design, as_json=as_json, report=report, is_imperial=is_imperial, calibration=calibration
    )
    if strict and not passes:
        context.exit(1)
