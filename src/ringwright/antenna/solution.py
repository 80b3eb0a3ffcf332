# SPDX-License-Identifier: BSD-3-Clause
"""Full-wave solutions of a design, kept by what they depend on: geometry, earth and frequency, not parts or power."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import NamedTuple, TypeVar

import numpy as np

from ringwright.antenna.coupling_core import windings_of
from ringwright.antenna.design import Earth
from ringwright.antenna.geometry import Wires
from ringwright.antenna.network import solved_impedance
from ringwright.physics.graph import FloatArray, WireGraph
from ringwright.physics.ground_reaction import GroundReaction
from ringwright.physics.half_space import (
    PERFECT_EARTH,
    GroundOperator,
    GroundPart,
    PerfectEarth,
    complex_permittivity,
    wave_index,
    wavenumber,
)
from ringwright.physics.thin_wire import PortSolution, ShortedPorts, ThinWire
from ringwright.physics.transformer import driven_through
from ringwright.physics.wave_kernel import ComplexArray

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


class _ReactionKey(NamedTuple):
    shape: Hashable
    height: float
    k_max: float
    index_max: float | None


class SolutionMemory:
    """Remembers geometry matrices and port solutions between predictions of similar designs.

    `solves` counts new full-wave solutions, so that a change that should cost none can be shown to cost none.
    One memory serves one thread at a time.
    """

    def __init__(self) -> None:
        self._solvers: _Kept[ThinWire] = _Kept(GEOMETRIES_KEPT)
        self._reactions: _Kept[GroundReaction] = _Kept(GEOMETRIES_KEPT)
        self._solutions: _Kept[ShortedPorts] = _Kept(SOLUTIONS_KEPT)
        self.solves = 0

    def solver(self, wires: Wires) -> ThinWire:
        """Geometry matrices; the same for a ring at any place, since free space looks the same everywhere."""
        return self._solvers.get_or_make(
            (_shape_of(wires.graph), _ports_of(wires)), lambda: ThinWire(wires.graph, _ports_of(wires))
        )

    def solution(self, wires: Wires, frequency: FloatArray, earth: Earth | None = None) -> PortSolution:
        """Ports feed and gap at the frequencies [Hz], over an earth or in free space (None).

        A transformer's turns and core are arithmetic on what is kept.
        """

        def solve() -> ShortedPorts:
            self.solves += 1
            return self.solver(wires).shorted(
                frequency,
                lossy=solved_impedance(wires, frequency),
                lumped=dict([wires.choke] if wires.choke else []),
                reflected=None if earth is None else self._reflected(wires, frequency, earth),
            )

        key = (
            (_shape_of(wires.graph), _ports_of(wires)),
            (wires.metal, wires.choke),
            frequency.tobytes(),
            earth,
            earth and _height_of(wires.graph),
        )
        kept = self._solutions.get_or_make(key, solve)
        return (
            kept.opened() if wires.core is None else driven_through(kept, windings_of(wires.core, frequency))
        )

    def through_earth(
        self, wires: Wires, current: ComplexArray, frequency: float, *, earths: ComplexArray
    ) -> ComplexArray:
        """Impedance through each of many lossy earths between given currents [ohm], (n, p, p): no new solution.

        `current` (n_segments, 2, p) per ampere into each port, `earths` (n,) complex relative permittivities at
        `frequency` [Hz], the first that of the design.
        """
        shape, height, k = _shape_of(wires.graph), _height_of(wires.graph), wavenumber(frequency)
        kept = [
            key
            for key in self._reactions
            if isinstance(key, _ReactionKey) and (key.shape, key.height) == (shape, height) and key.k_max >= k
        ]
        if kept:
            reaction = self._reactions[min(kept, key=lambda key: key.k_max)]
        else:
            reaction = self._reaction(wires, k_max=k, index_max=wave_index(complex(earths[0])))
        return reaction.between(current, frequency, eps_c=earths)

    def _reflected(self, wires: Wires, frequency: FloatArray, earth: Earth) -> ComplexArray:
        permittivity = [permittivity_of(earth, float(f)) for f in frequency]
        index_max = None if earth.perfect else max(wave_index(each) for each in permittivity)
        reaction = self._reaction(wires, k_max=wavenumber(float(frequency.max())), index_max=index_max)
        return np.stack(
            [reaction.reflected(float(f), e) for f, e in zip(frequency, permittivity, strict=True)]
        )

    def _reaction(self, wires: Wires, *, k_max: float, index_max: float | None) -> GroundReaction:
        """Kept by all it depends on; `index_max` None over a perfect earth."""

        def prepare(rho: FloatArray, h: FloatArray) -> GroundPart:
            if index_max is None:
                return PerfectEarth(rho, h)
            return GroundOperator.build(rho, h, k_max=k_max, index_max=index_max)

        key = _ReactionKey(_shape_of(wires.graph), _height_of(wires.graph), k_max, index_max)
        return self._reactions.get_or_make(
            key, lambda: GroundReaction(wires.graph, self.solver(wires).rooftops, prepare)
        )


def permittivity_of(earth: Earth, frequency: float) -> complex:
    """Complex relative permittivity of an earth at a frequency [Hz]."""
    if earth.perfect:
        return PERFECT_EARTH
    return complex_permittivity(frequency, permittivity=earth.permittivity, conductivity=earth.conductivity)


def _shape_of(graph: WireGraph) -> Hashable:
    relative = np.round(graph.nodes - graph.nodes[0], 12)
    parts = (relative, graph.segments, graph.radius, graph.wire, graph.turn)
    return tuple(part.tobytes() for part in parts)


def _ports_of(wires: Wires) -> tuple[int, int]:
    return wires.feed, wires.gap


def _height_of(graph: WireGraph) -> float:
    return round(float(graph.nodes[0, 2]), 12)
