# SPDX-License-Identifier: BSD-3-Clause
"""Templates at 1:1: which there are, and tiles that overlap, cover all of it, and leave no empty page."""

import math
import re

import numpy as np
import pytest

from ringwright.sheet.drawings.corner_view import corner_pieces, elbow_pieces
from ringwright.sheet.drawings.outlines import ring_section
from ringwright.sheet.sketch import Sketch
from ringwright.sheet.templates import OVERLAP, templates, tiles_of
from ringwright.sheet.typeset import PAPERS
from tests.sheet.conftest import CIRCLE, built, read


def test_a_circle_has_an_arc_and_an_octagon_its_corner(circle, octagon):
    assert [each.title for each in templates(circle)] == [
        "Arc of the ring", "Coupling loop", "Drilling: spacer of the coupling loop", "Drilling: side wall of the box",
    ]  # fmt: skip
    assert next(iter(templates(octagon))).title == "Corner"


def test_the_arc_has_the_rings_radius(circle):
    arc = next(iter(templates(circle)))
    size = arc.high - arc.low - 12.0  # 6 mm of room on each side
    # A quarter of a circle of 3.2 m round, and half the 15 mm tube outside it at each end.
    assert size == pytest.approx([3200.0 / 2.0 / math.pi + 7.5] * 2, abs=4.0, rel=0)


def test_the_loops_edges_are_its_conductors(circle):
    loop = list(templates(circle))[1]
    away = np.linalg.norm(loop.places, axis=1)
    # 200 mm between axes, 6 mm thick.
    assert away.min() == pytest.approx(97.0, abs=0.05, rel=0)
    assert away.max() == pytest.approx(103.0, abs=0.05, rel=0)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_is_as_large_as_the_paper_lets_it(circle, paper):
    _, width, height = PAPERS[paper]
    for tile in tiles_of(circle, paper=paper):
        assert tile["width"] == pytest.approx(width - 20.0)
        assert tile["height"] <= height - 20.0 - 13.0 + 1e-9
        assert "100 mm" in tile["svg"]
        assert "Print at 100 %" in tile["advice"]


def paths(svg):
    for found in re.findall(r'<path d="M([^"Z]*)', svg):
        yield np.array([[float(number) for number in place.split()] for place in found.split(" L")])


def test_neighbouring_tiles_show_the_same_in_their_overlap(circle):
    first, second = (tile for tile in tiles_of(circle, paper="a4") if tile["title"] == "Coupling loop")
    assert (first["place"], second["place"]) == ("A1 of A2", "A2 of A2")
    step = PAPERS["a4"][1] - 20.0 - OVERLAP
    left, right = (next(iter(paths(tile["svg"]))) for tile in (first, second))
    # The same line, drawn on both, lies one step to the left on the second.
    assert left[:, 0] - right[:, 0] == pytest.approx(np.full(len(left), step), abs=0.002)
    assert left[:, 1] == pytest.approx(right[:, 1], abs=0.002)


def test_tiles_cover_all_of_the_template(circle):
    for template in templates(circle):
        mine = [tile for tile in tiles_of(circle, paper="letter") if tile["title"] == template.title]
        window = np.array([mine[0]["width"], mine[0]["height"] - 11.0])
        seen = np.zeros(len(template.places), dtype=bool)
        lines = [next(iter(paths(tile["svg"]))) for tile in mine]
        for line in lines:
            inside = ((line >= -1e-6) & (line <= window + 1e-6)).all(axis=1)
            if len(line) <= len(seen):
                seen[: len(line)] |= inside
        assert seen[: len(lines[0])].all(), template.title


def test_a_large_loop_is_drawn_as_a_quarter():
    build = built(
        read(
            CIRCLE.replace('"200 mm"', '"700 mm"')
            .replace('"3.2 m"', '"6 m"')
            .replace("40m", "80m")
            .replace('"300 pF"', '"900 pF"')
        )
    )
    loop = list(templates(build))[1]
    assert "quarter" in loop.advice
    assert (loop.high - loop.low - 12.0).max() == pytest.approx(353.0, abs=4.0, rel=0)


@pytest.mark.parametrize("degrees", [30.0, 45.0, 60.0, 90.0, -40.0])
def test_mitred_pieces_meet_on_one_line_at_half_the_angle(degrees):
    turning = math.radians(degrees)
    left, right = corner_pieces(0.022, turning, length=0.1)
    # Both share the cut.
    assert left[1] == pytest.approx(right[1], abs=1e-12)
    assert left[2] == pytest.approx(right[2], abs=1e-12)
    cut = left[2] - left[1]
    off_square = math.atan2(cut[0], cut[1])
    assert abs(off_square) == pytest.approx(abs(turning) / 2.0, rel=1e-9, abs=0)
    assert np.linalg.norm(cut) == pytest.approx(0.022 / math.cos(turning / 2.0), rel=1e-9, abs=0)


def test_tubes_end_square_before_an_elbows_axes_cross():
    for piece in elbow_pieces(0.022, math.radians(45.0), length=0.1, take_off=0.012):
        ends = piece[np.argsort(np.linalg.norm(piece, axis=1))[:2]]
        middle = ends.mean(axis=0)
        assert np.linalg.norm(middle) == pytest.approx(0.012, rel=1e-9, abs=0)
        assert (ends[1] - ends[0]) @ middle == pytest.approx(0.0, abs=1e-12)  # square to the axis


def test_a_spacer_has_a_hole_for_each_turn_and_the_loop_midway():
    turns = CIRCLE.replace("joints = 2", 'turns = 2\nturn_spacing = "60 mm"').replace("3.2 m", "2.4 m")
    (spacer,) = (each for each in templates(built(read(turns))) if "spacer" in each.title)
    high = spacer.high[1] - spacer.low[1]
    # Two 15 mm holes 60 mm apart, 12 mm of plate round them and 6 mm of paper.
    assert high == pytest.approx(60.0 + 15.0 + 2.0 * (12.0 + 6.0), abs=1e-6, rel=0)


def test_a_strip_bent_on_the_flat_shows_its_edge_and_passes_through_slots():
    text = str(CIRCLE).replace(
        'diameter = "15 mm"\nwall = "1 mm"', 'kind = "strip"\nwidth = "25 mm"\nthickness = "1 mm"'
    )
    build = built(read(text))
    assert ring_section(build.design) == pytest.approx((1e-3, 25e-3), rel=1e-9, abs=0)
    by_title = {each.title: each for each in templates(build)}
    for title, words in (("side wall of the box", "25 mm x 1 mm"), ("spacer", "1 mm x 25 mm")):
        (found,) = (each for name, each in by_title.items() if title in name)
        sketch = Sketch(*(found.high - found.low), title="a")
        found.paint(sketch, found.low)
        assert words in sketch.svg()
    square = built(read(text.replace('perimeter = "3.2 m"', 'shape = "square"\nperimeter = "3.2 m"')))
    assert ring_section(square.design) == pytest.approx((25e-3, 1e-3), rel=1e-9, abs=0)
