# SPDX-License-Identifier: BSD-3-Clause
"""The tapped coupling: where its arm runs, and its inductances against closed forms that share nothing with the solver.

At a frequency far below the ring's own resonance the two-port is three inductances: the arm's loop, the ring, and what
they share.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.constants import mu_0
from scipy.special import ellipe, ellipk

from ringwright.antenna import geometry
from ringwright.antenna.design import CouplingKind, Feedline, RingShape, SiteWire
from ringwright.antenna.geometry import Address, build_wires
from ringwright.antenna.network import FEED, GAP, RingNetwork
from ringwright.antenna.solution import SolutionMemory
from ringwright.antenna.tuning import TunedRing
from ringwright.errors import DesignError
from tests.antenna.builds import COPPER, built

LOW = 3e5
TUBE, ARM = 0.011, 0.003  # radii
SQUARE = {"shape": RingShape.SQUARE}
OCTAGON = {"shape": RingShape.OCTAGON}
TAPPED = {"kind": CouplingKind.TAPPED, "diameter": None, "tap_at": 0.3, "clearance": 0.03}


def tapped(*targets, ring=None, **changes):
    coupling = {key: changes.pop(key) for key in tuple(changes) if key in ("tap_at", "clearance")}
    return built(*targets, ring=ring, coupling=TAPPED | coupling, **changes)


def network_of(design, frequency):
    wires = build_wires(design)
    return RingNetwork.of(design, wires, SolutionMemory().solution(wires, np.atleast_1d(frequency)))


def henries(design, frequency=LOW):
    """Of the arm's loop, between it and the ring, of the ring."""
    z = network_of(design, frequency).total_at_nodes[0] / (2j * np.pi * frequency)
    return z[FEED, FEED].real, abs(z[FEED, GAP].real), z[GAP, GAP].real


def arm_of(wires):
    """Segments of the arm, and its nodes in order with those on the ring."""
    segments = wires.graph.segments[wires.graph.address == Address.COUPLING]
    return segments, wires.graph.nodes[np.append(segments[:, 0], segments[-1, 1])]


# Where it runs


@pytest.mark.parametrize("ring", [None, OCTAGON, SQUARE, {"shape": RingShape.OVAL, "aspect": 1.4}])
@pytest.mark.parametrize("gap_deg", [0.0, 180.0, 77.0])
def test_arm_leaves_the_ring_half_way_round_and_joins_it_where_stated(ring, gap_deg):
    wires = build_wires(tapped(ring=(ring or {}) | {"gap_angle": np.radians(gap_deg)}))
    ends = arm_of(wires)[0][[0, -1], [0, 1]]
    on_ring = wires.graph.address == Address.RING
    travelled = np.insert(np.cumsum((wires.graph.lengths * wires.graph.length_factor)[on_ring]), 0, 0.0)
    # Nodes are not cut closer than 0.5 mm to one another.
    assert travelled[ends] == pytest.approx([1.5, 1.8], rel=0, abs=6e-4)
    assert wires.feed == arm_of(wires)[0][0, 1]


@pytest.mark.parametrize(
    ("ring", "clearance"), [({}, 0.03), (OCTAGON, 0.03), (SQUARE, 0.06), (OCTAGON, 0.008)]
)
def test_arm_keeps_its_clearance_on_the_inside(ring, clearance):
    wires = build_wires(tapped(ring=ring, tap_at=0.5, clearance=clearance))
    _, nodes = arm_of(wires)
    arm = nodes[1:-1]
    on_ring = wires.graph.points(np.linspace(0.0, 1.0, 40))[wires.graph.address == Address.RING].reshape(
        -1, 3
    )
    nearest = np.linalg.norm(arm[:, None] - on_ring, axis=2).min(axis=1)
    assert nearest == pytest.approx(
        np.full(len(arm), clearance + TUBE + ARM), rel=0.01, abs=0
    )  # 40 places a segment
    assert np.all(np.linalg.norm(arm - wires.centre, axis=1) < 3.0 / (2.0 * np.pi))


def test_arm_runs_on_as_the_angle_of_the_gap_counts():
    """From the top towards x, and so on round: from the bottom of a ring with its gap on top towards -x."""
    _, nodes = arm_of(build_wires(tapped()))
    assert nodes[0, 0] == pytest.approx(0.0, abs=1e-9)
    assert np.all(np.diff(nodes[2:-1, 0]) < 0.0)


def test_the_ring_stays_the_same_but_for_a_cut():
    plain, with_arm = build_wires(built()), build_wires(tapped())
    assert with_arm.ring_length == pytest.approx(plain.ring_length, rel=1e-12, abs=0)
    on_ring = with_arm.graph.address == Address.RING
    assert np.count_nonzero(on_ring) == 49


