# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright sheet`: the sheet for the bench."""

from pathlib import Path

import click

from ringwright.cli.units import units_options


@click.command(
    epilog="""\b
Examples:
  ringwright sheet designs/first-ring.toml
  ringwright sheet designs/first-ring.toml -o bench.pdf --paper letter --units imperial --templates
  ringwright sheet designs/first-ring.toml --drawings drawings
  ringwright sheet designs/first-ring.toml --json > build.json

What is cut how, what it stands on and what parts cost stands in the design file: [build], [stand], [[parts]]."""
)
@click.argument("design", type=click.Path(path_type=Path))
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help="The PDF; left out: DESIGN-sheet.pdf, in this folder.",
)
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Size of the pages."
)
@units_options("In millimetres, or in inches and pounds")
@click.option("--templates", is_flag=True, help="Add templates at 1:1, tiled, to lay the work on.")
@click.option(
    "--drawings",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Also write every drawing as SVG there.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON document; a PDF only where -o names one.")
def sheet(
    *,
    design: Path,
    output: Path | None,
    paper: str,
    is_imperial: bool,
    templates: bool,
    drawings: Path | None,
    as_json: bool,
) -> None:
    """The sheet for the bench, as a PDF: what to cut, bend, buy and wire, how it stands, what each test should show.

    Print it at 100 %. It has kilovolts, saws, solder, height and wind in it, with a caution at each. Limits and codes
    differ by country: your licence and your local codes decide.
    """
    from ringwright.cli.sheets import show_sheet

    show_sheet(
        design,
        output=output,
        paper=paper,
        is_imperial=is_imperial,
        templates=templates,
        drawings=drawings,
        as_json=as_json,
    )
