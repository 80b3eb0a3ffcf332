# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright directions`: where a ring fires and hears."""

from pathlib import Path

import click


@click.command(
    epilog="""\b
Examples:
  ringwright directions designs/first-ring.toml
  ringwright directions designs/first-ring.toml --band 40m
  ringwright directions designs/first-ring.toml --json > directions.json

Bearings count from true north and need the design's x_bearing; gains include the antenna's losses."""
)
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--band", "bands", multiple=True, help="Only this band of the design; repeatable.")
@click.option(
    "--json", "as_json", is_flag=True, help="One JSON document, with cuts and the pattern in space."
)
def directions(*, design: Path, bands: tuple[str, ...], as_json: bool) -> None:
    """Where a ring fires and hears, on its site.

    Gain against elevation and true bearing, the take-off angle, nulls and their depth, and a half-wave dipole at the
    ring's place and height beside it, by the same solver.
    """
    from ringwright.cli.compass import show_directions

    show_directions(design, bands, as_json=as_json)
