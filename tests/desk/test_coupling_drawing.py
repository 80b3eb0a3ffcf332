# SPDX-License-Identifier: BSD-3-Clause
"""What is drawn of a tapped coupling and of a transformer, on a page and in a picture."""

import xml.etree.ElementTree as ET

import numpy as np
import pytest

from ringwright.antenna.charts.ring_drawing import ring_drawing
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Draft
from ringwright.web.encode import prediction_body

LOOP_KEYS = dict.fromkeys(
    ("coupling.diameter", "coupling.squash", "coupling.clearance", "coupling.conductor")
)
TAPPED = LOOP_KEYS | {"coupling.kind": "tapped", "coupling.tap_at": "0.3 m"}
WOUND = LOOP_KEYS | {
    "coupling.kind": "transformer",
    "coupling.turns": 20,
    "coupling.inductance_factor": "1 uH",
    "coupling.core_q": 20,
}
IN_FREE_SPACE = {"site.earth": "free space"}


@pytest.fixture
def desk(tmp_path):
    return Desk(tmp_path)


def drawn(desk, edits):
    answer = desk.predict(Draft(edits=IN_FREE_SPACE | edits))
    return answer, prediction_body(answer, elapsed=0.0)["drawing"]


def test_an_arm_is_an_open_path_from_the_ring_and_back_to_it(desk):
    answer, sent = drawn(desk, TAPPED)
    picture = answer.drawing
    assert sent["coupling"]["is_closed"] is False
    assert sent["core"] is None
    ends = picture.coupling[[0, -1]]
    to_ring = np.linalg.norm(ends[:, None] - picture.ring, axis=2).min(axis=1)
    assert to_ring == pytest.approx([0.0, 0.0], abs=1e-12)
    # The start design's ring has its gap on top; the feedline drives the arm's first node off the ring.
    assert picture.coupling[0, 2] == pytest.approx(1.5, rel=1e-3, abs=0)
    assert picture.coupling[1] == pytest.approx(picture.feed, rel=1e-12, abs=1e-12)
    assert len(sent["coupling"]["points_m"]) == len(picture.coupling)


def test_a_core_sits_at_the_feed_and_has_no_wire(desk):
    answer, sent = drawn(desk, WOUND)
    assert sent["core"] == {"primary_turns": 20, "passes": 1}
    assert sent["coupling"]["points_m"] == []
    assert sent["coupling"]["radius_m"] == 0.0
    to_ring = np.linalg.norm(answer.drawing.ring - answer.drawing.feed, axis=1).min()
    assert to_ring == pytest.approx(0.0, abs=1e-12)


def test_a_loop_is_drawn_as_before(desk):
    answer, sent = drawn(desk, {})
    assert sent["coupling"]["is_closed"] is True
    assert sent["core"] is None
    assert len(answer.drawing.coupling) == 16


def test_turns_and_core_are_no_geometry_for_the_desk(desk):
    desk.predict(Draft(edits=IN_FREE_SPACE | WOUND))
    changed = WOUND | {"coupling.turns": 12, "coupling.core_q": 5, "coupling.inductance_factor": "0.4 uH"}
    # What the ring tunes may move to another frequency; the bands themselves are known.
    assert desk.predict(Draft(edits=IN_FREE_SPACE | changed)).solves <= 2


@pytest.mark.parametrize(
    ("edits", "paths", "says"), [(TAPPED, 2, ""), (WOUND, 1, "core, 20 to 1 turns"), ({}, 2, "")]
)
def test_picture_shows_each_kind(desk, edits, paths, says):
    (band, *_) = desk.predict(Draft(edits=IN_FREE_SPACE | edits)).prediction.bands
    text = ring_drawing(band, width=300.0, height=300.0)
    ET.fromstring(text)
    assert says in text
    assert text.count("<polyline") + text.count("<path") == paths
