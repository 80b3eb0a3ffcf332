# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright fields`: electric and magnetic field at places near the ring."""

from pathlib import Path

import click

from ringwright.errors import QuantityError
from ringwright.units import shown, to_si

Place = tuple[float, float, float]


def _places(context: click.Context, parameter: click.Parameter, texts: tuple[str, ...]) -> list[Place]:
    """Places [m] from texts such as "0 m, 2 m, 1.95 m"."""
    try:
        return [_place(text) for text in texts]
    except QuantityError as exc:
        raise click.BadParameter(str(exc), context, parameter) from exc


def _place(text: str) -> Place:
    parts = text.split(",")
    if len(parts) != 3:
        raise QuantityError(f'{shown(text)} is not a place; write three lengths, as in "0 m, 2 m, 1.95 m"')
    x, y, z = (to_si(part.strip(), "m") for part in parts)
    return x, y, z


@click.command(
    epilog="""\b
Examples:
  ringwright fields designs/first-ring.toml --at "0 m, 2 m, 1.95 m"
  ringwright fields designs/first-ring.toml --at "0 m, 2 m, 2 m" --at "6 ft, 0 ft, 5 ft" --json

The origin lies on the earth below the ring's centre, z is up, the axis of an upright ring runs along y."""
)
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--at", "places", callback=_places, multiple=True, required=True, help="x, y, z; repeatable.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document, with components and peaks.")
def fields(*, design: Path, places: list[Place], as_json: bool) -> None:
    """Electric and magnetic field at places near the ring.

    Root mean square of the whole vector, at the design's power and without modulation, from the same currents as the
    prediction, over the earth as it is. Near fields: the far-field formula does not hold here.
    """
    from ringwright.cli.exposure import show_fields

    show_fields(design, places, as_json=as_json)
