# SPDX-License-Identifier: BSD-3-Clause
"""The figures of a search: what each number is, where it comes from, how far it holds.

Keys are paths below a ring of the front in the search document.
"""

from collections.abc import Mapping
from types import MappingProxyType

from ringwright.antenna.figures.figure import (
    DECIBEL,
    KILOHERTZ,
    KILOVOLT,
    MILLIMETRE,
    NUMBER,
    PER_CENT,
    Figure,
    Scale,
)

KILOGRAM, MONEY = Scale("kg", "kg", 1.0), Scale("1", "", 1.0)
_OWN = "own derivation, docs/explanation/choosing.md"
_SOLVED = (
    "solved full-wave for itself on the brief's site; until it is, carried from solutions nearby to 0.1 dB"
)
_UNFAVOURABLE = "at the unfavourable end of the stated tolerances, one in ten"
_BRIEF = ("bands", "power", "site", "tolerance")

_ROWS: tuple[tuple[str, str, Scale, int, str, str, tuple[str, ...], str], ...] = (
    (
        "score",
        "score",
        DECIBEL,
        3,
        "Decibels that matter: everything that counts in the brief, weighed and added.",
        "sum of weight x worth over the objectives",
        ("sky_db", "diameter_m", "mass_kg", "weights"),
        "as the weights hold",
    ),
    (
        "sky_db",
        "sky",
        DECIBEL,
        3,
        "Power into the upper half-space over the power accepted, as decibels, mean over the bands.",
        "mean over bands of 10 log10(sky efficiency)",
        ("bands.efficiency_sky_pct",),
        _SOLVED,
    ),
    (
        "diameter_m",
        "across",
        MILLIMETRE,
        4,
        "The greater of the ring's width and height, between its conductor's axes.",
        "extent of the shape with this perimeter",
        ("grid.shape", "grid.perimeter"),
        "exact for the shape; add the conductor's thickness for the room",
    ),
    (
        "mass_kg",
        "mass",
        KILOGRAM,
        3,
        "Ring, coupling loop, capacitor and box; no stand, no drive.",
        "density x cross-section x length, and the parts'",
        ("conductors", "capacitors"),
        "weigh what you have",
    ),
    (
        "cost",
        "cost",
        MONEY,
        4,
        "The ring's conductor and the capacitor at the prices stated.",
        "price of a metre x perimeter + price of the capacitor",
        ("parts.toml",),
        "without coupling loop, box, stand and what is left over",
    ),
    (
        "coupling_diameter_m",
        "coupling loop",
        MILLIMETRE,
        3,
        "Of a round loop of 6 mm wire opposite the gap, 15 mm clear, along its axis.",
        "where the greatest SWR of all bands is least, to a millimetre",
        _BRIEF,
        _SOLVED,
    ),
    (
        "bands.efficiency_sky_pct",
        "into the sky",
        PER_CENT,
        3,
        "Power into the upper half-space over the power accepted.",
        "100 P_sky/P",
        _BRIEF,
        _SOLVED,
    ),
    (
        "bands.swr_min",
        "lowest SWR",
        NUMBER,
        3,
        "Lowest SWR of the band with the one coupling loop, re-tuned.",
        "min over C and f of (1 + |S|)/(1 - |S|)",
        _BRIEF,
        _SOLVED,
    ),
    (
        "bands.bandwidth_half_power_hz",
        "half-power bandwidth",
        KILOHERTZ,
        3,
        "Of the unloaded ring on its site.",
        "f0/Q0",
        _BRIEF,
        _SOLVED,
    ),
    (
        "bands.capacitor_voltage_peak_v",
        "volts",
        KILOVOLT,
        3,
        "Peak voltage across the capacitor at the brief's power.",
        "sqrt(2) I_gap |Z_C|",
        _BRIEF,
        _SOLVED,
    ),
    (
        "bands.voltage_margin_db",
        "capacitor to spare",
        DECIBEL,
        2,
        f"What the capacitor stands over what it must, {_UNFAVOURABLE}.",
        "20 log10(V_stands/V_must)",
        ("capacitors", *_BRIEF),
        _SOLVED,
    ),
    (
        "bands.people_margin_db",
        "people to spare",
        DECIBEL,
        2,
        f"Limit over field of the worst person, limit and of E and H, {_UNFAVOURABLE}.",
        "20 log10(limit/field)",
        ("site.people", *_BRIEF),
        _SOLVED,
    ),
)

SEARCH_FIGURES: Mapping[str, Figure] = MappingProxyType(
    {
        key: Figure(
            key=key,
            label=label,
            scale=scale,
            digits=digits,
            definition=definition,
            formula=formula,
            inputs=inputs,
            source=_OWN,
            validity=validity,
        )
        for key, label, scale, digits, definition, formula, inputs, validity in _ROWS
    }
)
"""By key."""
