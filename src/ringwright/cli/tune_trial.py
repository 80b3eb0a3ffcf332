# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright tune trial`: the tuner before thousands of random simulated antennas."""

import click


@click.command(
    epilog="""\b
Examples:
  ringwright tune trial --twins 40
  ringwright tune trial --twins 2000 --seed 1 --json > trial.json
  ringwright tune trial --twins 10000 --seed 1 --faults

A trial ends with exit code 1 if any act was unsafe."""
)
@click.option(
    "--twins",
    type=click.IntRange(1, 1_000_000),
    default=40,
    show_default=True,
    help="How many random simulated antennas.",
)
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed gives the same antennas.")
@click.option("--faults", is_flag=True, help="Let one thing go wrong with each.")
@click.option(
    "--processes",
    type=click.IntRange(1, 256),
    help="How many at once; by default as many as there are processors. Changes no result.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON document.")
def trial(*, twins: int, seed: int, faults: bool, processes: int | None, as_json: bool) -> None:
    """Judge the tuner on random simulated antennas.

    Each has a Q, backlash, windup, step, meter and link of chance and a tuning table that is off. Beside it stands
    a monitor that counts unsafe acts, and two plain methods start from the same table.
    """
    from ringwright.cli.trialling import show_trial

    show_trial(twins, seed=seed, with_faults=faults, processes=processes, as_json=as_json)
