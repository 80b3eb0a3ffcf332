# SPDX-License-Identifier: BSD-3-Clause
"""What is too low, too far, or runs into something is said in one sentence with its key; the rest is accepted."""

import numpy as np
import pytest

from ringwright.antenna.design import Design, SiteMesh, SiteWire
from ringwright.antenna.earths import EARTHS
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.predict import predict
from ringwright.antenna.site_clearance import unjoined_contacts
from ringwright.errors import DesignError
from tests.antenna.builds import AVERAGE, at, built


def wire(start, end, *, kind="railing", diameter=0.04) -> SiteWire:
    return SiteWire(kind=kind, start=start, end=end, diameter=diameter, conductivity=7e6, mu_r=100.0)


def on(*metal, height=1.5, earth=AVERAGE) -> Design:
    return built(at(14.2e6), site={"earth": earth, "height": height, "metal": metal})


RAIL = wire((-2.0, 1.2, 0.9), (2.0, 1.2, 0.9))
LOW = wire((-2.0, 1.2, 0.09), (2.0, 1.2, 0.9), kind="gutter")
MESH = SiteMesh(
    corner=(-1.0, 1.0, 0.05),
    along=(2.0, 0.0, 0.0),
    across=(0.0, 0.0, 2.0),
    spacing=0.5,
    diameter=0.01,
    conductivity=7e6,
)


@pytest.mark.parametrize(
    ("design", "key", "sentence"),
    [
        (on(height=0.09), "site.height", r"site\.height: the ring's lowest point is 0\.09 m above the earth"),
        (
            on(height=0.05, earth=EARTHS["perfect earth"].earth),
            "site.height",
            r"but over an earth the method holds only from 0\.1 m up",
        ),
        (
            on(RAIL, LOW),
            "site.metal[2]",
            r"site\.metal\[2\]: the gutter comes down to 0\.09 m above the earth",
        ),
        (on(MESH), "site.metal[1]", r"site\.metal\[1\]: the mesh comes down to 0\.05 m"),
        (
            on(wire((-30.0, 1.0, 1.0), (20.0, 1.0, 1.0))),
            "site.metal",
            r"conductors lie 50 m apart, .* 40 m",
        ),
        (
            on(wire((-1.0, 0.0, 1.52), (1.0, 0.0, 1.52))),
            "site.metal",
            r"touches the ring or its coupling",
        ),
        # Through the coupling loop's conductor, 0.2 m from the ring's.
        (
            on(wire((-1.0, 0.0, 1.69), (1.0, 0.0, 1.69))),
            "site.metal",
            r"touches the ring or its coupling",
        ),
    ],
)
def test_one_sentence_with_its_key(design, key, sentence):
    with pytest.raises(DesignError, match=sentence) as caught:
        build_wires(design)
    assert caught.value.key == key
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("height", [0.1, 0.100001])
def test_a_tenth_of_a_metre_is_enough(height):
    low = wire((-2.0, 1.2, 0.1), (2.0, 1.2, 0.1))
    assert predict(on(low, height=height)).bands[0].watts_pct.sum == pytest.approx(100.0, rel=1e-3, abs=0)


def test_in_free_space_no_height_is_too_low_and_nothing_too_far():
    design = on(wire((-30.0, 1.2, 0.02), (30.0, 1.2, 0.02)), height=0.01, earth=None)
    assert predict(design).bands[0].watts_pct.sum == pytest.approx(100.0, rel=1e-3, abs=0)


@pytest.mark.parametrize(
    "metal",
    [
        # Through the ring's opening, across its plane; one end within it.
        (wire((0.1, -2.0, 2.2), (0.1, 2.0, 2.2)),),
        (wire((-0.1, 0.0, 2.1), (-0.1, 3.0, 2.5)),),
        # The shortest that a file may hold, alone and joined to a long one.
        (wire((0.0, 1.0, 1.0), (0.01, 1.0, 1.0), diameter=0.002),),
        (
            wire((0.0, 1.0, 1.0), (0.01, 1.0, 1.0), diameter=0.002),
            wire((0.01, 1.0, 1.0), (3.0, 1.0, 1.0), diameter=0.01),
        ),
        # Ends 0.9 mm and 1.1 mm from another wire: joined, and apart.
        (RAIL, wire((0.0, 1.2, 0.8991), (0.0, 1.2, 0.2), diameter=0.001)),
        (
            wire((-2.0, 1.2, 0.9), (2.0, 1.2, 0.9), diameter=0.001),
            wire((0.0, 1.2, 0.8989), (0.0, 1.2, 0.2), diameter=0.001),
        ),
        # Two in one line, end to end, and one on top of part of another.
        (wire((-2.0, 1.2, 0.9), (0.0, 1.2, 0.9)), wire((0.0, 1.2, 0.9), (2.0, 1.2, 0.9))),
        # A cross, not joined.
        (RAIL, wire((0.0, 1.2, 0.4), (0.0, 1.2, 1.4))),
    ],
)
def test_odd_but_possible_metal_keeps_the_balance(metal):
    found = predict(on(*metal)).bands[0]
    assert found.watts_pct.sum == pytest.approx(100.0, rel=1e-3, abs=0)
    assert np.isfinite(found.q_unloaded)


@pytest.mark.parametrize(
    ("second", "touches"),
    [
        (wire((0.0, 1.2, 0.88), (0.0, 1.2, 0.2)), True),  # reaches the rail's underside, not its axis
        (wire((0.0, 1.2, 0.9), (0.0, 1.2, 0.2)), False),  # joined
        (wire((0.0, 1.2, 0.4), (0.0, 1.2, 1.4)), True),  # crosses it
        (wire((0.0, 1.25, 0.4), (0.0, 1.25, 1.4)), False),  # passes 50 mm beside
        (wire((-3.0, 1.23, 0.9), (3.0, 1.23, 0.9)), True),  # lies along it, 30 mm beside
        (wire((2.03, 1.2, 0.9), (4.0, 1.2, 0.9)), True),  # goes on in line after 30 mm
        (wire((2.05, 1.2, 0.9), (4.0, 1.2, 0.9)), False),
    ],
)
def test_bodies_that_touch_unjoined_are_found(second, touches):
    assert bool(list(unjoined_contacts((RAIL, second)))) == touches
    codes = [notice.code for notice in predict(on(RAIL, second)).warnings]
    assert ("metal-not-joined" in codes) == touches