@pytest.mark.parametrize("turns", [2, 3])
def test_arm_of_several_turns_lies_beside_the_middle_one(turns):
    wires = build_wires(tapped(ring={"turns": turns, "turn_spacing": 0.08, "perimeter": 2.0}))
    segments, nodes = arm_of(wires)
    abreast = wires.graph.nodes[segments[:, 0]][0]
    assert wires.beside is not None
    assert wires.graph.turn[wires.beside.ring[0]] == pytest.approx((turns - 1) // 2 + 0.5, abs=0.03)
    axial = (nodes - wires.centre) @ wires.axis
    assert axial[1] == pytest.approx(float((abreast - wires.centre) @ wires.axis), rel=1e-9, abs=1e-12)


def test_the_cable_hangs_where_its_screen_is_bonded():
    hung = build_wires(tapped(site={"height": 2.0}, feedline=Feedline(runs_down=True)))
    bond = arm_of(hung)[0][0, 0]
    first = hung.graph.segments[hung.graph.address == Address.FEEDLINE][0]
    assert first[0] == bond
    assert hung.metal_wire(int(hung.graph.wire[-1])).kind == "coax outside"


def test_metal_keeps_its_numbers():
    rail = SiteWire(kind="railing", start=(-1, 1, 1), end=(1, 1, 1), diameter=0.02, conductivity=6e6)
    wires = build_wires(tapped(site={"metal": (rail,)}))
    assert wires.metal_wire(int(wires.graph.wire[-1])) is rail
    assert wires.own == 2


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"tap_at": 0.02}, "tap_at"),
        ({"tap_at": 1.3}, "tap_at"),
        ({"tap_at": 0.7, "clearance": 0.5}, "clearance"),
    ],
)
def test_arm_that_does_not_fit_is_refused(change, key):
    with pytest.raises(DesignError, match=rf"coupling\.{key}"):
        build_wires(tapped(**change))


# What it is worth


def filament(x, d):
    return x * np.arcsinh(x / d) - np.hypot(x, d)


def partial(first, second, d):
    """Mutual inductance of two parallel straight filaments along one axis, d apart: Rosa, NBS Bull. 4, 1908, p. 301.

    With d the wire's radius it is the self-inductance of a wire whose current is on its surface.
    """
    (a0, a1), (b0, b1) = first, second
    ends = filament(a1 - b0, d) - filament(a1 - b1, d) - filament(a0 - b0, d) + filament(a0 - b1, d)
    return mu_0 / (4.0 * np.pi) * ends


def inside(length, radius):
    """Inductance inside a wire by its skin, R_s/(2 pi a omega): Pozar 2012, sec. 1.7."""
    depth = 1.0 / np.sqrt(np.pi * LOW * mu_0 * COPPER)
    return length * mu_0 * depth / (4.0 * np.pi * radius)


def square_by_hand(tap, distance, side=0.75):
    """Inductance of the arm's loop and between it and the ring, by parts; perpendicular pieces share none.

    What each conductor's metal keeps out of the other's field: images, Smythe 1968, sec. 4.05 (from memory).
    """
    along, across = (0.0, tap), (0.0, distance)
    images = mu_0 / (2.0 * np.pi) * tap * sum(np.log1p(-((r / distance) ** 2)) for r in (TUBE, ARM))
    loop = partial(along, along, TUBE) + partial(along, along, ARM) - 2.0 * partial(along, along, distance)
    loop += 2.0 * (partial(across, across, ARM) - partial(across, across, tap)) + images
    loop += inside(tap, TUBE) + inside(tap + 2.0 * distance, ARM)
    bottom, half = (-side / 2.0, side / 2.0), side / 2.0
    shared = partial(bottom, along, TUBE) - partial(bottom, along, distance) + inside(tap, TUBE)
    shared += partial(bottom, along, side - distance) - partial(bottom, along, side)
    upright = (0.0, side)
    shared += partial(upright, across, half - tap) - partial(upright, across, half + tap)
    return loop, shared


@pytest.mark.parametrize("tap_at", [0.1, 0.2, 0.3])
@pytest.mark.parametrize("clearance", [0.02, 0.03])
def test_inductances_on_a_straight_side_are_those_of_its_pieces(tap_at, clearance):
    loop, shared, _ = henries(tapped(ring=SQUARE, tap_at=tap_at, clearance=clearance))
    by_hand = square_by_hand(tap_at, clearance + TUBE + ARM)
    # Both let the cross pieces begin on the ring's axis; neither knows how the current turns at the two joints, within
    # the 22 mm the tube is thick.
    assert loop == pytest.approx(by_hand[0], rel=0.012, abs=0)
    assert shared == pytest.approx(by_hand[1], rel=0.008, abs=0)


