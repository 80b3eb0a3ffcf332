# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright tune commission`: a new drive is brought up, step by step."""

from pathlib import Path

import click

from ringwright.cli.tune_link import Where, drive_options

STEPS = ("board", "direction", "ends", "play", "meter", "table")


@click.command(
    epilog="""\b
Examples:
  ringwright tune commission designs/terrace.toml --twin
  ringwright tune commission designs/terrace.toml --link serial:/dev/ttyACM0
  ringwright tune commission designs/terrace.toml --link serial:/dev/ttyACM0 --from play

Ctrl-C stops the drive and ends; what was found stays, and the next run goes on from there."""
)
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--from", "step", type=click.Choice(STEPS), help="Do this step and all after it again.")
@click.option(
    "--meter",
    metavar="ADDRESS",
    help="A SCPI power meter that says the watts: scpi://HOST:PORT or visa:RESOURCE.",
)
@drive_options
@click.pass_context
def commission(
    context: click.Context, *, design: Path, step: str | None, meter: str | None, where: Where, as_json: bool
) -> None:
    """Bring a new drive up: board, direction, ends, play, meter, first table.

    Each step says what to expect and asks; what it does not see it does not pass. What was found is kept in the
    workspace and used from then on. With --json the questions are documents and each answer a line of standard input.
    Exit code 1 if a step was not done.
    """
    from ringwright.cli.commissioning import bring_up
    from ringwright.cli.linking import access_of
    from ringwright.cli.tuning import Errand, run_errand

    errand = Errand(design=design, access=access_of(where), as_json=as_json)
    if not run_errand(errand, lambda drive: bring_up(drive, step, meter=meter, as_json=as_json)):
        context.exit(1)
