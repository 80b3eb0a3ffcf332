# SPDX-License-Identifier: BSD-3-Clause
"""A design's twin: what a sweep would show of the ring if some of its parts were other than declared.

The ring is solved once on its site at the swept frequencies. Joints, capacitor and conductor are then arithmetic by
address; earth and coupling loop are interpolated between a few more solutions (docs/explanation/diagnosis.md).
"""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.capacitor_parts import losses
from ringwright.antenna.design import Design
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.graph import FloatArray
from ringwright.proof.draws import Draws
from ringwright.proof.ring_parts import STEP, RingParts, ring_parts
from ringwright.proof.tried import EARTHS_EACH_WAY, EarthMap, LoopMap, common_mode

MOST_TAKEN_BACK = -0.5
"""Metal off its resonance may cancel radiation, but not more than this share of it."""
ADDED_Q = 2000.0
"""Of a fixed mica or vacuum capacitor that is added for a measurement (common practice, no source)."""
LINE_LOSS_AT = 10e6
"""Frequency at which `Draws.line_loss` is stated [Hz]; it goes with the square root, as skin effect does."""
NO_COUPLING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Observed:
    """What sweeps would show, natural logarithms, (samples, sweeps); NaN where a resonance is pulled in two."""

    ln_q: FloatArray
    ln_coupling: FloatArray
    ln_off_resonance: FloatArray


class Twin:
    """A design at some swept frequencies, ready to be looked at with parts other than declared."""

    def __init__(
        self,
        design: Design,
        frequency: FloatArray,
        memory: SolutionMemory,
        *,
        like: "Twin | None" = None,
        earths_each_way: tuple[int, int] = EARTHS_EACH_WAY,
    ) -> None:
        """`like` lends what a changed site hardly changes: coupling loops and cable at the same frequencies."""
        self.design = design
        self.parts: RingParts = ring_parts(design, frequency, memory)
        self.earth = EarthMap(design, frequency, memory, each_way=earths_each_way)
        self.loop: LoopMap = like.loop if like else LoopMap(design, frequency, memory)
        self.outside: FloatArray = like.outside if like else common_mode(design, frequency, memory)

    @property
    def frequency(self) -> FloatArray:
        """Of the sweeps [Hz]."""
        return self.parts.frequency

    def resistance(self, draws: Draws, *, added_capacitance: float = 0.0) -> FloatArray:
        """At the gap, (samples, b) [ohm]; `added_capacitance` [F] is a fixed capacitor of known loss across it."""
        parts = self.parts
        solved = parts.open_air * self._earth_factor(draws) * (1.0 + draws.frame[:, None])
        at_joints = parts.joint_share[:, draws.joint_place % parts.joint_share.shape[1]].T
        return np.asarray(
            solved
            + parts.ring * draws.conductor[:, None]
            + parts.joints * draws.joints[:, None]
            + at_joints * draws.joint_extra[:, None]
            + self.capacitor_resistance(draws, added_capacitance=added_capacitance)
            + self._bar(draws)
            + self.outside[draws.choke_left] * draws.has_common_mode[:, None]
        )

    def observe(self, draws: Draws, *, added_capacitance: float = 0.0) -> Observed:
        """What sweeps would show, the quantities as the fit defines them."""
        parts = self.parts
        resistance = self.resistance(draws, added_capacitance=added_capacitance)
        size_factor, mutual_factor = self.loop.factors(draws.loop_size)
        port_factor = size_factor * draws.loop_reactance[:, None]
        port = parts.port.real + 1j * parts.port.imag * port_factor
        strength = parts.strength * (mutual_factor * draws.loop_nearness[:, None]) ** 2
        # The feed loads the ring with strength/(1 + port); what of it is reactance moves with frequency like the rest.
        load = strength / (1.0 + port)
        slope = parts.port_slope.real + 1j * parts.port_slope.imag * port_factor
        stiffness = parts.stiffness + (load * (parts.strength_slope - slope / (1.0 + port))).imag
        q = (stiffness + draws.bar_stiffness(parts.frequency, STEP)) / (2.0 * resistance)
        # The reflection is (port - 1)/(port + 1) but for a circle of diameter |g| 2/|port + 1| / (1 + Re g).
        taken = load / resistance
        loaded = 1.0 + taken.real
        off_resonance = abs(port - 1.0) / abs(port + 1.0)
        diameter = abs(taken) * 2.0 / abs(port + 1.0) / loaded / off_resonance
        coupling = np.maximum(diameter, NO_COUPLING) / np.maximum(2.0 - diameter, NO_COUPLING)
        loss = draws.line_loss[:, None] * np.sqrt(parts.frequency / LINE_LOSS_AT)
        with np.errstate(invalid="ignore"):
            return Observed(
                ln_q=np.log(q / loaded * (1.0 + coupling)),
                ln_coupling=np.log(coupling),
                ln_off_resonance=np.log(off_resonance * 10.0 ** (-loss / 10.0)),
            )

    def sky_resistance(self, draws: Draws) -> FloatArray:
        """Of what leaves for the sky, (samples, b) [ohm]."""
        from_bar = np.maximum(self._bar(draws), 0.0) * draws.bar_sky[:, None]
        of_ring = self.parts.sky * (1.0 + draws.frame[:, None])
        together = 2.0 * draws.bar_with_ring[:, None] * np.sqrt(of_ring * from_bar)  # fields add, not powers
        return np.asarray(of_ring + from_bar + together)

    def capacitor_resistance(self, draws: Draws, *, added_capacitance: float = 0.0) -> FloatArray:
        """Of capacitor, contact and leads at the gap, (samples, b) [ohm]."""
        f, reactance = self.parts.frequency, self.parts.reactance
        whole = 1.0 / (2.0 * np.pi * f * reactance)
        own = np.maximum(whole - added_capacitance, whole * 1e-3)
        declared = losses(self.design.capacitor, own, f).total
        beyond = draws.capacitor_tangent[:, None] / (2.0 * np.pi * f * own) + draws.capacitor_contact[:, None]
        # A series resistance in a part C1 of the capacitance C counts as (C1/C)^2.
        in_own = (declared * draws.capacitor_loss[:, None] + beyond) * (own / whole) ** 2
        return np.asarray(in_own + (1.0 - own / whole) * reactance / ADDED_Q)

    def _earth_factor(self, draws: Draws) -> FloatArray:
        if not (self.earth.is_declared or draws.is_other_earth):
            return np.ones((1, len(self.frequency)))
        return self.earth.factor(draws.earth_conductivity, draws.earth_permittivity)

    def _bar(self, draws: Draws) -> FloatArray:
        added = draws.bar_impedance(self.frequency).real
        return np.maximum(added, MOST_TAKEN_BACK * self.parts.open_air)
