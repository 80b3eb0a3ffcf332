# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright tune to`, `learn`, `follow`, `nudge`: a drive is told where to be."""

from pathlib import Path

import click

from ringwright.cli.tune_link import Where, drive_options

_DESIGN = click.argument("design", type=click.Path(path_type=Path))
_FREQUENCY = click.argument("frequency")


@click.command(
    "to",
    epilog="""\b
Examples:
  ringwright tune to designs/terrace.toml "7.1 MHz" --twin
  ringwright tune to designs/terrace.toml "10.12 MHz" --twin --power "30 W"
  ringwright tune to designs/terrace.toml "7.1 MHz" --twin --only-go --json""",
)
@_DESIGN
@_FREQUENCY
@click.option("--only-go", is_flag=True, help="Only where the table has it: no carrier.")
@click.option("--power", metavar="QUANTITY", help='Then raise step by step to this, as in "30 W".')
@drive_options
@click.pass_context
def to(
    context: click.Context,
    *,
    design: Path,
    frequency: str,
    only_go: bool,
    power: str | None,
    where: Where,
    as_json: bool,
) -> None:
    """Tune to a frequency: go there by the table, find the dip at low power.

    Exit code 1 if the dip was not found or something was refused.
    """
    if only_go and power is not None:
        raise click.UsageError("--only-go and --power exclude each other", context)
    from ringwright.cli.linking import access_of
    from ringwright.cli.tuning import Errand, run_errand

    errand = Errand(design=design, access=access_of(where), as_json=as_json, frequency=frequency, power=power)
    if not run_errand(errand, lambda drive: drive.tune_to(frequency, only_go=only_go, power=power)):
        context.exit(1)


@click.command(
    epilog="""\b
Examples:
  ringwright tune learn designs/terrace.toml --twin
  ringwright tune learn designs/terrace.toml --twin --band 40m --each 5"""
)
@_DESIGN
@click.option("--band", "bands", multiple=True, help="Only this band; repeatable. All bands if left out.")
@click.option(
    "--each", type=click.IntRange(1, 20), default=3, show_default=True, help="Frequencies in each band."
)
@drive_options
@click.pass_context
def learn(
    context: click.Context,
    *,
    design: Path,
    bands: tuple[str, ...],
    each: int,
    where: Where,
    as_json: bool,
) -> None:
    """Learn the tuning table: tune to a few frequencies in every band.

    What was learnt is kept in the workspace of the design. Exit code 1 if a dip was not found.
    """
    from ringwright.cli.linking import access_of
    from ringwright.cli.tuning import Errand, run_errand

    errand = Errand(design=design, access=access_of(where), as_json=as_json)
    if not run_errand(errand, lambda drive: drive.learn(bands, each=each)):
        context.exit(1)


@click.command(
    epilog="""\b
Example:
  ringwright tune follow designs/terrace.toml "7.1 MHz" --twin --for "10 min"
"""
)
@_DESIGN
@_FREQUENCY
@click.option("--for", "duration", default="10 min", show_default=True, metavar="QUANTITY", help="How long.")
@drive_options
@click.pass_context
def follow(
    context: click.Context,
    *,
    design: Path,
    frequency: str,
    duration: str,
    where: Where,
    as_json: bool,
) -> None:
    """Tune to a frequency, then follow the warmth while nobody transmits."""
    from ringwright.cli.linking import access_of
    from ringwright.cli.tuning import Errand, run_errand, seconds_of

    seconds = seconds_of("--for", duration)
    errand = Errand(design=design, access=access_of(where), as_json=as_json, frequency=frequency)
    if not run_errand(errand, lambda drive: drive.follow(frequency, seconds=seconds)):
        context.exit(1)


@click.command(
    epilog="""\b
Examples:
  ringwright tune nudge designs/terrace.toml "7.1 MHz" --twin --by "500 Hz"
  ringwright tune nudge designs/terrace.toml "7.1 MHz" --twin --by "-2 kHz" --hold "2 s"

A tap goes as far as --by says and stands. Held, the drive goes as far again every half second: with "-2 kHz" held for
2 s, four times 2 kHz."""
)
@_DESIGN
@_FREQUENCY
@click.option(
    "--by", "change", required=True, metavar="QUANTITY", help='How far a tap goes, as in "-500 Hz".'
)
@click.option("--hold", metavar="QUANTITY", help="Hold the button for so long; a tap if left out.")
@drive_options
@click.pass_context
def nudge(
    context: click.Context,
    *,
    design: Path,
    frequency: str,
    change: str,
    hold: str | None,
    where: Where,
    as_json: bool,
) -> None:
    """Go where the table has a frequency, then a little beside it, by a tap or a held button."""
    from ringwright.cli.linking import access_of
    from ringwright.cli.tuning import Errand, change_of, run_errand, seconds_of

    by, held = change_of("--by", change), None if hold is None else seconds_of("--hold", hold)
    errand = Errand(design=design, access=access_of(where), as_json=as_json, frequency=frequency)
    if not run_errand(errand, lambda drive: drive.nudge(frequency, by=by, hold=held)):
        context.exit(1)
