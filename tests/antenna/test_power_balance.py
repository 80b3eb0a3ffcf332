# SPDX-License-Identifier: BSD-3-Clause
"""Conservation of energy: sky, earth and every conductor, each found on its own way, are the accepted power.

Sky is the integral of the Fresnel far field, earth the spectral flux through z = 0, which uses no table; heat is
counted on the conductors. None of it is taken from the input. 0.1 % is promised, 0.03 % reached everywhere here.
"""

import numpy as np
import pytest

from ringwright.antenna.budget import Watts
from ringwright.antenna.design import Design, Earth, Feedline, SiteMesh, SiteWire
from ringwright.antenna.design_file import load_design
from ringwright.antenna.earths import EARTHS
from ringwright.antenna.far_side import far_side
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.predict import operating_points
from ringwright.antenna.scenario import FIRST_RING, RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_design
from ringwright.antenna.solution import SolutionMemory
from tests.antenna.builds import AVERAGE, at, built

REACHED = 3e-4
ANY = {"minimum": 1e-12, "maximum": 1e-8}
BANDS = (at(1.8e6), at(7.1e6), at(14.2e6), at(28.5e6))
SMALL = {"perimeter": 1.6}


def worst(design: Design) -> float:
    """Largest distance of the sum from the accepted power, over it."""
    wires = build_wires(design)
    sums = [
        Watts.of(point, far_side(point, earth=design.site.earth)).total
        for point in operating_points(design, wires, SolutionMemory())
    ]
    return float(np.max(np.abs(np.array(sums) / design.power - 1.0)))


def earth(name: str) -> Earth:
    return EARTHS[name].earth


def wire(start, end, *, diameter=0.04, conductivity=7e6, mu_r=100.0):
    return SiteWire(
        kind="railing", start=start, end=end, diameter=diameter, conductivity=conductivity, mu_r=mu_r
    )


def on(*metal, height=1.5, ground=AVERAGE, targets=BANDS, ring=None, feedline=None):
    return built(
        *targets,
        ring=ring,
        capacitor=ANY,
        site={"earth": ground, "height": height, "metal": metal},
        feedline=feedline or Feedline(),
    )


@pytest.mark.parametrize("name", [FIRST_RING, TERRACE_OCTAGON, RUCKSACK_BRAID])
def test_shipped_designs(name):
    assert worst(shipped_design(name)) < REACHED


def test_design_of_the_contract(pytestconfig):
    assert worst(load_design(pytestconfig.rootpath / "tests/antenna/contract_example.toml")) < REACHED


@pytest.mark.parametrize("height", [0.1, 0.2, 0.3, 1.0, 3.0, 10.0])
@pytest.mark.parametrize("name", [name for name in EARTHS if name not in ("good", "poor")])
def test_standing_ring(name, height):
    assert worst(on(height=height, ground=earth(name))) < REACHED


@pytest.mark.parametrize("tilt_deg", [30.0, 90.0])
@pytest.mark.parametrize("height", [0.1, 0.3, 1.0])
@pytest.mark.parametrize("name", ["sea water", "average", "very dry ground"])
def test_leaning_and_lying_ring(name, height, tilt_deg):
    assert worst(on(height=height, ground=earth(name), ring={"tilt": np.radians(tilt_deg)})) < REACHED


@pytest.mark.parametrize("height", [0.1, 1.5])
@pytest.mark.parametrize("name", ["sea water", "fresh water", "average", "very dry ground"])
def test_small_ring_at_the_top_of_the_range(name, height):
    targets = (at(28e6), at(50e6), at(54e6))
    assert worst(on(height=height, ground=earth(name), targets=targets, ring=SMALL)) < REACHED


@pytest.mark.parametrize("reach", [2.0, 5.0, 10.0])
@pytest.mark.parametrize("level", [0.1, 0.9])
def test_railing(level, reach):
    assert worst(on(wire((-reach, 1.2, level), (reach, 1.2, level)))) < REACHED


def test_railing_and_a_low_ring_over_sea():
    assert (
        worst(on(wire((-2.0, 1.2, 0.9), (2.0, 1.2, 0.9)), height=0.15, ground=earth("sea water"))) < REACHED
    )


def test_ten_metres_of_railing_on_54_mhz():
    rail = wire((-5.0, 1.2, 0.9), (5.0, 1.2, 0.9))
    assert worst(on(rail, targets=(at(50e6), at(54e6)), ring=SMALL)) < REACHED


def frame(y: float, *, low: float, high: float, **material):
    corners = [(-1.0, y, low), (1.0, y, low), (1.0, y, high), (-1.0, y, high)]
    return [wire(a, b, **material) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]


@pytest.mark.parametrize("material", [{}, {"conductivity": 25e6, "mu_r": 1.0}], ids=["steel", "aluminium"])
@pytest.mark.parametrize("y", [0.15, 0.5])
def test_closed_frame_beside_the_ring(y, material):
    assert worst(on(*frame(y, low=1.0, high=3.0, **material))) < REACHED


def test_mast_with_stays():
    top = (0.0, 0.3, 4.0)
    stays = [wire(top, (x, 3.0, 0.1), diameter=0.004) for x in (3.0, -3.0)]
    assert worst(on(wire((0.0, 0.3, 0.1), top), *stays, height=3.0)) < REACHED


def test_wire_at_its_half_wave_resonance_close_by():
    assert worst(on(wire((-5.1, 0.1, 1.5), (5.1, 0.1, 1.5), diameter=0.01), targets=(at(14.2e6),))) < REACHED


@pytest.mark.parametrize(
    ("corner", "across"),
    [((-1.5, -1.5, 0.5), (0.0, 3.0, 0.0)), ((-1.5, 1.0, 0.2), (0.0, 0.0, 2.5))],
    ids=["slab", "wall"],
)
def test_mesh(corner, across):
    mesh = SiteMesh(
        corner=corner,
        along=(3.0, 0.0, 0.0),
        across=across,
        spacing=0.5,
        diameter=0.01,
        conductivity=7e6,
        mu_r=100.0,
    )
    assert worst(on(mesh)) < REACHED


@pytest.mark.parametrize("choke", [None, 500.0, 5000.0])
@pytest.mark.parametrize("tilt_deg", [0.0, 90.0])
@pytest.mark.parametrize("name", ["sea water", "average"])
def test_outside_of_the_cable(name, tilt_deg, choke):
    design = on(
        ground=earth(name),
        ring={"tilt": np.radians(tilt_deg)},
        feedline=Feedline(runs_down=True, choke=choke),
    )
    assert worst(design) < REACHED


def test_coil_of_two_turns():
    assert worst(on(ring={"turns": 2, "turn_spacing": 0.06, "perimeter": 2.0}, targets=BANDS[:3])) < REACHED
