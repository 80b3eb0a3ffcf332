# SPDX-License-Identifier: BSD-3-Clause
"""What metal and earth do to a ring, against transformer theory, skin resistance and plain reasoning."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.design import SiteMesh, SiteWire
from ringwright.antenna.earths import EARTHS
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import BandPrediction
from ringwright.antenna.solution import SolutionMemory
from tests.antenna.builds import AVERAGE, at, built

ANY = {"minimum": 1e-12, "maximum": 1e-8}
HEIGHT = 1.5
CENTRE = HEIGHT + 3.0 / (2.0 * np.pi)
STEEL = {"conductivity": 7e6, "mu_r": 100.0}
ALUMINIUM = {"conductivity": 25e6, "mu_r": 1.0}
RADIUS = 0.02
ACROSS, UP = 2.0, 1.6  # of the frame [m]
BESIDE = 0.5


def wire(start, end, *, diameter=2.0 * RADIUS, conductivity=7e6, mu_r=100.0) -> SiteWire:
    return SiteWire(
        kind="railing", start=start, end=end, diameter=diameter, conductivity=conductivity, mu_r=mu_r
    )


def frame(*, opened: float = 0.0, **material) -> tuple[SiteWire, ...]:
    """A rectangle beside the ring, its axis through the middle; `opened` is the width of a cut in a corner."""
    x, low, high = ACROSS / 2.0, CENTRE - UP / 2.0, CENTRE + UP / 2.0
    corners = [(-x, BESIDE, low), (x, BESIDE, low), (x, BESIDE, high), (-x, BESIDE, high)]
    last = (-x, BESIDE, low + opened)
    ends = zip(corners, [*corners[1:], last], strict=True)
    return tuple(wire(a, b, **material) for a, b in ends)


def band_of(*metal, frequency=1.8e6, earth=None) -> BandPrediction:
    site = {"earth": earth, "height": HEIGHT, "metal": metal}
    return predict(built(at(frequency), capacitor=ANY, site=site)).bands[0]


def corners_of_frame(parts: int = 2000) -> np.ndarray:
    ends = np.array([piece.start for piece in frame()])
    steps = np.arange(parts)[:, None] / parts
    return np.concatenate([a + (b - a) * steps for a, b in zip(ends, np.roll(ends, -1, axis=0), strict=True)])


def mutual() -> float:
    """Neumann's integral between the ring and the frame [H]."""
    angle = 2.0 * np.pi * np.arange(720) / 720
    ring = 3.0 / (2.0 * np.pi) * np.stack([np.sin(angle), 0.0 * angle, np.cos(angle)], axis=1) + [
        0.0,
        0.0,
        CENTRE,
    ]
    other = corners_of_frame()
    steps = [np.roll(path, -1, axis=0) - path for path in (ring, other)]
    middles = [path + step / 2.0 for path, step in zip((ring, other), steps, strict=True)]
    total = 0.0
    for place, step in zip(middles[0], steps[0], strict=True):
        total += float(np.sum(steps[1] @ step / np.linalg.norm(middles[1] - place, axis=1)))
    return 1e-7 * total


def frame_inductance() -> float:
    """Rosa and Grover, Bull. NBS 8, 1912, for a rectangle of round wire at high frequency (from memory) [H]."""
    b, h, a = ACROSS, UP, RADIUS
    g = np.hypot(b, h)
    logs = b * np.log(2.0 * b / a) + h * np.log(2.0 * h / a)
    return float(4e-7 * (logs + 2.0 * g - b * np.arcsinh(b / h) - h * np.arcsinh(h / b) - 2.0 * (b + h)))


def ring_inductance() -> float:
    """mu0 R (ln(8 R/a) - 2), skin-effect limit [H]."""
    radius = 3.0 / (2.0 * np.pi)
    return float(4e-7 * np.pi * radius * (np.log(8.0 * radius / 0.011) - 2.0))


