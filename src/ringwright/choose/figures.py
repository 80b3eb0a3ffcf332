# SPDX-License-Identifier: BSD-3-Clause
"""The figures of a match: what each number is, where it comes from, how far it holds.

Keys are paths in the match document; those of a coupling stand below `best`, `now`, `one_fifth` and `trade` alike.
"""

from collections.abc import Mapping
from types import MappingProxyType

from ringwright.antenna.figures.figure import MEGAHERTZ, MILLIMETRE, NUMBER, PICOFARAD, WORD, Figure
from ringwright.antenna.figures.sources import POZAR, SOLUTION, THIN_WIRE

_ELLIPSE = "perimeter of the ellipse by the complete elliptic integral, DLMF section 19.30(i)"
_SEARCH = "own derivation, docs/explanation/matching.md"
_FROM = ("ring", "coupling", "capacitor", "feedline.impedance", "site", "bands")
_HOLDS = THIN_WIRE + "; every band re-tuned, to the feedline's impedance, at the coupling, before any cable"
_TO_BEND = "between conductors that keep their shape and place; trim by measuring"

_FIGURES = (
    Figure(
        key="best.diameter_m",
        label="loop's diameter",
        scale=MILLIMETRE,
        digits=3,
        definition="Of the coupling loop, along its conductor's axis; an oval's is that of the circle with its "
        "perimeter.",
        formula="where the greatest SWR of all bands is least",
        inputs=_FROM,
        source=_SEARCH,
        validity=_TO_BEND,
    ),
    Figure(
        key="best.wire_m",
        label="wire",
        scale=MILLIMETRE,
        digits=3,
        definition="Length of conductor to bend, along its axis, without what the connector needs.",
        formula="pi diameter",
        inputs=("best.diameter_m",),
        source="the perimeter, which a squash leaves as it is",
        validity=_TO_BEND,
    ),
    Figure(
        key="best.along_m",
        label="loop's length",
        scale=MILLIMETRE,
        digits=3,
        definition="Of the coupling loop along the ring's conductor, between its own conductor's axes.",
        formula="the longer axis of the ellipse with that perimeter and squash, if the squash is above 1",
        inputs=("best.diameter_m", "best.squash"),
        source=_ELLIPSE,
        validity=_TO_BEND,
    ),
    Figure(
        key="best.across_m",
        label="loop's width",
        scale=MILLIMETRE,
        digits=3,
        definition="Of the coupling loop away from the ring's conductor, between its own conductor's axes.",
        formula="length/squash",
        inputs=("best.diameter_m", "best.squash"),
        source=_ELLIPSE,
        validity=_TO_BEND,
    ),
    Figure(
        key="best.squash",
        label="squash",
        scale=NUMBER,
        digits=3,
        definition="Length of the loop along the ring's conductor over its height across it; 1 is a circle.",
        formula="where the greatest SWR of all bands is least, if it is varied",
        inputs=_FROM,
        source=_SEARCH,
        validity=_TO_BEND,
    ),
    Figure(
        key="best.clearance_m",
        label="clearance",
        scale=MILLIMETRE,
        digits=3,
        definition="Between the surfaces of the coupling's and the ring's conductor.",
        formula="where the greatest SWR of all bands is least, if it is varied",
        inputs=_FROM,
        source=_SEARCH,
        validity=_TO_BEND,
    ),
    Figure(
        key="best.at",
        label="place",
        scale=WORD,
        digits=0,
        definition="Where in the ring the coupling loop lies.",
        formula="the better of both, if it is varied",
        inputs=_FROM,
        source=_SEARCH,
        validity=_TO_BEND,
    ),
    Figure(
        key="best.tap_at_m",
        label="tap",
        scale=MILLIMETRE,
        digits=3,
        definition="Along the ring's conductor from the point half-way round to where the arm joins it.",
        formula="where the greatest SWR of all bands is least",
        inputs=_FROM,
        source=_SEARCH,
        validity=_TO_BEND,
    ),
    Figure(
        key="best.turns",
        label="turns",
        scale=NUMBER,
        digits=3,
        definition="Of the transformer's primary.",
        formula="the whole number with the least greatest SWR of all bands",
        inputs=_FROM,
        source=_SEARCH,
        validity=_HOLDS,
    ),
    Figure(
        key="best.swr_worst",
        label="worst SWR",
        scale=NUMBER,
        digits=3,
        definition="The highest of all bands' lowest SWR.",
        formula="max over the bands of swr_min",
        inputs=("best.bands.swr_min",),
        source=_SEARCH,
        validity=_HOLDS,
    ),
    Figure(
        key="best.bands.frequency_hz",
        label="frequency",
        scale=MEGAHERTZ,
        digits=7,
        definition="Where the band is matched: its arithmetic centre, or the frequency asked for.",
        formula="(f_low + f_high)/2",
        inputs=("bands", "tune_to", "region"),
        source="the design file's",
        validity="wherever its inputs hold",
    ),
    Figure(
        key="best.bands.swr_min",
        label="lowest SWR",
        scale=NUMBER,
        digits=3,
        definition="Lowest SWR of a band over all settings of the capacitor, whether this one reaches them or not.",
        formula="min over C of (1 + |S|)/(1 - |S|), S = (Zin - R0)/(Zin + R0)",
        inputs=_FROM,
        source=f"{POZAR}, sec. 2.3; {SOLUTION}",
        validity=_HOLDS,
    ),
    Figure(
        key="best.bands.capacitance_f",
        label="capacitance",
        scale=PICOFARAD,
        digits=4,
        definition="Whole capacitance across the gap at that setting.",
        formula="where the SWR is least",
        inputs=_FROM,
        source="own derivation, docs/explanation/tuning.md",
        validity=_HOLDS,
    ),
    Figure(
        key="best.bands.is_over_coupled",
        label="too much coupling",
        scale=WORD,
        digits=0,
        definition="Whether the coupling takes more than a match there, so that a smaller one would suit the band.",
        formula="whether the circle of the reflection encloses the match",
        inputs=_FROM,
        source=_SEARCH,
        validity=_HOLDS,
    ),
    Figure(
        key="sensitivity.swr_worst_less",
        label="worst SWR, a step smaller",
        scale=NUMBER,
        digits=3,
        definition="Worst SWR with this one size smaller by a step: 5 mm, or one turn.",
        formula="the same search's function, one size shifted",
        inputs=_FROM,
        source=_SEARCH,
        validity=_HOLDS,
    ),
    Figure(
        key="sensitivity.swr_worst_more",
        label="worst SWR, a step larger",
        scale=NUMBER,
        digits=3,
        definition="Worst SWR with this one size larger by a step: 5 mm, or one turn.",
        formula="the same search's function, one size shifted",
        inputs=_FROM,
        source=_SEARCH,
        validity=_HOLDS,
    ),
)

COUPLING_FIGURES: Mapping[str, Figure] = MappingProxyType({figure.key: figure for figure in _FIGURES})
"""By key."""
