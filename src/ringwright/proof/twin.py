# SPDX-License-Identifier: BSD-3-Clause
"""A design's twin: what a sweep would show of the ring if some of its parts were other than declared.

The ring is solved once on its site at the swept frequencies. Joints, capacitor and conductor are then arithmetic by
address; earth and coupling loop are interpolated between a few more solutions.
"""

from dataclasses import dataclass, replace

import numpy as np

from ringwright.antenna.capacitor import loss_terms
from ringwright.antenna.design import Design, Earth
from ringwright.antenna.earths import EARTHS
from ringwright.antenna.far_side import far_side_of
from ringwright.antenna.geometry import Wires, build_wires
from ringwright.antenna.network import FEED, GAP, RingNetwork
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import DesignError
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray
from ringwright.proof.draws import Draws

STEP = 1e-3
"""Share of the frequency over which the slope of the reactance is taken: the bandwidth of a ring of Q 500."""
CONDUCTIVITY_REACH, LEAST_PERMITTIVITY, MOST_PERMITTIVITY = 4.0, 1.5, 85.0
"""Earths looked at: conductivities up to this natural logarithm from the declared one, from ice to fresh water."""
EARTHS_EACH_WAY = (7, 4)
LOOP_SIZES = (0.5, 0.65, 0.8, 1.0, 1.2, 1.5)
"""Diameters of the coupling loop over the declared one; those that do not fit into the ring are left out."""
CHOKES = (0.0, 100.0, 300.0, 1000.0, 3000.0)
"""What is left of the feedline's choke. [ohm]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Observed:
    """What sweeps would show, (samples, sweeps), as natural logarithms, and the resistance at the gap [ohm]."""

    ln_q: FloatArray
    ln_coupling: FloatArray
    ln_off_resonance: FloatArray
    resistance: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RingParts:
    """The declared ring at the swept frequencies, (b,) each.

    Attributes
    ----------
    frequency : ndarray of float64, shape (b,)
        [Hz]
    open_air : ndarray of float64, shape (b,)
        Resistance at the gap of all that is solved: sky, earth, metal nearby. [ohm]
    sky, ring, coupling, joints : ndarray of float64, shape (b,)
        Resistance at the gap by address; `sky` is a part of `open_air`. [ohm]
    joint_share : ndarray of float64, shape (b, places)
        Square of the current at each joint over that through the gap, the gap's own terminals first. [1]
    reactance, stiffness : ndarray of float64, shape (b,)
        X of the ring at the gap and f dX/df + X, which over twice the resistance is the unloaded Q. [ohm]
    feed, mutual : ndarray of complex128, shape (b,)
        Impedance at the feed, and between feed and gap. [ohm]
    """

    frequency: FloatArray
    open_air: FloatArray
    sky: FloatArray
    ring: FloatArray
    coupling: FloatArray
    joints: FloatArray
    joint_share: FloatArray
    reactance: FloatArray
    stiffness: FloatArray
    feed: ComplexArray
    mutual: ComplexArray


def ring_parts(design: Design, frequency: FloatArray, memory: SolutionMemory) -> RingParts:
    """Solve the declared ring at the swept frequencies [Hz]."""
    wires = build_wires(design)
    around = np.concatenate([frequency * (1.0 - STEP), frequency * (1.0 + STEP)])
    solution = memory.solution(wires, around, design.site.earth)
    network = RingNetwork.of(design, wires, solution)
    below, above = np.split(network.total_at_nodes, 2)
    between = (below + above) / 2.0
    parts = {
        name: np.mean(np.split(part[:, GAP, GAP].real, 2), axis=0)
        for name, part in network.parts_at_nodes.items()
    }
    reactance = between[:, GAP, GAP].imag
    slope = (above - below)[:, GAP, GAP].imag / (2.0 * STEP)
    current = np.mean(np.split(solution.current[..., GAP], 2), axis=0)
    return RingParts(
        frequency=frequency,
        open_air=parts["radiation"],
        sky=_sky(design, wires, frequency=frequency, current=current),
        ring=parts["ring"],
        coupling=parts["coupling"],
        joints=parts["joints"],
        joint_share=_joint_share(wires, current),
        reactance=reactance,
        stiffness=slope + reactance,
        feed=between[:, FEED, FEED],
        mutual=between[:, FEED, GAP],
    )


def _sky(design: Design, wires: Wires, *, frequency: FloatArray, current: ComplexArray) -> FloatArray:
    return np.array(
        [
            far_side_of(wires.graph, each, frequency=float(f), earth=design.site.earth).sky
            for f, each in zip(frequency, current, strict=True)
        ]
    )


def _joint_share(wires: Wires, current: ComplexArray) -> FloatArray:
    places = np.array([(0, 0.0), *wires.joints])
    segment, fraction = places[:, 0].astype(int), places[:, 1]
    there = current[:, segment, 0] * (1.0 - fraction) + current[:, segment, 1] * fraction
    return np.asarray(abs(there) ** 2)


class EarthMap:
    """Resistance of all that is solved over that on the declared earth, for other constants of the earth.

    A polynomial in the logarithms of both, through solutions at Chebyshev points. A ring declared in free space or
    over a mirror is looked at over an average earth, in case there is one.
    """

    def __init__(self, design: Design, parts: RingParts, memory: SolutionMemory) -> None:
        declared = design.site.earth
        self.is_declared = declared is not None and not declared.perfect
        self.middle = declared if declared is not None and self.is_declared else EARTHS["average"].earth
        wires = build_wires(design)
        self._centre = np.log([self.middle.conductivity, np.sqrt(LEAST_PERMITTIVITY * MOST_PERMITTIVITY)])
        self._half = np.array([CONDUCTIVITY_REACH, np.log(MOST_PERMITTIVITY / LEAST_PERMITTIVITY) / 2.0])
        x, y = (_chebyshev(count) for count in EARTHS_EACH_WAY)
        places = np.array([(a, b) for a in x for b in y])
        found = []
        for conductivity, permittivity in np.exp(self._centre + places * self._half):
            earth = Earth(name="tried", conductivity=float(conductivity), permittivity=float(permittivity))
            solved = memory.solution(wires, parts.frequency, earth)
            found.append(np.log(solved.impedance[:, GAP, GAP].real / parts.open_air))
        self._coefficients = np.linalg.solve(self._terms(places), np.array(found))

    def factor(self, conductivity: FloatArray, permittivity: FloatArray) -> FloatArray:
        """(samples, b) for natural logarithms of both constants over those of `middle`."""
        constants = np.stack([self.middle.conductivity * np.exp(conductivity), self.permittivity(permittivity)])
        place = (np.log(constants).T - self._centre) / self._half
        return np.asarray(np.exp(self._terms(np.clip(place, -1.0, 1.0)) @ self._coefficients))

    def permittivity(self, offset: FloatArray) -> FloatArray:
        """[1], within what is looked at."""
        return np.clip(self.middle.permittivity * np.exp(offset), LEAST_PERMITTIVITY, MOST_PERMITTIVITY)

    @staticmethod
    def _terms(place: FloatArray) -> FloatArray:
        m, n = EARTHS_EACH_WAY
        return np.polynomial.chebyshev.chebvander2d(place[:, 0], place[:, 1], [m - 1, n - 1])


def _chebyshev(count: int) -> FloatArray:
    return np.asarray(np.cos(np.pi * (np.arange(count) + 0.5) / count))


class LoopMap:
    """Impedance at the feed, and between feed and gap, for other diameters of the coupling loop."""

    def __init__(self, design: Design, parts: RingParts, memory: SolutionMemory) -> None:
        sizes, feed, mutual = [], [], []
        for size in LOOP_SIZES:
            coupling = replace(design.coupling, diameter=design.coupling.diameter * size)
            try:
                wires = build_wires(replace(design, coupling=coupling))
            except DesignError:
                continue
            z = memory.solution(wires, parts.frequency, design.site.earth).impedance
            sizes.append(np.log(size))
            feed.append(z[:, FEED, FEED].imag / parts.feed.imag)
            mutual.append(np.log(abs(z[:, FEED, GAP] / parts.mutual)))
        self._sizes, self._feed, self._mutual = np.array(sizes), np.array(feed), np.array(mutual)

    @property
    def largest(self) -> float:
        """Natural logarithm of the largest diameter that fits, over the declared one."""
        return float(self._sizes[-1])

    def factors(self, size: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Of the reactance at the feed and of the mutual impedance, (samples, b), for logarithms of the diameter."""
        feed, mutual = (
            np.stack([np.interp(size, self._sizes, column) for column in table.T], axis=1)
            for table in (self._feed, self._mutual)
        )
        return feed, np.asarray(np.exp(mutual))


