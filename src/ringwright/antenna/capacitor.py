# SPDX-License-Identifier: BSD-3-Clause
"""The tuning capacitor: what it has, where it stands, what it loses."""

import numpy as np

from ringwright.antenna.design import Capacitor
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray


def range_at_gap(capacitor: Capacitor) -> tuple[float, float]:
    """Least and greatest capacitance across the gap, with what is fixed and stray [F]."""
    always = capacitor.stray + capacitor.fixed
    return capacitor.minimum + always, capacitor.maximum + always


def loss_terms(capacitor: Capacitor) -> tuple[float, float]:
    """Series resistance that holds at every frequency [ohm], and loss tangent of the whole gap capacitance [1]."""
    if capacitor.esr is not None:
        return capacitor.esr, 0.0
    assert capacitor.q is not None
    return 0.0, 1.0 / capacitor.q


def series_impedance(capacitor: Capacitor, capacitance: float, frequency: FloatArray) -> ComplexArray:
    """Impedance of the gap at a setting of `capacitance` [F] in all [ohm], same shape as `frequency` [Hz]."""
    reactance = 1.0 / (2.0 * np.pi * frequency * capacitance)
    resistance, loss_tangent = loss_terms(capacitor)
    return np.asarray(resistance + reactance * (loss_tangent - 1j))


def travel_of(capacitor: Capacitor, capacitance: float) -> float | None:
    """Travel from minimum capacitance, 0 to 1, at `capacitance` [F] across the gap; None beyond the ends."""
    low, high = range_at_gap(capacitor)
    if not low <= capacitance <= high:
        return None
    own = capacitance - capacitor.stray - capacitor.fixed
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