def test_a_closed_frame_is_a_shorted_turn():
    # Transformer theory: L falls by M^2/L_frame, the tuning capacitance rises as it falls.
    alone, beside = band_of(), band_of(*frame())
    expected = 1.0 / (1.0 - mutual() ** 2 / (frame_inductance() * ring_inductance()))
    change = beside.tuning.capacitance / alone.tuning.capacitance - 1.0
    # Corners of the frame: Grover's formula leaves their charge and end terms open, 1 % of L_frame; a wavelength of 23
    # frame perimeters adds (1/23 pi)^2 of it.
    assert change == pytest.approx(expected - 1.0, rel=0.02, abs=0)


@pytest.mark.parametrize("material", [STEEL, ALUMINIUM], ids=["steel", "aluminium"])
def test_a_closed_frame_s_watts_are_its_skin_resistance(material):
    # The frame carries M/L_frame of the ring's current; rho/(2 pi a delta) a metre.
    beside = band_of(*frame(**material))
    sigma, mu = material["conductivity"], 4e-7 * np.pi * material["mu_r"]
    delta = 1.0 / np.sqrt(np.pi * 1.8e6 * mu * sigma)
    ohms = 2.0 * (ACROSS + UP) / (2.0 * np.pi * RADIUS * delta * sigma)
    assert beside.resistance.metal is not None
    at_gap = ohms * (mutual() / frame_inductance()) ** 2
    # As above, twice; the ring's current varies by 0.2 % round it, steel's inner inductance is 1 % of the frame's.
    assert beside.resistance.metal == pytest.approx(at_gap, rel=0.04, abs=0)


def test_bonding_a_frame_closed_is_what_counts():
    closed, opened, alone = band_of(*frame()), band_of(*frame(opened=5e-3)), band_of()
    assert opened.q_unloaded == pytest.approx(alone.q_unloaded, rel=5e-3, abs=0)
    assert closed.q_unloaded < 0.97 * alone.q_unloaded
    assert opened.watts_pct.metal is not None
    assert closed.watts_pct.metal is not None
    assert opened.watts_pct.metal < 1e-2 * closed.watts_pct.metal


def test_steel_takes_more_than_aluminium():
    steel, aluminium = (band_of(*frame(**material)) for material in (STEEL, ALUMINIUM))
    assert steel.resistance.metal is not None
    assert aluminium.resistance.metal is not None
    # Skin resistance goes as the root of permeability over conductivity; steel's inner reactance takes a little back.
    expected = np.sqrt(STEEL["mu_r"] / STEEL["conductivity"]) / np.sqrt(
        ALUMINIUM["mu_r"] / ALUMINIUM["conductivity"]
    )
    assert steel.resistance.metal / aluminium.resistance.metal == pytest.approx(expected, rel=0.03, abs=0)


def test_metal_gone_is_the_bare_ring():
    site = {"earth": AVERAGE, "height": HEIGHT, "metal": frame()}
    gone = predict(built(at(7.1e6), capacitor=ANY, site=site).without_metal()).bands[0]
    bare = band_of(frequency=7.1e6, earth=AVERAGE)
    assert (gone.watts_pct, gone.tuning, gone.q_unloaded) == (bare.watts_pct, bare.tuning, bare.q_unloaded)
    assert gone.watts_pct.metal is None


def test_metal_far_away_does_not_count():
    # A tenth of a wave of wire thirty times its length away.
    far = band_of(wire((30.0, 0.0, 1.0), (31.0, 0.0, 1.0)), frequency=7.1e6)
    bare = band_of(frequency=7.1e6)
    assert far.q_unloaded == pytest.approx(bare.q_unloaded, rel=1e-5, abs=0)
    assert far.tuning.capacitance == pytest.approx(bare.tuning.capacitance, rel=1e-6, abs=0)