def common_mode(design: Design, parts: RingParts, memory: SolutionMemory) -> FloatArray:
    """Resistance that the feedline's outside adds at the gap with each of `CHOKES` [ohm], (chokes, b).

    Zero where the cable cannot hang.
    """
    added = np.zeros((len(CHOKES), len(parts.frequency)))
    for number, choke in enumerate(CHOKES):
        feedline = replace(design.feedline, runs_down=True, choke=choke)
        try:
            wires = build_wires(replace(design, feedline=feedline))
        except DesignError:
            return added
        z = memory.solution(wires, parts.frequency, design.site.earth).impedance
        added[number] = z[:, GAP, GAP].real - parts.open_air
    return added


class Twin:
    """A design at some swept frequencies, ready to be looked at with parts other than declared."""

    def __init__(self, design: Design, frequency: FloatArray, memory: SolutionMemory) -> None:
        self.design = design
        self.parts = ring_parts(design, frequency, memory)
        self.earth = EarthMap(design, self.parts, memory)
        self.loop = LoopMap(design, self.parts, memory)
        self.outside = common_mode(design, self.parts, memory)

    def resistance(self, draws: Draws, *, added_capacitance: float = 0.0) -> FloatArray:
        """At the gap, (samples, b) [ohm]; `added_capacitance` [F] is a fixed capacitor of known loss across it."""
        parts = self.parts
        solved = parts.open_air * self._earth_factor(draws) * (1.0 + draws.frame[:, None])
        at_joints = parts.joint_share[:, draws.joint_place % parts.joint_share.shape[1]].T
        return np.asarray(
            solved
            + parts.coupling
            + parts.ring * draws.conductor[:, None]
            + parts.joints * draws.joints[:, None]
            + at_joints * draws.joint_extra[:, None]
            + self._capacitor(draws, added_capacitance)
            + draws.bar_impedance(parts.frequency).real
            + self._common_mode(draws)
        )

    def observe(self, draws: Draws, *, added_capacitance: float = 0.0) -> Observed:
        """What sweeps would show, the quantities as the fit defines them (docs/explanation/diagnosis.md)."""
        parts, reference = self.parts, self.design.feedline.impedance
        resistance = self.resistance(draws, added_capacitance=added_capacitance)
        bar = draws.bar_stiffness(parts.frequency, STEP)
        q = (parts.stiffness + bar) / (2.0 * resistance)
        feed_factor, mutual_factor = self.loop.factors(draws.loop_size)
        feed = parts.feed.real + 1j * parts.feed.imag * feed_factor
        mutual = parts.mutual * mutual_factor * draws.loop_nearness[:, None]
        # The reflection is a circle in the detuning: through (feed - Z0)/(feed + Z0), of diameter |g| 2 Z0/|feed + Z0|
        # over 1 + Re g, and loaded by 1 + Re g.
        taken = -(mutual**2) / resistance / (feed + reference)
        loaded = 1.0 + taken.real
        off_resonance = abs(feed - reference) / abs(feed + reference)
        diameter = abs(taken) * 2.0 * reference / abs(feed + reference) / loaded / off_resonance
        coupling = diameter / np.maximum(2.0 - diameter, 1e-9)
        twice_through = 10.0 ** (-draws.line_loss[:, None] * np.sqrt(parts.frequency / 10e6) / 10.0)
        return Observed(
            ln_q=np.log(q / loaded * (1.0 + coupling)),
            ln_coupling=np.log(coupling),
            ln_off_resonance=np.log(off_resonance * twice_through),
            resistance=resistance,
        )

    def _earth_factor(self, draws: Draws) -> FloatArray:
        if not (self.earth.is_declared or np.any(draws.is_other_earth)):
            return np.ones((1, len(self.parts.frequency)))
        return self.earth.factor(draws.earth_conductivity, draws.earth_permittivity)

    def _capacitor(self, draws: Draws, added: float) -> FloatArray:
        resistance, tangent = loss_terms(self.design.capacitor)
        series = (resistance + self.parts.reactance * tangent) * draws.capacitor_loss[:, None]
        series = series + draws.capacitor_contact[:, None]
        whole = 1.0 / (2.0 * np.pi * self.parts.frequency * self.parts.reactance)
        # A series loss r of the part C1 of a capacitance C counts as r (C1/C)^2; tan delta of it as C1/C.
        share = np.maximum(1.0 - added / whole, 0.0)
        known = (1.0 - share) * self.parts.reactance / FIXED_Q if added else 0.0
        return np.asarray(series * share + known)

    def _common_mode(self, draws: Draws) -> FloatArray:
        return np.asarray(self.outside[draws.choke_left] * draws.has_common_mode[:, None])
