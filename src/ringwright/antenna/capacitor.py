# SPDX-License-Identifier: BSD-3-Clause
"""The tuning capacitor: what it has, where it stands, what it loses."""

import numpy as np

from ringwright.antenna.capacitor_parts import (
    Shares,
    lead_impedance,
    loss_terms,
    losses,
    range_at_gap,
)
from ringwright.antenna.design import Capacitor
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray

__all__ = [
    "capacitance_per_travel",
    "loss_terms",
    "missing_capacitance",
    "range_at_gap",
    "series_impedance",
    "travel_of",
]


def series_impedance(capacitor: Capacitor, capacitance: float, frequency: FloatArray) -> ComplexArray:
    """Impedance at the gap at a setting of `capacitance` [F] in all, contact and leads included [ohm]."""
    reactance = 1.0 / (2.0 * np.pi * frequency * capacitance)
    leads = lead_impedance(capacitor, frequency)
    return np.asarray(losses(capacitor, capacitance, frequency).total - 1j * reactance + 1j * leads.imag)


def travel_of(capacitor: Capacitor, capacitance: float) -> float | None:
    """Travel from minimum capacitance, 0 to 1, at `capacitance` [F] across the gap; None beyond the ends."""
    low, high = range_at_gap(capacitor)
    if not low <= capacitance <= high:
        return None
    own = float(Shares.at(capacitor, capacitance).own)
    if capacitor.law:
        position, farads = np.array(sorted(capacitor.law, key=lambda pair: pair[1])).T
        place = float(np.interp(own, farads, position))
        return float((place - position[0]) / (position[-1] - position[0]))
    if capacitor.straight_line_frequency:
        # Frequency goes as C^-1/2 of the whole gap capacitance and is linear in travel.
        top, bottom, here = low**-0.5, high**-0.5, capacitance**-0.5
        return float((top - here) / (top - bottom))
    return (own - capacitor.minimum) / (capacitor.maximum - capacitor.minimum)


def capacitance_per_travel(capacitor: Capacitor, capacitance: float) -> float | None:
    """Slope dC/d(travel) [F] at a setting, travel counted 0 to 1; None beyond the ends."""
    low, high = range_at_gap(capacitor)
    delta = (high - low) * 1e-4
    below, above = max(low, capacitance - delta), min(high, capacitance + delta)
    places = travel_of(capacitor, below), travel_of(capacitor, above)
    if travel_of(capacitor, capacitance) is None or places[0] is None or places[1] is None:
        return None
    return (above - below) / (places[1] - places[0])


def missing_capacitance(capacitor: Capacitor, needed: FloatArray) -> float | None:
    """What must be added to the gap, or taken off (negative), to reach all that is `needed` [F].

    None where all is in reach, and where no capacitor tunes the ring there. Where both ends are missed, which nothing
    in parallel cures, what is too much at the minimum.
    """
    if not np.all(np.isfinite(needed) & (needed > 0.0)):
        return None
    low, high = range_at_gap(capacitor)
    too_much, too_little = low - float(needed.min()), float(needed.max()) - high
    if too_much > 0.0:
        return -too_much
    return too_little if too_little > 0.0 else None
