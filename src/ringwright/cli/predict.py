# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright predict`: what a ring does, from its design file."""

from pathlib import Path

import click

from ringwright.cli.units import units_options


@click.command(
    epilog="""\b
Examples:
  ringwright predict designs/first-ring.toml
  ringwright predict designs/*.toml
  ringwright predict designs/first-ring.toml --json > prediction.json
  ringwright predict designs/first-ring.toml --plot curves.svg --explain
  ringwright predict designs/first-ring.toml --calibration after-cure
"""
)
@click.argument("designs", metavar="DESIGN...", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "--json", "as_json", is_flag=True, help="One JSON document; for several designs an array of them."
)
@click.option(
    "--explain", is_flag=True, help="Also: what every figure is, its formula, inputs, source and limits."
)
@click.option(
    "--plot", type=click.Path(path_type=Path), help="Also draw SWR and reflection of each band: FILE.svg."
)
@click.option("--strict", is_flag=True, help="Exit with 1 if the capacitor does not reach all of every band.")
@click.option("--without-metal", is_flag=True, help="As if the metal nearby were gone.")
@click.option(
    "--calibration", metavar="NAME", help="With what prove --accept NAME learnt of it, or of that file."
)
@units_options("Lengths in metres, or in feet and inches")
@click.pass_context
def predict(
    context: click.Context,
    *,
    designs: tuple[Path, ...],
    as_json: bool,
    explain: bool,
    plot: Path | None,
    strict: bool,
    without_metal: bool,
    calibration: str | None,
    is_imperial: bool,
) -> None:
    """Predict a ring from its design file, several side by side.

    Solved full-wave. For each band: where every watt goes, what the ring reaches with its capacitor, how much power
    it takes, what voltage and current it must stand, and how it meets the feedline.
    """
    if as_json and explain:
        raise click.UsageError("--json and --explain exclude each other", context)
    if plot is not None and plot.suffix.lower() != ".svg":
        raise click.UsageError(
            f"--plot {str(plot)!r}: SVG is the one format drawn, end the name in .svg", context
        )
    from ringwright.cli.report import load_and_predict, report, report_json, write_plot

    results = load_and_predict(designs, is_metal_gone=without_metal, calibration=calibration)
    if plot is not None:
        write_plot(plot, results)
    if as_json:
        report_json(results)
    else:
        report(results, explain=explain, is_imperial=is_imperial)
    if strict and not all(band.tuning.reachable for _, found in results for band in found.bands):
        context.exit(1)
