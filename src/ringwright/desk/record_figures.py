# SPDX-License-Identifier: BSD-3-Clause
"""The figures of the record that are not those of a sweep: what each number is, where it comes from, how far it holds.

Keys are paths in the comparison's and the trend's documents; `_low` and `_high` beside a key end its 95 % interval.
"""

from collections.abc import Mapping
from types import MappingProxyType

from ringwright.antenna.figures.figure import (
    DECIBEL,
    HERTZ,
    KILOHERTZ,
    MEGAHERTZ,
    MILLIOHM,
    NUMBER,
    PER_CENT,
    Figure,
    Scale,
)

_CELSIUS = Scale("degC", "°C", 1.0)
_SIDE_BY_SIDE = "own derivation, docs/reference/records.md, comparison"
_SEN = "P. K. Sen, J. Am. Stat. Assoc. 63 (1968) 1379"
_SHIFT = "J. L. Hodges and E. L. Lehmann, Ann. Math. Stat. 34 (1963) 598"
_ONE_RING = "for one ring in one place; the interval holds the true value in 95 of 100 such pairs"
_LINE = (
    "for sweeps since the ring was last changed; the interval holds the true slope in 95 of 100 such records"
)
_LEFT_ALONE = "only where the capacitor stayed where it was between the sweeps"
_Q, _F, _R = "sweeps.q_unloaded", "sweeps.frequency_hz", "sweeps.resistance_total_ohm"


def _moved(
    key: str, label: str, scale: Scale, *, digits: int, definition: str, formula: str, of: str
) -> Figure:
    return Figure(
        key=f"comparison.{key}",
        label=label,
        scale=scale,
        digits=digits,
        definition=definition,
        formula=formula,
        inputs=(of,),
        source=_SIDE_BY_SIDE,
        validity=_ONE_RING,
    )


def _trend(key: str, label: str, scale: Scale, *, of: str, definition: str, rain: bool = False) -> Figure:
    return Figure(
        key=f"trend.{key}",
        label=label,
        scale=scale,
        digits=2 if scale is PER_CENT else 3,
        definition=definition,
        formula="median of all differences of a wet sweep and a dry one"
        if rain
        else "median of the slopes between all pairs of sweeps",
        inputs=(of,),
        source=_SHIFT if rain else _SEN,
        validity=_LINE if of == _Q else f"{_LINE}; {_LEFT_ALONE}",
    )


_MOVED = (
    _moved(
        "q",
        "Q, unloaded",
        NUMBER,
        digits=3,
        definition="Of the ring as it was at that moment.",
        formula="geometric mean of its sweeps",
        of=_Q,
    ),
    _moved(
        "q_ratio",
        "Q, after over before",
        NUMBER,
        digits=3,
        definition="Where 1 lies in the interval no change can be told.",
        formula="Q after/Q before",
        of=_Q,
    ),
    _moved(
        "gain_db",
        "more power sent",
        DECIBEL,
        digits=1,
        definition="At the same power into the ring, as the radiation resistance of one ring in one place stays.",
        formula="10 log10 of the factor of Q",
        of=_Q,
    ),
    _moved(
        "resistance_ohm",
        "loses in all, at the gap",
        MILLIOHM,
        digits=3,
        definition="Radiation and losses together, referred to the rms current through the gap.",
        formula="geometric mean of its sweeps",
        of=_R,
    ),
    _moved(
        "resistance_ratio",
        "loss, after over before",
        NUMBER,
        digits=3,
        definition="Of all that the ring loses, radiation with it.",
        formula="resistance after/resistance before",
        of=_R,
    ),
    _moved(
        "frequency_hz",
        "resonance",
        MEGAHERTZ,
        digits=6,
        definition="Of the ring with coupling loop and feedline.",
        formula="mean of its sweeps",
        of=_F,
    ),
    _moved(
        "frequency_change_hz",
        "resonance moved by",
        KILOHERTZ,
        digits=3,
        definition="It tells something of the ring only where the capacitor stayed where it was.",
        formula="after less before",
        of=_F,
    ),
)

_TRENDS = (
    _trend(
        "q_change_pct",
        "Q over this time",
        PER_CENT,
        of=_Q,
        definition="From the first to the last of these sweeps.",
    ),
    _trend(
        "q_per_kelvin_pct",
        "Q for each kelvin",
        PER_CENT,
        of=_Q,
        definition="Against the temperature of the sweeps.",
    ),
    _trend(
        "q_after_rain_pct",
        "Q after rain",
        PER_CENT,
        of=_Q,
        rain=True,
        definition="Sweeps in the 24 hours after a note of rain, against dry ones.",
    ),
    _trend(
        "frequency_change_hz",
        "resonance over this time",
        HERTZ,
        of=_F,
        definition="From the first to the last of these sweeps.",
    ),
    _trend(
        "frequency_per_kelvin_hz",
        "resonance for each kelvin",
        HERTZ,
        of=_F,
        definition="Against the temperature of the sweeps.",
    ),
    _trend(
        "frequency_after_rain_hz",
        "resonance after rain",
        HERTZ,
        of=_F,
        rain=True,
        definition="Sweeps in the 24 hours after a note of rain, against dry ones.",
    ),
)

_TEMPERATURE = Figure(
    key="entries.temperature_degc",
    label="temperature",
    scale=_CELSIUS,
    digits=3,
    definition="Of the air at the ring when it was swept.",
    formula="as it was written down",
    inputs=("record",),
    source="the person who measured",
    validity="as well as it was read",
)

RECORD_FIGURES: Mapping[str, Figure] = MappingProxyType(
    {figure.key: figure for figure in (*_MOVED, *_TRENDS, _TEMPERATURE)}
)
