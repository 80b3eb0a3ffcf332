# SPDX-License-Identifier: BSD-3-Clause
"""Small briefs that cost little: free space, one shape, few parts."""

from ringwright.choose.rings.brief_file import parse_brief

SMALL = """\
format = 1
name = "Small"
bands = ["20m", "17m"]
power = "20 W"

[site]
height = "2 m"
earth = "free space"
[[site.people]]
name = "neighbour"
at = ["5 m", "2 m", "2 m"]

[weights]
sky_db = 1
size = 2

[grid]
shape = ["circle"]
perimeter = ["2 m", "3 m", 2]
conductors = [{ diameter = "22 mm" }, { diameter = "12 mm" }]
[[grid.capacitors]]
kind = "vacuum"
minimum = "8 pF"
maximum = "250 pF"
q = 3000
rated_voltage = "5 kV"
[[grid.capacitors]]
kind = "air"
minimum = "10 pF"
maximum = "120 pF"
q = 800
plate_gap = "4 mm"
"""


def brief(text=SMALL, *changes, parts=None):
    """A brief with some of its text replaced."""
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return parse_brief(text, source="brief.toml", parts=parts)
