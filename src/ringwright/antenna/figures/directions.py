# SPDX-License-Identifier: BSD-3-Clause
"""Figures of directions that a prediction does not have: bearings, nulls, a dipole in the ring's place, reception.

Keys are paths below a band of the directions document.
"""

from collections.abc import Mapping
from types import MappingProxyType

from ringwright.antenna.directions import NULL_DEPTH_DB
from ringwright.antenna.figures.figure import DBI, DECIBEL, DEGREE, Figure
from ringwright.antenna.figures.sources import SOLUTION, TERMS, THIN_WIRE
from ringwright.antenna.reception import RECEIVER_NOISE_FIGURE

_OVER_THE_DIPOLE = "G_ring - G_dipole"
_DIPOLE = ("site.height", "site.earth", "frequency_hz")

_ROWS = (
    Figure(
        key="pattern.bearing_deg",
        label="its true bearing",
        scale=DEGREE,
        digits=0,
        definition="Bearing of the strongest direction, clockwise from true north.",
        formula="x_bearing - azimuth",
        inputs=("site.x_bearing", "pattern.azimuth_deg"),
        source="geometry",
        validity="as true as the bearing that the design states for its x axis",
    ),
    Figure(
        key="nulls.bearing_deg",
        label="a null's true bearing",
        scale=DEGREE,
        digits=0,
        definition="Bearing of a dip in the gain round the horizon, clockwise from true north.",
        formula="x_bearing - azimuth",
        inputs=("site.x_bearing", "ring", "site"),
        source="geometry",
        validity="as true as the bearing that the design states for its x axis",
    ),
    Figure(
        key="nulls.depth_db",
        label="a null's depth",
        scale=DECIBEL,
        digits=2,
        definition="How far the gain there lies below the strongest direction at the same elevation. A dip of "
        f"{NULL_DEPTH_DB:g} dB or more is called a null.",
        formula="10 log10(U_max/U)",
        inputs=("ring", "coupling", "site", "feedline.outside"),
        source=f"{TERMS} (null); {SOLUTION}",
        validity=THIN_WIRE
        + "; height, earth, metal and the feedline's outside fill the null of the textbook's loop",
    ),
    Figure(
        key="dipole.gain_max_dbi",
        label="a dipole's largest gain",
        scale=DBI,
        digits=2,
        definition="Largest gain of a lossless level half-wave dipole through the ring's centre, along the ring's "
        "axis, over the same earth, without the metal.",
        formula="10 log10(4 pi U/power)",
        inputs=_DIPOLE,
        source=SOLUTION,
        validity=THIN_WIRE,
    ),
    Figure(
        key="dipole.ahead_db",
        label="the ring over the dipole, each at its best",
        scale=DECIBEL,
        digits=2,
        definition="Largest gain of the ring less that of the dipole, each in its own strongest direction.",
        formula=_OVER_THE_DIPOLE,
        inputs=("pattern.gain_max_dbi", *_DIPOLE),
        source=SOLUTION,
        validity=THIN_WIRE,
    ),
    Figure(
        key="dipole.ahead_20deg_db",
        label="the ring over the dipole at 20 deg elevation",
        scale=DECIBEL,
        digits=2,
        definition="The same, each in its best direction at 20 degrees elevation, where distance is worked.",
        formula=f"{_OVER_THE_DIPOLE} at 20 deg",
        inputs=("pattern.gain_20deg_dbi", *_DIPOLE),
        source=SOLUTION,
        validity=THIN_WIRE,
    ),
    Figure(
        key="reception.loss_db",
        label="cost of the ring's loss on receive",
        scale=DECIBEL,
        digits=1,
        definition="How much the signal-to-noise ratio falls short of that of the same ring without loss, on the same "
        "receiver.",
        formula="10 log10((fa - 1 + lt fr/efficiency)/(fa - 1 + lt fr))",
        inputs=("efficiency_sky_pct", "frequency_hz", "feedline"),
        source="ITU-R P.372, sec. 2 and 5: median man-made noise by kind of place, galactic noise from 10 MHz",
        validity=f"a receiver's noise figure of {RECEIVER_NOISE_FIGURE:g} dB, common practice, no source; "
        "lightning is not in it; noise from everywhere alike",
    ),
)

DIRECTION_FIGURES: Mapping[str, Figure] = MappingProxyType({figure.key: figure for figure in _ROWS})
"""By key, in the order of the directions document."""
