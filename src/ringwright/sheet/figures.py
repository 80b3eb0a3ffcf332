# SPDX-License-Identifier: BSD-3-Clause
"""The figures of a build: what each number is, where it comes from, how far it holds.

Keys are paths in the build document.
"""

from collections.abc import Mapping
from types import MappingProxyType

from ringwright.antenna.figures.figure import MILLIMETRE, Figure
from ringwright.antenna.metals import SOURCE as METALS
from ringwright.sheet.figure_rows import (
    BEAMS,
    KILOGRAM,
    KILOGRAM_PER_METRE,
    MEGAPASCAL,
    METRE,
    OWN,
    PRACTICE,
    Row,
    figure,
)
from ringwright.sheet.figures_standing import STANDING_ROWS

_STATED = "as stated, or usual of its kind"
_WEIGHED = "density x cross-section x length"


def _mass(key: str, label: str, text: tuple[str, str]) -> Row:
    meant, formula = text
    source = f"{METALS}; parts {PRACTICE}"
    return Row(
        f"mass.{key}_kg",
        label,
        KILOGRAM,
        3,
        (meant, formula, source, "weigh what you have"),
        ("ring", "build", "stand"),
    )


_ROWS = (
    Row(
        "cuts.needed_m",
        "conductor needed",
        METRE,
        4,
        (
            "All pieces of the ring as cut, with what the saw takes.",
            "sum of count (cut + kerf)",
            OWN,
            "for the corners and allowances stated",
        ),
        ("ring", "build"),
    ),
    Row(
        "cuts.gap_m",
        "gap",
        MILLIMETRE,
        3,
        (
            "Between the ring's ends, where the capacitor sits.",
            "gap_width, or 30 mm",
            f"the design, or {PRACTICE}",
            "20 to 40 mm agree with the prediction",
        ),
        ("capacitor.gap_width",),
    ),
    Row(
        "cuts.pieces.axis_m",
        "length along the axis",
        MILLIMETRE,
        4,
        (
            "Of one piece as it stays, from joint to joint.",
            "along the ring's axis, less the gap",
            OWN,
            "wherever its inputs hold",
        ),
        ("ring",),
    ),
    Row(
        "cuts.pieces.cut_m",
        "length as cut",
        MILLIMETRE,
        4,
        (
            (
                "Of one piece as sawn: a mitred one along its longer edge, one into elbows without their take-off, "
                "a bent "
                "one with the straight ends."
            ),
            "axis + width (|tan a1| + |tan a2|)/2, a half the turning angle",
            OWN,
            "wherever its inputs hold",
        ),
        ("ring", "build"),
    ),
    _mass("ring", "ring", ("Of the ring's conductor.", _WEIGHED)),
    _mass("coupling", "coupling", ("Of the coupling's conductor.", _WEIGHED)),
    _mass("capacitor", "capacitor", ("Of the capacitor.", _STATED)),
    _mass("box", "box", ("Of the capacitor's box.", _STATED)),
    _mass("drive", "drive", ("Of motor and reduction.", _STATED)),
    _mass("head", "above the mast", ("Of everything that the mast carries.", "sum of the parts above")),
    _mass("stand", "stand", ("Of mast and legs.", _STATED)),
    _mass("ballast", "ballast there", ("That lies on the feet already.", _STATED)),
    _mass("total", "altogether", ("Of all that stands there.", "head + stand + ballast")),
    Row(
        "mass.ring_per_metre_kg",
        "conductor, per metre",
        KILOGRAM_PER_METRE,
        4,
        ("Of the ring's conductor.", "density x cross-section", METALS, "braid: within a third"),
        ("ring.conductor",),
    ),
    Row(
        "bends.radius_m",
        "sharpest bend",
        MILLIMETRE,
        3,
        (
            "Least radius of curvature of the axis.",
            "b^2/a of an ellipse",
            "plane geometry",
            "wherever its inputs hold",
        ),
        ("ring", "coupling"),
    ),
    Row(
        "bends.by_hand_m",
        "least by hand",
        MILLIMETRE,
        2,
        (
            "Radius down to which the conductor bends by hand, annealed, a tube filled or with a spring.",
            "8 diameters of a tube, 3 of a rod or of a strip's thickness, 2 of braid",
            PRACTICE,
            "try it on a piece",
        ),
        ("ring.conductor",),
    ),
    Row(
        "bends.with_a_bender_m",
        "least with a bender",
        MILLIMETRE,
        2,
        (
            "Radius down to which a bender or a former goes.",
            "4 diameters of a tube, 1.5 of a rod or a strip, 2 of braid",
            PRACTICE,
            "try it on a piece",
        ),
        ("ring.conductor",),
    ),
    Row(
        "sag.by_weight_m",
        "sag",
        MILLIMETRE,
        2,
        (
            "How far an end at the gap moves by its own and the capacitor's weight.",
            "unit-load method for curved bars",
            BEAMS,
            "held at the point opposite the gap, the ends free: the capacitor holds them together, so it is less",
        ),
        ("ring", "mass.ring_per_metre_kg"),
    ),
    Row(
        "sag.by_wind_m",
        "sag with the wind",
        MILLIMETRE,
        2,
        (
            "The same with the stated wind across the ring.",
            "unit-load method for curved bars",
            BEAMS,
            "as the sag; gusts that meet the ring's own rhythm move it farther",
        ),
        ("stand.wind",),
    ),
    Row(
        "sag.stress_weight_pa",
        "stress",
        MEGAPASCAL,
        2,
        ("Largest bending stress by weight alone.", "M D/(2 I)", BEAMS, "as the sag"),
        ("ring",),
    ),
    Row(
        "sag.stress_wind_pa",
        "stress with the wind",
        MEGAPASCAL,
        2,
        ("Largest bending stress with the stated wind.", "M D/(2 I)", BEAMS, "as the sag"),
        ("stand.wind",),
    ),
    Row(
        "sag.yields_at_pa",
        "stays bent from",
        MEGAPASCAL,
        2,
        (
            "Stress at which the soft metal does not spring back.",
            "of the annealed metal",
            METALS,
            "a hard-drawn tube stands three times as much, but not where it was soldered",
        ),
        ("ring.conductor",),
    ),
    *STANDING_ROWS,
)

BUILD_FIGURES: Mapping[str, Figure] = MappingProxyType({row.key: figure(row) for row in _ROWS})
"""By key, in the order of the build document."""
