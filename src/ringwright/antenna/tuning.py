# SPDX-License-Identifier: BSD-3-Clause
"""The ring brought to resonance: the capacitance of best match and everything seen at that setting."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.capacitor import series_impedance
from ringwright.antenna.capacitor_parts import (
    lead_impedance,
    loss_terms,
    losses,
    losses_follow_setting,
    range_at_gap,
)
from ringwright.antenna.design import Capacitor
from ringwright.antenna.network import FEED, GAP, RingNetwork
from ringwright.errors import OutOfRangeError
from ringwright.physics.graph import FloatArray
from ringwright.physics.resonance import best_reactance, crossing, lowest_point
from ringwright.physics.wave_kernel import ComplexArray

ROUNDS = 3
"""Between loss and setting; each narrows the rest by more than 1e3 where Q is above 100."""
SEARCH_WIDTHS = 6.0
"""The dip is sought within this many half-power widths of the target; a badly detuned coupling shifts it by one."""


def best_capacitance(
    network: RingNetwork, capacitor: Capacitor, frequency: FloatArray, *, reference: float
) -> FloatArray:
    """Whole gap capacitance [F] with the lowest SWR at each frequency [Hz]; not above 0 where no capacitor tunes it."""
    return capacitance_of_best_match(network.impedance(frequency), capacitor, frequency, reference=reference)


def capacitance_of_best_match(
    impedance: ComplexArray, capacitor: Capacitor, frequency: FloatArray, *, reference: float
) -> FloatArray:
    """The same from impedance matrices (f, 2, 2) [ohm]."""
    with_leads = impedance.copy()
    with_leads[:, GAP, GAP] += lead_impedance(capacitor, frequency)
    esr, loss_tangent = loss_terms(capacitor)
    tangents = np.full(len(frequency), loss_tangent)
    capacitance = np.full(len(frequency), sum(range_at_gap(capacitor)) / 2.0)
    # What the parts lose depends a little on the setting, the best setting hardly on what they lose.
    for _ in range(ROUNDS if losses_follow_setting(capacitor) else 1):
        lost = losses(capacitor, capacitance, frequency)
        resistance = esr + lost.variable + lost.fixed + lost.series + lost.contact
        reactance = best_reactance(
            with_leads, reference=reference, resistance=resistance, loss_tangent=tangents
        )
        capacitance = np.asarray(1.0 / (2.0 * np.pi * frequency * reactance))
    return capacitance


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TunedRing:
    """A network with its capacitor at one setting, that of best match at `frequency`."""

    network: RingNetwork
    capacitor: Capacitor
    frequency: float
    capacitance: float
    reference: float

    @classmethod
    def at(
        cls, network: RingNetwork, capacitor: Capacitor, *, frequency: float, reference: float
    ) -> "TunedRing":
        """Tune to `frequency` [Hz] for the lowest SWR to `reference` [ohm].

        Raises
        ------
        OutOfRangeError
            If the ring is too large to be tuned there by a capacitor.
        """
        capacitance = float(
            best_capacitance(network, capacitor, np.array([frequency]), reference=reference)[0]
        )
        gap = network.gap_impedance(np.array([frequency]))[0]
        # Beyond its resonance a ring is no inductance; beside it the network, read between solved frequencies, can
        # even seem to give power. Neither is a ring that a capacitor tunes.
        if not (capacitance > 0.0 and gap.real > 0.0 and gap.imag > 0.0):
            raise OutOfRangeError(
                f"the ring is past its own resonance at {frequency / 1e6:.3f} MHz; make the perimeter smaller"
            )
        return cls(
            network=network,
            capacitor=capacitor,
            frequency=frequency,
            capacitance=capacitance,
            reference=reference,
        )

    def capacitor_impedance(self, frequency: FloatArray) -> ComplexArray:
        """Of the gap, with contact and leads [ohm]."""
        return series_impedance(self.capacitor, self.capacitance, frequency)

    def input_impedance(self, frequency: FloatArray) -> ComplexArray:
        """At the coupling loop [ohm]."""
        z = self.network.impedance(frequency)
        return np.asarray(
            z[:, FEED, FEED] - z[:, FEED, GAP] ** 2 / (z[:, GAP, GAP] + self.capacitor_impedance(frequency))
        )

    def reflection(self, frequency: FloatArray) -> ComplexArray:
        """Reflection coefficient at the coupling loop, to the feedline's impedance."""
        z = self.input_impedance(np.atleast_1d(frequency))
        return np.asarray((z - self.reference) / (z + self.reference))

    def swr(self, frequency: FloatArray) -> FloatArray:
        """Standing-wave ratio at the coupling loop."""
        size = np.minimum(abs(self.reflection(frequency)), 1.0 - 1e-15)
        return np.asarray((1.0 + size) / (1.0 - size))

    def is_over_coupled(self, frequency: float) -> bool:
        """Whether the coupling takes more than a match, seen at the dip.

        The reflection of a resonance runs round a circle from where it is without the resonance and back. The coupling
        over-couples where this circle encloses the origin, the match: then the dip lies beyond it.
        """
        z = self.network.impedance(np.array([frequency]))[0, FEED, FEED]
        without = (z - self.reference) / (z + self.reference)
        return float((self.reflection(np.array([frequency]))[0] * without.conjugate()).real) < 0.0

    def port_currents(self) -> ComplexArray:
        """Currents into feed and gap per ampere at the feed, at the target."""
        f = np.array([self.frequency])
        z = self.network.impedance(f)[0]
        return np.array([1.0, -z[GAP, FEED] / (z[GAP, GAP] + self.capacitor_impedance(f)[0])])

    def ring_resistance(self, frequency: float) -> float:
        """Series resistance of ring and capacitor at the gap, the coupling left to itself [ohm]."""
        f = np.array([frequency])
        return float((self.network.gap_impedance(f)[0] + self.capacitor_impedance(f)[0]).real)

    def ring_reactance(self, frequency: FloatArray) -> FloatArray:
        """Series reactance of ring and capacitor at the gap, the coupling left to itself [ohm]."""
        z = self.network.gap_impedance(frequency) + self.capacitor_impedance(frequency)
        return np.asarray(z.imag)

    def resonance(self) -> tuple[float, float]:
        """Frequency f0 [Hz] and unloaded Q of the ring with its capacitor and site, the coupling left to itself.

        Q0 = f0 dX/df / (2 R), X the series reactance at the gap.
        """
        f0, span = self.frequency, self.frequency * 1e-4
        for _ in range(3):
            below, here, above = self.ring_reactance(f0 + span * np.array([-1.0, 0.0, 1.0]))
            slope = float(above - below) / (2.0 * span)
            f0 -= float(here) / slope
        return f0, f0 * slope / (2.0 * self.ring_resistance(f0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """The dip at the feed: least SWR, where [Hz], and the edges at SWR 2 [Hz], None where it is never below."""

    swr_min: float
    frequency: float
    swr2_low: float | None
    swr2_high: float | None

    @property
    def bandwidth_swr2(self) -> float | None:
        """Width between the edges [Hz]."""
        if self.swr2_low is None or self.swr2_high is None:
            return None
        return self.swr2_high - self.swr2_low


def find_match(tuned: TunedRing, width: float) -> Match:
    """The dip of a tuned ring; `width` [Hz] is its half-power bandwidth."""
    reach = SEARCH_WIDTHS * width
    at, swr_min = lowest_point(tuned.swr, tuned.frequency - reach, tuned.frequency + reach)
    if swr_min >= 2.0:
        return Match(swr_min=swr_min, frequency=at, swr2_low=None, swr2_high=None)
    low, high = (
        crossing(tuned.swr, inside=at, outside=at + side * 2.0 * reach, level=2.0) for side in (-1.0, 1.0)
    )
    return Match(swr_min=swr_min, frequency=at, swr2_low=low, swr2_high=high)
