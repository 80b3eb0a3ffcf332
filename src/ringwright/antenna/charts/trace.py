# SPDX-License-Identifier: BSD-3-Clause
"""What the feed sees across a dip: the curve behind every SWR and reflection chart."""

from dataclasses import dataclass
from string import ascii_uppercase

import numpy as np

from ringwright.antenna.figures import FIGURES
from ringwright.antenna.prediction import BandPrediction
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray

POINTS = 241
HALF_POWER_WIDTHS = 2.0
"""On either side of the dip: a matched ring's SWR is 17 there."""
_STROKES = (
    ("#1b1b1b", ""),
    ("#0072B2", "7 4"),
    ("#D55E00", "2 3"),
    ("#009E73", "9 3 2 3"),
    ("#CC79A7", "4 2"),
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trace:
    """One design in one band.

    `offset` [Hz] from the tuned frequency, `swr`, `reflection`, all of shape (POINTS,); `label` tells designs apart,
    `stroke` and `dash` are how the trace is drawn.
    """

    label: str
    stroke: str
    dash: str
    band: BandPrediction
    offset: FloatArray
    swr: FloatArray
    reflection: ComplexArray

    @property
    def reference(self) -> float:
        """Impedance of the feedline [ohm]."""
        return self.band.point.tuned.reference


def trace(band: BandPrediction, *, label: str, number: int) -> Trace:
    """The curve of a band; traces of a chart are numbered from 0, which gives each its own stroke."""
    tuned = band.point.tuned
    reach = HALF_POWER_WIDTHS * band.bandwidth_half_power
    ends = np.clip(band.match.frequency + np.array([-reach, reach]), *tuned.network.nodes[[0, -1]])
    frequency = np.linspace(ends[0], ends[1], POINTS)
    stroke, dash = _STROKES[number % len(_STROKES)]
    return Trace(
        label=label,
        stroke=stroke,
        dash=dash,
        band=band,
        offset=frequency - band.frequency,
        swr=tuned.swr(frequency),
        reflection=tuned.reflection(frequency),
    )


def letter(number: int) -> str:
    """What a design is called where several stand side by side."""
    return ascii_uppercase[number] if number < len(ascii_uppercase) else str(number + 1)


def name_of(band: BandPrediction) -> str:
    """Band and frequency, as a chart's heading."""
    frequency = FIGURES["frequency_hz"].text(band.frequency)
    return f"{band.band}, {frequency}" if band.band else frequency
