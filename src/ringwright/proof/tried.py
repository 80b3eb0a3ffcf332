# SPDX-License-Identifier: BSD-3-Clause
"""What takes new solutions: the same ring over other earths, with other coupling loops, with current on its cable."""

from dataclasses import replace

import numpy as np

from ringwright.antenna.design import CouplingKind, Design, Earth
from ringwright.antenna.earths import EARTHS
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.network import FEED, GAP
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import DesignError, OutOfRangeError
from ringwright.physics.graph import FloatArray

CONDUCTIVITY_REACH = 3.0
"""Conductivities looked at go up to this natural logarithm from the declared one, either way."""
LEAST_PERMITTIVITY, MOST_PERMITTIVITY = 2.0, 85.0
"""From dry sand or snow to fresh water."""
EARTHS_EACH_WAY = (9, 6)
"""Chebyshev points in both logarithms: the resistance at the gap then comes out to 2 parts in 1000."""
ROUGHLY = (6, 4)
"""For what is only planned: to 2 parts in 100."""
LOOP_SIZES = (0.5, 0.65, 0.8, 1.0, 1.2, 1.5)
"""Diameters of the coupling loop over the declared one; those that do not fit into the ring are left out."""
CHOKES = (0.0, 100.0, 300.0, 1000.0, 3000.0)
"""What may be left of the feedline's choke. [ohm]"""


class EarthMap:
    """Resistance at the gap over that on the declared earth, for other constants of the earth.

    A polynomial in the logarithms of both, through solutions at Chebyshev points. A ring declared in free space or
    over a mirror is looked at over an average earth, in case there is one.
    """

    def __init__(
        self,
        design: Design,
        frequency: FloatArray,
        memory: SolutionMemory,
        *,
        each_way: tuple[int, int] = EARTHS_EACH_WAY,
    ) -> None:
        declared, self._each_way = design.site.earth, each_way
        self.is_declared = declared is not None and not declared.perfect
        self.middle = declared if declared is not None and self.is_declared else EARTHS["average"].earth
        self._centre = np.log([self.middle.conductivity, np.sqrt(LEAST_PERMITTIVITY * MOST_PERMITTIVITY)])
        self._half = np.array([CONDUCTIVITY_REACH, np.log(MOST_PERMITTIVITY / LEAST_PERMITTIVITY) / 2.0])
        wires = build_wires(design)

        def resistance(earth: Earth | None) -> FloatArray:
            return np.asarray(memory.solution(wires, frequency, earth).impedance[:, GAP, GAP].real)

        here = resistance(declared)
        x, y = (_chebyshev(count) for count in each_way)
        places = np.array([(a, b) for a in x for b in y])
        constants = np.exp(self._centre + places * self._half)
        try:
            found = [
                np.log(resistance(Earth(name="tried", conductivity=float(s), permittivity=float(e))) / here)
                for s, e in constants
            ]
        except OutOfRangeError:
            if self.is_declared:
                raise
            # In free space a ring may be where over an earth none can be solved: then there is no earth to blame.
            found = [np.zeros(len(frequency))] * len(places)
        self._coefficients = np.linalg.solve(self._terms(places), np.array(found))

    def factor(self, conductivity: FloatArray, permittivity: FloatArray) -> FloatArray:
        """(samples, b) for natural logarithms of both constants over those of `middle`."""
        constants = (
            np.log(self.middle.conductivity) + conductivity,
            np.log(self.middle.permittivity) + permittivity,
        )
        place = (np.stack(constants, axis=1) - self._centre) / self._half
        return np.asarray(np.exp(self._terms(np.clip(place, -1.0, 1.0)) @ self._coefficients))

    def _terms(self, place: FloatArray) -> FloatArray:
        m, n = self._each_way
        return np.asarray(np.polynomial.chebyshev.chebvander2d(place[:, 0], place[:, 1], [m - 1, n - 1]))


def _chebyshev(count: int) -> FloatArray:
    return np.asarray(np.cos(np.pi * (np.arange(count) + 0.5) / count))


class LoopMap:
    """What other diameters of the coupling loop do; of another kind of coupling only the declared one is known."""

    def __init__(self, design: Design, frequency: FloatArray, memory: SolutionMemory) -> None:
        declared = memory.solution(build_wires(design), frequency, design.site.earth).impedance
        rows: list[tuple[float, FloatArray, FloatArray]] = [
            (0.0, np.ones(len(frequency)), np.zeros(len(frequency)))
        ]
        for size in LOOP_SIZES if design.coupling.kind is CouplingKind.LOOP else ():
            assert design.coupling.diameter is not None
            coupling = replace(design.coupling, diameter=design.coupling.diameter * size)
            try:
                wires = build_wires(replace(design, coupling=coupling))
            except DesignError:
                continue
            ratio = memory.solution(wires, frequency, design.site.earth).impedance / declared
            rows.append(
                (float(np.log(size)), np.abs(ratio[:, FEED, FEED]), np.log(np.abs(ratio[:, FEED, GAP])))
            )
        rows.sort(key=lambda row: row[0])
        self._sizes, self._feed, self._mutual = (np.array(each) for each in zip(*rows, strict=True))

    @property
    def reach(self) -> tuple[float, float]:
        """Natural logarithms of the least and the largest diameter that was tried, over the declared one."""
        return float(self._sizes[0]), float(self._sizes[-1])

    def factors(self, size: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Of the reactance at the feed and of the mutual impedance, (samples, b), for logarithms of the diameter."""
        feed, mutual = (
            np.stack([np.interp(size, self._sizes, column) for column in table.T], axis=1)
            for table in (self._feed, self._mutual)
        )
        return feed, np.asarray(np.exp(mutual))


def common_mode(design: Design, frequency: FloatArray, memory: SolutionMemory) -> FloatArray:
    """Resistance that the feedline's outside adds at the gap with each of `CHOKES` [ohm], (chokes, b).

    Zero where the cable cannot hang.
    """
    earth = design.site.earth
    declared = memory.solution(build_wires(design), frequency, earth).impedance[:, GAP, GAP].real
    added = np.zeros((len(CHOKES), len(frequency)))
    for number, choke in enumerate(CHOKES):
        feedline = replace(design.feedline, runs_down=True, choke=choke)
        try:
            wires = build_wires(replace(design, feedline=feedline))
        except DesignError:
            return added
        added[number] = memory.solution(wires, frequency, earth).impedance[:, GAP, GAP].real - declared
    return added
