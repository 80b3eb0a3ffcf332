# SPDX-License-Identifier: BSD-3-Clause
"""What of a coupling can be varied, under the name its key has in a design file, and how far."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ringwright.antenna.coupling_place import in_centre
from ringwright.antenna.design import Coupling, CouplingKind, CouplingPlace, CouplingShape, Design, Ring
from ringwright.antenna.design_file.conductor import greatest_thickness
from ringwright.antenna.geometry import alone, build_wires
from ringwright.antenna.outline import ellipse_semi_axes
from ringwright.errors import DesignError

KNOBS = {
    CouplingKind.LOOP: ("diameter", "squash", "clearance", "at"),
    CouplingKind.TAPPED: ("tap_at", "clearance"),
    CouplingKind.TRANSFORMER: ("turns",),
}
"""The first of each kind is always varied."""
FLATTEST = 3.0
"""Squash, and its inverse: flatter loops are hard to bend and to hold."""
CLOSEST = 0.005
"""Clearance [m] below which a loop that is held to 5 mm may touch."""
FARTHEST_SHARE = 1.0 / 6.0
"""Of the ring's diameter: a clearance beyond it is a place in the open ring, not beside its conductor."""
SMALLEST_SHARE = 1.0 / 40.0
"""Of the ring's diameter: a smaller coupling hardly couples."""
MOST_TURNS = 60
FIT = 1.01
"""Ratio to which the largest coupling that fits is found."""


@dataclass(frozen=True, slots=True)
class Knob:
    """A positive size of the coupling [m, or 1 for squash and turns] with the least and the greatest tried."""

    name: str
    low: float
    high: float

    @property
    def is_whole(self) -> bool:
        """Whether it counts something."""
        return self.name == "turns"


def usual_knobs(coupling: Coupling) -> tuple[str, ...]:
    """What is varied where nobody asks: size alone, of an oval loop also how flat it is."""
    is_oval = coupling.kind is CouplingKind.LOOP and coupling.shape is CouplingShape.OVAL
    return ("diameter", "squash") if is_oval else KNOBS[coupling.kind][:1]


def check_knobs(coupling: Coupling, names: Sequence[str]) -> None:
    """Refuse what this coupling does not have.

    Raises
    ------
    DesignError
        Naming the key.
    """
    own = KNOBS[coupling.kind]
    for name in names:
        if name not in own:
            raise DesignError(
                f'coupling.{name} cannot be varied with kind = "{coupling.kind.value}", which has {", ".join(own)}'
            )
    if coupling.place is CouplingPlace.CENTRE and "clearance" in names and "at" not in names:
        raise DesignError('coupling.clearance follows from the sizes with at = "centre"; vary the diameter')


def knobs_of(design: Design, names: Sequence[str]) -> tuple[Knob, ...]:
    """The sizes to vary, the coupling's first one first, with what fits into this ring."""
    first = KNOBS[design.coupling.kind][0]
    fixed = ("at", "clearance") if design.coupling.place is CouplingPlace.CENTRE else ("at",)
    others = [name for name in names if name not in (first, *fixed)]
    return (_first(design, first), *(_other(design, name) for name in dict.fromkeys(others)))


def value_of(coupling: Coupling, name: str) -> float:
    """A size as it is."""
    if name == "turns":
        assert coupling.core is not None
        return float(coupling.core.primary_turns)
    return float(getattr(coupling, name))


def with_values(design: Design, values: Mapping[str, float]) -> Coupling:
    """A design's coupling with other sizes; one in the ring's centre keeps to it."""
    coupling = design.coupling
    fields: dict[str, Any] = dict(values)  # knobs are named as the fields they set
    if "turns" in fields:
        assert coupling.core is not None
        return replace(coupling, core=replace(coupling.core, primary_turns=round(fields["turns"])))
    shape = CouplingShape.OVAL if "squash" in fields else coupling.shape
    changed = replace(coupling, shape=shape, **fields)
    return in_centre(changed, design.ring) if changed.place is CouplingPlace.CENTRE else changed


def has_opening(coupling: Coupling) -> bool:
    """Whether a loop leaves an opening in its own conductor."""
    if coupling.diameter is None or coupling.conductor is None:
        return True
    return min(loop_size(coupling)) > greatest_thickness(coupling.conductor)


def loop_size(coupling: Coupling) -> tuple[float, float]:
    """Of a loop, along the ring's conductor and across it, between its own conductor's axes [m]."""
    assert coupling.diameter is not None
    aspect = coupling.squash if coupling.shape is CouplingShape.OVAL else 1.0
    half_along, half_across = ellipse_semi_axes(math.pi * coupling.diameter, aspect)
    return 2.0 * half_along, 2.0 * half_across


def wire_length(coupling: Coupling) -> float | None:
    """Of the wire to bend into a loop, along its axis [m]; None for other kinds."""
    return None if coupling.diameter is None else math.pi * coupling.diameter


def ring_diameter(ring: Ring) -> float:
    """Of the circle with one turn's perimeter [m]."""
    return ring.perimeter / math.pi


def _first(design: Design, name: str) -> Knob:
    if name == "turns":
        return Knob(name, 1.0, float(MOST_TURNS))
    across = ring_diameter(design.ring)
    low, high = SMALLEST_SHARE * across, across if name == "diameter" else math.pi * across / 2.0
    own = value_of(design.coupling, name)
    while high / low > FIT:
        middle = math.sqrt(low * high)
        fits = middle <= own or _fits(design, name, middle)
        low, high = (middle, high) if fits else (low, middle)
    return Knob(name, min(SMALLEST_SHARE * across, own), max(low, own))


def _fits(design: Design, name: str, value: float) -> bool:
    try:
        build_wires(alone(replace(design, coupling=with_values(design, {name: value}))))
    except DesignError:
        return False
    return True


def _other(design: Design, name: str) -> Knob:
    own = value_of(design.coupling, name)
    if name == "squash":
        return Knob(name, min(1.0 / FLATTEST, own), max(FLATTEST, own))
    farthest = FARTHEST_SHARE * ring_diameter(design.ring)
    return Knob(name, min(CLOSEST, own), max(farthest, own))
