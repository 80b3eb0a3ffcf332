# SPDX-License-Identifier: BSD-3-Clause
"""Full-wave solutions of a design, kept by what they depend on: geometry and frequency, not parts or power."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import TypeVar

import numpy as np

from ringwright.antenna.geometry import Wires
from ringwright.physics.graph import FloatArray, WireGraph
from ringwright.physics.thin_wire import PortSolution, ThinWire

GEOMETRIES_KEPT = 8
SOLUTIONS_KEPT = 64

T = TypeVar("T")


class _Kept(OrderedDict[Hashable, T]):
    """The most recently used values, at most `limit`."""

    def __init__(self, limit: int) -> None:
        super().__init__()
        self._limit = limit

    def get_or_make(self, key: Hashable, make: Callable[[], T]) -> T:
        if key not in self:
            self[key] = make()
            if len(self) > self._limit:
                self.popitem(last=False)
        self.move_to_end(key)
        return self[key]


class SolutionMemory:
    """Remembers geometry matrices and port solutions between predictions of similar designs.

    `solves` counts new full-wave solutions, so that a change that should cost none can be shown to cost none.
    One memory serves one thread at a time.
    """

    def __init__(self) -> None:
        self._solvers: _Kept[ThinWire] = _Kept(GEOMETRIES_KEPT)
        self._solutions: _Kept[PortSolution] = _Kept(SOLUTIONS_KEPT)
        self.solves = 0

    def solver(self, wires: Wires) -> ThinWire:
        """Geometry matrices; the same for a ring at any place, since free space looks the same everywhere."""
        return self._solvers.get_or_make(
            _shape_of(wires.graph), lambda: ThinWire(wires.graph, (wires.feed, wires.gap))
        )

    def solution(self, wires: Wires, frequency: FloatArray) -> PortSolution:
        """Ports feed and gap at the frequencies [Hz]."""

        def solve() -> PortSolution:
            self.solves += 1
            return self.solver(wires).solve(frequency)

        return self._solutions.get_or_make((_shape_of(wires.graph), frequency.tobytes()), solve)


def _shape_of(graph: WireGraph) -> Hashable:
    relative = np.round(graph.nodes - graph.nodes[0], 12)
    parts = (relative, graph.segments, graph.radius, graph.wire, graph.turn)
    return tuple(part.tobytes() for part in parts)
