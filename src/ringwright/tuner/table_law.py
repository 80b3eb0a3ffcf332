# SPDX-License-Identifier: BSD-3-Clause
"""What a design says of its drive before anything was measured: capacitance and resonance at every position."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.capacitor import range_at_gap, travel_of
from ringwright.antenna.design import Design
from ringwright.antenna.drive_resolution import shaft_turns, turns_per_step
from ringwright.antenna.prediction import Prediction
from ringwright.errors import TuningTableError
from ringwright.physics.graph import FloatArray
from ringwright.tuner.table_monotone import Monotone

SETTINGS = 241
"""Settings of the capacitor between its ends at which its law is looked up."""
_APART = 1e-4
"""Capacitances nearer than this, of themselves, are one setting."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Law:
    """Position [steps from the end of least capacitance] to capacitance across the gap [F] to resonance [Hz].

    `last` [steps] is the other end of the travel. `per_kelvin` [1/K]: by what part of itself the resonance moves as
    the antenna warms by a kelvin. `stray_within` [F]: how far a capacitance that is always there may be off.
    """

    farads: Monotone
    resonance: Monotone
    per_kelvin: float
    stray_within: float

    @property
    def last(self) -> int:
        """The position of greatest capacitance [steps]."""
        return int(self.farads.x[-1])

    def frequency_of(self, farads: float) -> float:
        """Resonance [Hz] with so much across the gap [F]."""
        return float(np.exp(self.resonance.at(float(np.log(farads)))))

    def farads_showing(self, frequency: float) -> float:
        """What would have to be across the gap [F] for this resonance [Hz]."""
        return float(np.exp(self.resonance.inverse(float(np.log(frequency)))))


def predicted_law(design: Design, prediction: Prediction) -> Law:
    """The law of a design's capacitor, drive and ring, from its prediction.

    Raises
    ------
    TuningTableError
        If the design states no drive, or no travel of its capacitor.
    """
    position, farads = _along_travel(design)
    known = dict(sorted(_resonances(prediction, design)))
    pairs = np.array([(c, f) for c, f in known.items() if c > 0.0])
    kept = pairs[_falling(pairs)]
    if len(kept) == 1:  # one frequency: the rest by Thomson's formula, f^2 C = constant
        kept = np.vstack([kept, kept[0] * (2.0, 2.0**-0.5)])
    relative = [band.tuning.drift_per_kelvin / band.frequency for band in prediction.bands]
    return Law(
        farads=Monotone(position, farads),
        resonance=Monotone(np.log(kept[:, 0]), np.log(kept[:, 1])),
        per_kelvin=float(np.mean(relative)),
        stray_within=design.capacitor.stray_within,
    )


def _along_travel(design: Design) -> tuple[FloatArray, FloatArray]:
    drive, capacitor = design.drive, design.capacitor
    if drive is None:
        raise TuningTableError("drive: the design states none; add a [drive] to it, which the tuner turns")
    turns = shaft_turns(capacitor)
    if turns is None:
        raise TuningTableError('capacitor.travel: not stated; add it, as in travel = "16 turns" or "180 deg"')
    steps = round(turns / turns_per_step(drive))
    low, high = range_at_gap(capacitor)
    rows = np.geomspace(low, high, SETTINGS)
    rows[0], rows[-1] = low, high
    travel = [travel_of(capacitor, float(each)) for each in rows]
    position = np.array([0.0 if each is None else each for each in travel]) * steps
    _, first = np.unique(position, return_index=True)
    return position[first], rows[first]


def _resonances(prediction: Prediction, design: Design) -> list[tuple[float, float]]:
    """Pairs of capacitance and resonance that the prediction holds."""
    low, high = range_at_gap(design.capacitor)
    pairs = []
    for band in prediction.bands:
        tuning, target = band.tuning, band.point.target
        pairs += [
            (tuning.capacitance_lower_edge, target.low),
            (tuning.capacitance, band.frequency),
            (tuning.capacitance_upper_edge, target.high),
        ]
    tuning = prediction.bands[0].tuning
    pairs += [(high, tuning.tunes_from)] if tuning.tunes_from is not None else []
    pairs += [(low, tuning.tunes_to)] if tuning.tunes_to is not None else []
    return pairs


def _falling(pairs: FloatArray) -> list[int]:
    """Of pairs in order of capacitance, those of which each lies clearly beyond the last and resonates lower."""
    kept = [0]
    for place in range(1, len(pairs)):
        (c, f), (before, above) = pairs[place], pairs[kept[-1]]
        if c > before * (1.0 + _APART) and f < above:
            kept.append(place)
    return kept
