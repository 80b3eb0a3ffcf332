# SPDX-License-Identifier: BSD-3-Clause
"""The outside of the feedline's screen: where it runs, what a choke does, and what is refused."""

import numpy as np
import pytest

from ringwright.antenna.coax_outside import ABOVE_EARTH, STAND_OFF
from ringwright.antenna.design import Design, Feedline, SiteWire
from ringwright.antenna.geometry import Address, alone, build_wires
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.predict import operating_points, predict
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import DesignError
from tests.antenna.builds import AVERAGE, at, built


def hung(*targets, choke=None, height=1.5, tilt_deg=0.0, metal=()) -> Design:
    return built(
        *(targets or (at(14.2e6),)),
        ring={"tilt": np.radians(tilt_deg)},
        feedline=Feedline(runs_down=True, choke=choke),
        site={"earth": AVERAGE, "height": height, "metal": metal},
    )


def operated(design: Design) -> OperatingPoint:
    return operating_points(design, build_wires(design), SolutionMemory())[0]


def on_cable(point: OperatingPoint) -> np.ndarray:
    """Magnitudes of the current along the cable, from the feed down."""
    graph = point.wires.graph
    return np.asarray(abs(point.current[graph.address == Address.FEEDLINE]))


def test_no_cable_unless_asked_for():
    graph = build_wires(built(site={"earth": AVERAGE})).graph
    assert not np.any(graph.address == Address.FEEDLINE)


def test_it_leaves_along_the_axis_and_hangs_to_just_above_the_earth():
    wires = build_wires(hung())
    graph = wires.graph
    own = graph.segments[graph.address == Address.FEEDLINE]
    path = graph.nodes[np.append(own[:, 0], own[-1, 1])]
    feed = graph.nodes[wires.feed]
    assert own[0, 0] == wires.feed
    assert path[:, 0] == pytest.approx(np.full(len(path), feed[0]), abs=1e-12)
    corner = path[np.argmax(path[:, 1] - feed[1] > STAND_OFF - 1e-9)]
    assert corner == pytest.approx(feed + np.array([0.0, STAND_OFF, 0.0]), rel=1e-12, abs=1e-12)
    assert path[-1] == pytest.approx([feed[0], feed[1] + STAND_OFF, ABOVE_EARTH], rel=1e-9, abs=1e-12)
    assert wires.choke is not None
    # By definition a tenth of a metre from the coupling loop, on the level part.
    assert graph.nodes[wires.choke[0]] == pytest.approx(feed + np.array([0.0, 0.1, 0.0]), rel=1e-9, abs=1e-12)


def test_from_a_lying_ring_it_goes_straight_down():
    wires = build_wires(hung(tilt_deg=90.0))
    graph = wires.graph
    own = graph.segments[graph.address == Address.FEEDLINE]
    below = graph.nodes[own[:, 1]]
    assert below[:, :2] == pytest.approx(np.tile(graph.nodes[wires.feed][:2], (len(below), 1)), abs=1e-12)
    assert below[-1, 2] == pytest.approx(ABOVE_EARTH, rel=1e-9, abs=0)


def test_current_falls_to_nothing_at_the_free_end():
    current = on_cable(operated(hung()))
    assert current[-1, 1] < 1e-12 * current.max()


def test_an_endless_choke_is_as_good_as_no_cable():
    # What is left is the 0.1 m of wire before the choke.
    with_choke = predict(hung(choke=1e9)).bands[0]
    without = predict(built(at(14.2e6), site={"earth": AVERAGE, "height": 1.5})).bands[0]
    assert with_choke.watts_pct.sky == pytest.approx(without.watts_pct.sky, rel=1e-3, abs=0)
    assert with_choke.q_unloaded == pytest.approx(without.q_unloaded, rel=1e-3, abs=0)


@pytest.mark.parametrize("frequency", [7.1e6, 14.2e6, 28.5e6])
def test_a_choke_keeps_current_off_the_cable(frequency):
    through = [on_cable(operated(hung(at(frequency), choke=ohms)))[1, 0] for ohms in (0.0, 2e3, 1e5, 1e6)]
    assert through == sorted(through, reverse=True)
    # Once it is far above the kilohms of a metre of cable, ten times the choke leaves a tenth of the current.
    assert through[2] / through[3] == pytest.approx(10.0, rel=0.02, abs=0)


def test_the_choke_s_heat_is_ohms_times_current_squared():
    point = operated(hung(choke=2000.0))
    assert point.wires.choke is not None
    node, ohms = point.wires.choke
    through = abs(point.current[point.wires.graph.segments[:, 0] == node, 0])[0]
    # All but the screen's own resistance, 6 mm of copper: 0.1 ohm over the cable.
    assert point.heat()["metal"] == pytest.approx(ohms * through**2, rel=1e-3, abs=0)


def test_too_low_for_a_cable_is_said():
    with pytest.raises(DesignError, match=r"feedline\.outside: the feed is .* m above the earth") as caught:
        build_wires(hung(height=0.1, tilt_deg=90.0))
    assert caught.value.key == "feedline.outside"


def test_a_cable_through_a_railing_is_said():
    rail = SiteWire(
        kind="railing",
        start=(-2.0, STAND_OFF, 0.5),
        end=(2.0, STAND_OFF, 0.5),
        diameter=0.04,
        conductivity=7e6,
    )
    with pytest.raises(
        DesignError, match=r"feedline\.outside: straight down, the cable runs into the railing"
    ):
        build_wires(hung(metal=(rail,)))


def test_the_bare_ring_has_none():
    assert not alone(hung()).feedline.runs_down
