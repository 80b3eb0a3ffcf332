# SPDX-License-Identifier: BSD-3-Clause
"""Which full-wave solutions a search needs: for each shape a mesh of perimeters, thicknesses and coupling loops."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ringwright.antenna.design import Design
from ringwright.antenna.geometry import alone, build_wires
from ringwright.antenna.network import chebyshev_nodes
from ringwright.choose.rings.axis import axis_nodes
from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.node import NodeTask, bare
from ringwright.errors import DesignError

MOST_PERIMETERS, MOST_RADII, COUPLINGS = 24, 3, 6
"""Solutions along each axis at most; benchmarks/search_mesh.py has what they leave of error."""
WIDE = 4.0
"""Ratio of the thickest to the thinnest conductor from which on one more thickness is solved."""
LARGEST, SMALLEST = (0.5, 0.42, 0.35, 0.28, 0.22), 1.0 / 14.0
"""Coupling loops over the ring's diameter: the first of these that can be built, down to this."""
LEAST_LOOP = 0.022
"""A loop of 6 mm wire with an opening [m]."""
THICKEST = 0.15
"""Radius of a conductor over that of the ring: the closed formulas hold up to a fifth of a radius or of a side."""

Index = tuple[int, int, int]
"""Of perimeter, radius and coupling."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """Where one shape is solved: `perimeters`, `radii` [m]; `ratios` of the coupling loop's to the ring's diameter."""

    base: Design
    perimeters: tuple[float, ...]
    radii: tuple[float, ...]
    ratios: tuple[float, ...]

    def tasks(self) -> Iterator[tuple[Index, NodeTask]]:
        """All solutions, perimeter by perimeter."""
        middle = len(self.ratios) // 2
        for p, perimeter in enumerate(self.perimeters):
            for a, radius in enumerate(self.radii):
                if too_thick(radius, perimeter):
                    continue
                for d, ratio in enumerate(self.ratios):
                    design = bare(
                        self.base,
                        perimeter=perimeter,
                        radius=radius,
                        coupling_diameter=ratio * perimeter / math.pi,
                    )
                    yield (p, a, d), NodeTask(design=design, is_seen=d == middle)


def too_thick(radius: float, perimeter: float) -> bool:
    """Whether a conductor is too thick for a ring to be called one."""
    return radius > THICKEST * perimeter / (2.0 * math.pi)


def mesh_of(brief: Brief, shape: str, *, perimeters: Sequence[float], radii: Sequence[float]) -> Mesh:
    """The mesh that carries all rings of one shape with these perimeters and conductors' radii [m]."""
    base = brief.bases[shape]
    most = MOST_RADII + (max(radii) > WIDE * min(radii))
    shortest = min(perimeters)
    fitting = [radius for radius in radii if not too_thick(radius, shortest)]
    largest = _largest_ratio(base, shortest, max(fitting, default=min(radii)))
    smallest = min(max(SMALLEST, LEAST_LOOP * math.pi / shortest), largest / 1.5)
    logs = chebyshev_nodes(math.log(smallest), math.log(largest), COUPLINGS)
    return Mesh(
        base=base,
        perimeters=axis_nodes(perimeters, MOST_PERIMETERS),
        radii=axis_nodes(radii, most),
        ratios=tuple(math.exp(each) for each in logs),
    )


def _largest_ratio(base: Design, perimeter: float, radius: float) -> float:
    lone = replace(alone(base), site=replace(base.site, earth=None, metal=(), people=()))
    for ratio in LARGEST:
        diameter = ratio * perimeter / math.pi
        try:
            build_wires(bare(lone, perimeter=perimeter, radius=radius, coupling_diameter=diameter))
        except DesignError:
            continue
        return ratio
    return LARGEST[-1]