@pytest.mark.parametrize("tap_at", [0.1, 0.3, 0.9])
def test_what_ring_and_arm_share_on_a_circle(tap_at):
    """The flux between the ring's surface and the arm: its share of the ring's inductance less what passes inside.

    L = 2310.022 nH of 3 m of 22 mm tube in the skin-effect limit (Rosa and Grover 1912), and the vector potential of a
    circular filament in elliptic integrals (DLMF 19.34) at the arm's radius.
    """
    _, shared, _ = henries(tapped(tap_at=tap_at))
    radius = 3.0 / (2.0 * np.pi)
    rho = radius - (0.03 + TUBE + ARM)
    squared = 4.0 * radius * rho / (radius + rho) ** 2
    kappa = np.sqrt(squared)
    potential = mu_0 / (np.pi * kappa) * np.sqrt(radius / rho)
    potential *= (1.0 - squared / 2.0) * ellipk(squared) - ellipe(squared)
    angle = tap_at / radius
    expected = angle * (2310.022e-9 / (2.0 * np.pi) - rho * potential) + inside(tap_at, TUBE)
    # Both joints and the polygon: 0.3 % of the shortest arm. The arm's field in the tube is second order here.
    assert shared == pytest.approx(expected, rel=6e-3, abs=0)


def test_best_match_is_that_of_the_coupled_circuits():
    """Zin = j omega Lf + (omega M)^2/(R + jX), its own minimum over X: the lowest SWR of the solved tapped ring."""
    f, r0 = 3.6e6, 50.0  # a third of a per cent from the lumped limit
    w = 2.0 * np.pi * f
    for tap_at in (0.12, 0.2, 0.3):
        design = tapped(ring=SQUARE, tap_at=tap_at)
        tuned = TunedRing.at(network_of(design, f), design.capacitor, frequency=f, reference=r0)
        loop, shared = square_by_hand(tap_at, 0.044)
        reactance = np.linspace(-3.0, 3.0, 20001)  # [ohm]
        z = 1j * w * loop + (w * shared) ** 2 / (tuned.ring_resistance(f) + 1j * reactance)
        size = abs((z - r0) / (z + r0)).min()
        # (omega M)^2 carries twice the per cent by which M may differ.
        assert float(tuned.swr(np.array([f]))[0]) == pytest.approx((1 + size) / (1 - size), rel=0.02, abs=0)


@pytest.mark.parametrize(("tap_at", "ring"), [(0.1, None), (0.3, None), (0.8, None), (0.3, SQUARE)])
def test_finer_segments_change_little(tap_at, ring, monkeypatch):
    coarse = henries(tapped(ring=ring, tap_at=tap_at), 7.1e6)
    outline = geometry.ring_outline
    found = []
    for count in (96, 192):
        monkeypatch.setattr(geometry, "ring_outline", lambda ring, count=count: outline(ring, count=count))
        found.append(henries(tapped(ring=ring, tap_at=tap_at), 7.1e6))
    for value, finer, finest in zip(coarse[:2], found[0][:2], found[1][:2], strict=True):
        assert value == pytest.approx(finest, rel=4e-3, abs=0)
        assert finer == pytest.approx(finest, rel=2e-3, abs=0)


def test_a_tap_that_slides_past_a_node_changes_smoothly():
    """Nodes of the 3 m circle lie every 62.5 mm; the third from the neutral point at 187.5 mm."""
    places = 0.1875 + np.arange(-4, 5) * 1e-3
    shared = np.array([henries(tapped(tap_at=float(place)), 7.1e6)[1] for place in places])
    even = np.polyval(np.polyfit(places, shared, 1), places)
    assert np.all(np.diff(shared) > 0.0)
    assert abs(shared / even - 1.0).max() < 2e-3


# What it must keep


@settings(max_examples=25)
@given(st.floats(0.06, 1.1), st.floats(0.005, 0.1), st.sampled_from([1.9e6, 7.1e6, 21.2e6]))
def test_reciprocal_and_passive_at_every_tap(tap_at, clearance, frequency):
    distance = clearance + TUBE + ARM
    z = network_of(tapped(tap_at=max(tap_at, distance), clearance=clearance), frequency).total_at_nodes[0]
    assert z[FEED, GAP] == pytest.approx(z[GAP, FEED], rel=1e-9, abs=0)
    assert np.linalg.eigvalsh(z.real).min() > 0.0


def test_more_of_the_ring_couples_more():
    shared = [henries(tapped(tap_at=tap_at))[1] for tap_at in (0.1, 0.2, 0.4, 0.8)]
    assert np.all(np.diff(shared) > 0.0)
    wider = [henries(tapped(clearance=clearance))[1] for clearance in (0.01, 0.03, 0.1)]
    assert np.all(np.diff(wider) > 0.0)
