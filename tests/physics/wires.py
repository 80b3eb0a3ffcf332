# SPDX-License-Identifier: BSD-3-Clause
"""Simple wires for the solver's tests."""

import numpy as np
from numpy.typing import NDArray

from ringwright.physics.constants import C_0
from ringwright.physics.graph import WireGraph, chain
from ringwright.physics.thin_wire import PortSolution, ThinWire

Array = NDArray[np.float64]


def circle(radius: float, *, segments: int, centre: tuple[float, float, float] = (0.0, 0.0, 0.0)) -> Array:
    """Corners of a regular polygon that has the circle's area, in the plane z = 0."""
    step = 2.0 * np.pi / segments
    t = step * np.arange(segments)
    scale = radius * np.sqrt(step / np.sin(step))
    return np.asarray(np.asarray(centre) + scale * np.stack([np.cos(t), np.sin(t), 0 * t], axis=1))


def ring(circumference: float, wire_radius: float, segments: int) -> WireGraph:
    """A circular ring; its gap is node 0."""
    return chain(circle(circumference / (2 * np.pi), segments=segments), radius=wire_radius, closed=True)


def dipole(
    length: float, wire_radius: float, segments: int, *, at: tuple[float, float, float] = (0, 0, 0)
) -> WireGraph:
    """A straight wire along z about `at`; an even number of segments puts node segments/2 in its middle."""
    z = np.linspace(-length / 2, length / 2, segments + 1)
    return chain(np.asarray(at) + np.stack([0 * z, 0 * z, z], axis=1), radius=wire_radius, closed=False)


def solve(graph: WireGraph, ports: list[int], frequency: float = C_0) -> PortSolution:
    """At one frequency; by default the one whose wavelength is a metre."""
    return ThinWire(graph, ports).solve(np.array([frequency]))
