# SPDX-License-Identifier: BSD-3-Clause
"""Every drawing of a design by its name, for the page and for files."""

from ringwright.sheet.build import Build
from ringwright.sheet.drawings.box_view import box_view
from ringwright.sheet.drawings.corner_view import corner_view
from ringwright.sheet.drawings.coupling_view import coupling_view
from ringwright.sheet.drawings.exploded import exploded_view
from ringwright.sheet.drawings.ring_view import ring_view
from ringwright.sheet.drawings.stand_view import stand_view
from ringwright.sheet.drawings.sweep_view import sweep_view
from ringwright.sheet.drawings.turns_view import turns_view
from ringwright.sheet.sketch import Sketch


def drawings(build: Build) -> dict[str, Sketch]:
    """By name, in the order in which they are built."""
    found = {
        "exploded": exploded_view(build),
        "ring": ring_view(build),
        "stand": stand_view(build),
    }
    turns = turns_view(build)
    if turns is not None:
        found["turns"] = turns
    loop = coupling_view(build)
    if loop is not None:
        found["coupling"] = loop
    for number, (turning, _) in enumerate(build.mechanics.cuts.corners, start=1):
        found[f"corner-{number}"] = corner_view(build, turning)
    found["box"] = box_view(build)
    for band in build.prediction.bands:
        name = band.band if band.is_whole_band else f"{band.frequency / 1e3:.0f}-khz"
        found[f"sweep-{name}"] = sweep_view(band)
    return found
