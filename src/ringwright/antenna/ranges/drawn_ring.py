# SPDX-License-Identifier: BSD-3-Clause
"""Many rings that differ in what is uncertain, each tuned anew for its lowest SWR, all at once.

Joints and the capacitor's loss change the network as they do one by one; what the earth changes is added to it.
"""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.capacitor_parts import (
    lead_impedance,
    loss_terms,
    losses,
    losses_follow_setting,
    range_at_gap,
)
from ringwright.antenna.design import Capacitor
from ringwright.antenna.network import FEED, GAP, RingNetwork, barycentric
from ringwright.antenna.ranges.draws import Draws
from ringwright.antenna.tuning import ROUNDS
from ringwright.physics.graph import FloatArray
from ringwright.physics.resonance import best_reactance
from ringwright.physics.wave_kernel import ComplexArray

_NEWTON = 2
"""Steps from the target on a reactance that is straight to 1e-3 within a bandwidth."""
_EDGE = 1.0 / 9.0
"""Square of the reflection coefficient at SWR 2."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawnNetwork:
    """The ring's two-port for every draw; `earth_change` (n, 2, 2) is what another earth adds across a band [ohm]."""

    network: RingNetwork
    capacitor: Capacitor
    draws: Draws
    earth_change: ComplexArray | float

    def impedance(self, frequency: FloatArray) -> ComplexArray:
        """Open-circuit impedance matrix without the capacitor [ohm], (n, 2, 2).

        Each draw at its `frequency` (n,), or all at one (1,) [Hz].
        """
        network = self.network
        both = np.stack([network.total_at_nodes, network.parts_at_nodes["joints"]], axis=1)
        weights = barycentric(network.nodes, frequency)
        total, joints = np.moveaxis((weights @ both.reshape(len(weights.T), -1)).reshape(-1, 2, 2, 2), 1, 0)
        more = (self.draws.joint_resistance - 1.0)[:, None, None]
        return np.asarray(total + more * joints + self.earth_change)

    def gap_losses(
        self, capacitance: FloatArray, frequency: FloatArray
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Ohms (n,) of capacitors, of the rotor's contact and of the leads."""
        lost = losses(self.capacitor, capacitance, frequency)
        return lost.capacitors * self.draws.capacitor_loss, lost.contact, lost.leads

    def best_capacitance(
        self, impedance: ComplexArray, frequency: FloatArray, *, reference: float
    ) -> FloatArray:
        """Whole capacitance with the lowest SWR (n,) [F]; as `tuning.capacitance_of_best_match`."""
        with_leads = impedance.copy()
        with_leads[:, GAP, GAP] += lead_impedance(self.capacitor, frequency)
        esr, loss_tangent = loss_terms(self.capacitor)
        factor = self.draws.capacitor_loss
        capacitance = np.full(len(factor), sum(range_at_gap(self.capacitor)) / 2.0)
        for _ in range(ROUNDS if losses_follow_setting(self.capacitor) else 1):
            lost = losses(self.capacitor, capacitance, frequency)
            own = esr + lost.variable + lost.fixed + lost.series
            reactance = best_reactance(
                with_leads,
                reference=reference,
                resistance=np.asarray(own * factor + lost.contact),
                loss_tangent=np.asarray(loss_tangent * factor),
            )
            capacitance = np.asarray(1.0 / (2.0 * np.pi * frequency * reactance))
        return capacitance


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawnRing:
    """Every draw tuned to one `frequency` (1,) [Hz].

    `impedance` (n, 2, 2) is that of its network there [ohm], `capacitance` (n,) its setting [F]; `losses` (n,) of
    capacitors, contact and leads, and `lead_reactance` [ohm] stand for a whole band, across which they change less than
    it is wide.
    """

    network: DrawnNetwork
    frequency: FloatArray
    impedance: ComplexArray
    capacitance: FloatArray
    losses: tuple[FloatArray, FloatArray, FloatArray]
    lead_reactance: float
    reference: float

    @classmethod
    def at(cls, network: DrawnNetwork, frequency: float, *, reference: float) -> "DrawnRing":
        """Tune for the lowest SWR to `reference` [ohm]."""
        there = np.array([frequency])
        impedance = network.impedance(there)
        capacitance = network.best_capacitance(impedance, there, reference=reference)
        return cls(
            network=network,
            frequency=there,
            impedance=impedance,
            capacitance=capacitance,
            losses=network.gap_losses(capacitance, there),
            lead_reactance=float(lead_impedance(network.capacitor, there)[0].imag),
            reference=reference,
        )

    def capacitor_impedance(self, frequency: FloatArray) -> ComplexArray:
        """Of the gap with contact and leads, the capacitor left at its setting (n,) [ohm]."""
        reactance = self.lead_reactance - 1.0 / (2.0 * np.pi * frequency * self.capacitance)
        return np.asarray(sum(self.losses) + 1j * reactance)

    def slope(self) -> FloatArray:
        """Of the reactance at the gap over frequency (n,) [ohm/Hz]."""
        span = self.frequency * 1e-4
        above, below = (self._at_rest(self.frequency + side * span).imag for side in (1.0, -1.0))
        return np.asarray((above - below) / (2.0 * span))

    def _at_rest(self, frequency: FloatArray) -> ComplexArray:
        """Series impedance of ring and capacitor at the gap, the coupling left to itself (n,) [ohm]."""
        z = self.network.impedance(frequency)
        gap = z[:, GAP, GAP] + self.capacitor_impedance(frequency)
        if self.network.network.rests_shorted:
            gap = gap - z[:, FEED, GAP] ** 2 / z[:, FEED, FEED]
        return np.asarray(gap)

    def ports(self, power: float) -> ComplexArray:
        """Rms currents into feed and gap (n, 2) [A] at a power [W] accepted at the feed."""
        z = self.impedance
        per_ampere = -z[:, GAP, FEED] / (z[:, GAP, GAP] + self.capacitor_impedance(self.frequency))
        accepted = (z[:, FEED, FEED] + z[:, FEED, GAP] * per_ampere).real
        both = np.stack([np.ones_like(per_ampere), per_ampere], axis=1)
        return np.asarray(both * np.sqrt(power / accepted)[:, None])

    def unloaded_q(self, slope: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Resonant frequency (n,) [Hz] and Q (n,), the coupling left to itself; `slope` as of this ring."""
        f0 = self.frequency - self._at_rest(self.frequency).imag / slope
        here = self._at_rest(f0)
        f0 = f0 - here.imag / slope
        return f0, np.asarray(f0 * slope / (2.0 * here.real))

    def least_swr(self, slope: FloatArray) -> FloatArray:
        """At the dip (n,), which lies where the reactance is best."""
        at, z = self.frequency, self.impedance
        for _ in range(_NEWTON):
            gap = self.capacitor_impedance(at)
            best = best_reactance(
                z,
                reference=self.reference,
                resistance=np.asarray(gap.real),
                loss_tangent=np.zeros(len(gap)),
            )
            at = at - (gap.imag + best) / slope
            z = self.network.impedance(at)
        behind = z[:, FEED, FEED] - z[:, FEED, GAP] ** 2 / (z[:, GAP, GAP] + self.capacitor_impedance(at))
        size = np.minimum(abs((behind - self.reference) / (behind + self.reference)), 1.0 - 1e-15)
        return np.asarray((1.0 + size) / (1.0 - size))

    def bandwidth_swr2(self, slope: FloatArray) -> FloatArray:
        """Width below SWR 2 (n,) [Hz]; 0 where there is none."""
        edges = []
        for side in (-1.0, 1.0):
            at, z = self.frequency, self.impedance
            for step in range(_NEWTON):
                missing = self._missing_to_edge(z, at, side=side) / slope
                at = at + np.where(np.isfinite(missing), missing, 0.0)
                if step + 1 < _NEWTON:
                    z = self.network.impedance(at)
            edges.append(at)
        return np.asarray(edges[1] - edges[0])

    def _missing_to_edge(self, impedance: ComplexArray, frequency: FloatArray, *, side: float) -> FloatArray:
        """Reactance at the gap [ohm] that is missing to SWR 2, below or above the dip; nan where none makes it.

        The square of the reflection is a quotient of quadratics in that reactance, see docs/explanation/tuning.md.
        """
        feed, mutual = impedance[:, FEED, FEED], impedance[:, FEED, GAP] ** 2
        all_round = impedance[:, GAP, GAP] + self.capacitor_impedance(frequency)

        def quadratic(port: ComplexArray) -> tuple[FloatArray, FloatArray, FloatArray]:
            constant = port * all_round.real - mutual
            middle = 2.0 * (1j * port * constant.conj()).real
            return np.asarray(abs(port) ** 2), np.asarray(middle), np.asarray(abs(constant) ** 2)

        n, d = (quadratic(feed + side_of * self.reference) for side_of in (-1.0, 1.0))
        a, b, c = (up - _EDGE * down for up, down in zip(n, d, strict=True))
        with np.errstate(invalid="ignore", divide="ignore"):
            return np.asarray((side * np.sqrt(b * b - 4.0 * a * c) - b) / (2.0 * a) - all_round.imag)