def test_a_mesh_under_a_lying_ring_screens_the_earth():
    """Eddy currents in reinforcement: less loss in the earth, and less inductance."""
    mesh = SiteMesh(
        corner=(-1.5, -1.5, 1.1),
        along=(3.0, 0.0, 0.0),
        across=(0.0, 3.0, 0.0),
        spacing=0.5,
        diameter=0.01,
        conductivity=25e6,
    )
    earth_ohms, farads = [], []
    for metal in ((), (mesh,)):
        site = {"earth": AVERAGE, "height": HEIGHT, "metal": metal}
        found = predict(built(at(3.65e6), ring={"tilt": np.pi / 2.0}, capacitor=ANY, site=site)).bands[0]
        earth_ohms.append(found.resistance.earth or 0.0)
        farads.append(found.tuning.capacitance)
    assert 0.0 < earth_ohms[1] < 0.6 * earth_ohms[0]
    assert farads[1] > farads[0]


def test_the_ring_turned_with_its_site_is_the_same_ring():
    turn = np.radians(40.0)
    c, s = np.cos(turn), np.sin(turn)

    def turned(place):
        return (c * place[0] - s * place[1], s * place[0] + c * place[1], place[2])

    rail = wire((-2.0, 1.2, 0.9), (1.0, 1.2, 0.9))
    site = {"earth": AVERAGE, "height": HEIGHT, "metal": (rail,)}
    there = replace(rail, start=turned(rail.start), end=turned(rail.end))
    straight = predict(built(at(14.2e6), site=site)).bands[0]
    also = predict(built(at(14.2e6), site=site | {"metal": (there,), "turn": turn})).bands[0]
    assert also.watts_pct.sky == pytest.approx(straight.watts_pct.sky, rel=1e-6, abs=0)
    assert also.watts_pct.metal == pytest.approx(straight.watts_pct.metal, rel=1e-6, abs=0)
    assert also.q_unloaded == pytest.approx(straight.q_unloaded, rel=1e-6, abs=0)
    assert also.pattern.gain_max_dbi == pytest.approx(straight.pattern.gain_max_dbi, rel=1e-5, abs=0)


@pytest.mark.parametrize("frequency", [3.65e6, 7.1e6])
def test_raising_a_ring_lets_it_go_of_the_earth(frequency):
    """Earth resistance falls with height while the ring is low against the wave."""
    ohms = []
    for height in (0.3, 1.0, 2.0, 4.0):
        site = {"earth": AVERAGE, "height": height}
        found = predict(built(at(frequency), capacitor=ANY, site=site)).bands[0]
        ohms.append(found.resistance.earth or 0.0)
    assert ohms == sorted(ohms, reverse=True)


def test_a_mirror_takes_nothing_and_a_standing_ring_over_it_gains():
    # A small standing loop and its image double the field: four times the power over half the sphere (image theory).
    mirrored = band_of(earth=EARTHS["perfect earth"].earth)
    alone = band_of()
    assert mirrored.watts_pct.earth == 0.0
    # k h = 0.07 of the centre: Re S = 1 - (2 k h)^2/5.
    assert mirrored.resistance.radiation / alone.resistance.radiation == pytest.approx(2.0, rel=0.01, abs=0)


def test_a_ring_moved_or_on_other_soil_remembers_nothing_of_where_it_was():
    memory = SolutionMemory()
    wet = EARTHS["wet ground"].earth
    for earth, height in ((AVERAGE, 0.5), (AVERAGE, 2.0), (wet, 2.0), (AVERAGE, 0.5)):
        design = built(at(7.1e6), capacitor=ANY, site={"earth": earth, "height": height})
        kept, fresh = predict(design, memory).bands[0], predict(design).bands[0]
        found, expected = (
            (band.watts_pct.sky, band.watts_pct.earth, band.q_unloaded, band.tuning.capacitance)
            for band in (kept, fresh)
        )
        # The ring stands elsewhere in space: rounding.
        assert found == pytest.approx(expected, rel=1e-9, abs=0)
