# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright slots`: a plan for alternating two antennas."""

from pathlib import Path

import click


@click.command(
    epilog="""\b
Examples:
  ringwright slots ring dipole > plan.csv
  ringwright slots ring dipole --length "4 min" --count 90 --start "2026-05-01T12:00Z" --seed 7"""
)
@click.argument("first")
@click.argument("second")
@click.option(
    "--length", default="2 min", show_default=True, help="Of a slot; as long as a transmission or a few."
)
@click.option(
    "--count",
    default=60,
    show_default=True,
    type=click.IntRange(1, 100_000),
    help="Of slots, in twos: an odd number is rounded up.",
)
@click.option("--start", metavar="TIME", help="UTC; without it the next full minute.")
@click.option("--seed", type=click.IntRange(min=0), help="For the same lot again.")
@click.option("--out", type=click.Path(path_type=Path), help="A file instead of standard output.")
def slots(
    *, first: str, second: str, length: str, count: int, start: str | None, seed: int | None, out: Path | None
) -> None:
    """Plan when FIRST and when SECOND is on the air, so that their comparison is fair.

    Slots come in twos with both antennas in an order drawn by lot, so that no slow change of the sky takes sides.
    Change antennas with the transmitter off: a small loop has kilovolts across its capacitor.
    """
    from ringwright.cli.airing import show_slots

    show_slots(first, second, length=length, count=count, start=start, seed=seed, out=out)
