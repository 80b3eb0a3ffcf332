# SPDX-License-Identifier: BSD-3-Clause
"""Keep-out distances: the closed form on a ring's axis, the definitions, duty, people, and what must never happen."""

import json
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.optimize import brentq

from ringwright.antenna.design import Design, Person, PersonKind, SiteWire, Tolerance
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.ranges.ranged import GAP_CURRENT
from ringwright.antenna.site_fields import fields_at, site_field
from ringwright.physics.graph import chain
from ringwright.physics.near_field import near_field
from ringwright.safety.exposure import Yardstick
from ringwright.safety.keepout import BandKeepOut, LimitRow, keep_out
from ringwright.safety.keepout_document import keepout_document
from ringwright.safety.keepout_words import set_by_metal
from ringwright.safety.limits import LIMITS, Tier
from ringwright.safety.outermost import Space, last_along
from tests.antenna.builds import AVERAGE, at, band, built

PEOPLE = (
    Person(name="neighbour", at=(0.0, 3.0, 2.0)),
    Person(name="operator", at=(2.5, -1.0, 1.2), kind=PersonKind.INFORMED),
)
RAILING = SiteWire(
    kind="railing", start=(-2.0, 1.5, 0.9), end=(2.0, 1.5, 0.9), diameter=0.04, conductivity=5e6, mu_r=100.0
)


def on_air(design: Design) -> tuple[Design, Prediction, BandKeepOut]:
    prediction = predict(design)
    return design, prediction, keep_out(design, prediction)[0]


@cache
def over_earth() -> tuple[Design, Prediction, BandKeepOut]:
    return on_air(
        built(
            at(7.1e6),
            power=400.0,
            site={"height": 1.5, "earth": AVERAGE, "people": PEOPLE, "metal": (RAILING,)},
        )
    )


@cache
def in_free_space() -> tuple[Design, Prediction, BandKeepOut]:
    return on_air(built(at(14.2e6), power=100.0, site={"people": PEOPLE}))


def row_of(found: BandKeepOut, limit: str, tier: Tier = Tier.PUBLIC) -> LimitRow:
    return next(row for row in found.by_limit if row.limit.name == limit and row.limit.tier is tier)


@pytest.mark.parametrize(
    ("frequency", "current", "fields"),
    [(14.2e6, 28.496, (2.5134, 0.43803, 0.15620)), (7.1e6, 53.297, (4.5248, 0.73078, 0.23783))],
)
def test_filament_ring_of_3_m_with_even_current(frequency, current, fields):
    # I b^2 sqrt(1 + k^2 rho^2)/(2 rho^3) at 1, 2 and 3 m on the axis, computed apart from this program to 5 digits.
    z = np.array([1.0, 2.0, 3.0])
    _, magnetic = filament(current, frequency)(np.stack([0 * z, 0 * z, z], axis=1))
    assert np.linalg.norm(magnetic, axis=1) == pytest.approx(
        fields, rel=5e-5, abs=0
    )  # half of the last digit


@pytest.mark.parametrize(("level", "distance"), [(0.154225, 3.015), (0.344366, 2.196), (0.073, 4.104)])
def test_where_that_ring_meets_the_magnetic_levels(level, distance):
    # 47 CFR 1.1310 public and occupational, 1999/519/EC, at 14.2 MHz; distances by the closed form, to a millimetre.
    field_at = filament(28.496, 14.2e6)

    def ratio_at(points):
        return np.linalg.norm(field_at(points)[1], axis=1)[:, None] / level

    space = Space(
        ratio_at=ratio_at,
        centre=np.zeros(3),
        frame=np.eye(3),
        floor=None,
        places=polygon().nodes,
        strange=np.empty((0, 3)),
    )
    found = last_along(space, np.array([[0.0, 0.0, 1.0], [0.0, 0.0, -1.0]]), 10.0)
    assert found[:, 0] == pytest.approx([distance, distance], rel=3e-4, abs=0)


def polygon():
    angle = 2.0 * np.pi * np.arange(200) / 200
    radius = 3.0 / (2.0 * np.pi) * np.sqrt(2.0 * np.pi / 200 / np.sin(2.0 * np.pi / 200))
    nodes = radius * np.stack([np.cos(angle), np.sin(angle), 0.0 * angle], axis=1)
    return chain(nodes, radius=1e-3, closed=True)


def filament(current, frequency):
    return near_field(polygon(), np.full((200, 2), current, dtype=complex), frequency)


def test_far_field_formula_misses_half_of_that_distance():
    # The same ring's far-field distance with 98 W EIRP is 1.50 m by OET Bulletin 65 with the factor 2.56; a real ring's
    # current is stronger away from its gap, so that here it radiates more and its near field reaches no less.
    _, prediction, found = in_free_space()
    row = row_of(found, "fcc-1.1310")
    eirp = prediction.bands[0].limits.eirp
    assert eirp is not None
    assert row.far_field_formula is not None
    by_formula = np.sqrt(2.56 * eirp / (4.0 * np.pi * 10.0 * 180.0 / 14.2**2))
    assert row.far_field_formula == pytest.approx(
        by_formula, rel=3e-3, abs=0
    )  # 180/f^2 is 824/f times 2.19/f, rounded
    assert np.sqrt(98.0 / eirp) * by_formula == pytest.approx(1.50, rel=5e-3, abs=0)
    assert row.distance_axis > 1.8 * row.far_field_formula


@pytest.mark.parametrize("scene", [in_free_space, over_earth])
@pytest.mark.parametrize(
    ("name", "directions"),
    [
        ("distance_axis", [(0, 1, 0), (0, -1, 0)]),
        ("distance_plane", [(1, 0, 0), (-1, 0, 0)]),
        ("distance_above", [(0, 0, 1)]),
        ("distance_below", [(0, 0, -1)]),
    ],
)
def test_distances_are_where_the_field_meets_the_limit(scene, name, directions):
    # By their definition, with a root finder of scipy's on a dense ray: the last crossing on the worse side.
    design, prediction, found = scene()
    point = prediction.bands[0].point
    yardstick, field_at = Yardstick.of(design, point.target.frequency), site_field(design, point)
    centre = point.wires.centre
    worst = np.zeros(len(found.by_limit))
    for direction in np.array(directions, dtype=float):
        end = 15.0 if design.site.earth is None or direction[2] >= 0 else centre[2]

        def excess(distance, direction=direction):
            spots = centre + np.atleast_1d(distance)[:, None] * direction
            return np.log(yardstick.shares(field_at, spots).max(axis=2))

        ray = np.linspace(0.01, end, 600)
        for number, last in enumerate(600 - np.argmax(excess(ray)[::-1] > 0.0, axis=0) - 1):
            if excess(ray[last])[0, number] > 0.0:
                at_limit = end
                if last < 599:
                    at_limit = brentq(lambda d, n=number: excess(d)[0, n], ray[last], ray[last + 1])
                worst[number] = max(worst[number], at_limit)
    assert [getattr(row, name) for row in found.by_limit] == pytest.approx(worst, rel=1e-3, abs=0)


@pytest.mark.parametrize("scene", [in_free_space, over_earth])
def test_no_point_anywhere_farther_than_the_distance_exceeds(scene):
    design, prediction, found = scene()
    point = prediction.bands[0].point
    yardstick, field_at = Yardstick.of(design, point.target.frequency), site_field(design, point)
    rng = np.random.default_rng(50)
    direction = rng.normal(size=(1500, 3))
    direction /= np.linalg.norm(direction, axis=1, keepdims=True)
    for number, row in enumerate(found.by_limit):
        for beyond, most in ((1.002, 1.0), (row.distance_advised / row.distance_max, np.sqrt(0.5) * 1.005)):
            spot = point.wires.centre + row.distance_max * beyond * direction
            if design.site.earth:
                touching = (
                    np.hypot(spot[:, 1] - 1.5, spot[:, 2] - 0.9) < 0.1
                )  # the railing: no place for the search
                spot = spot[(spot[:, 2] >= 0.0) & ~touching]
            assert yardstick.shares(field_at, spot)[:, number].max() <= most


@pytest.mark.parametrize("scene", [in_free_space, over_earth])
def test_the_farthest_place_is_there_and_governed_as_said(scene):
    design, prediction, found = scene()
    point = prediction.bands[0].point
    for row in found.by_limit:
        assert np.linalg.norm(row.farthest_at - point.wires.centre) == pytest.approx(
            row.distance_max, rel=1e-9, abs=0
        )
        (field,) = fields_at(design, point, np.array([row.farthest_at]))
        shares = {"e": field.e_rms / row.level[0], "h": field.h_rms / row.level[1]}
        assert shares[row.governed_by] == max(shares.values()) == pytest.approx(1.0, rel=5e-3, abs=0)
        named = (row.distance_axis, row.distance_plane, row.distance_above, row.distance_below)
        assert row.distance_max >= max(named)
        assert row.distance_advised > row.distance_max


def test_a_railing_counts_from_a_tenth_of_a_metre_off_it():
    # A railing's far end 4 m away: at 400 W its own field exceeds at 0.12 m from the end, at 40 W at 0.02 m only.
    railing = replace(RAILING, start=(-4.0, 0.9, 2.0), end=(4.0, 0.9, 2.0))
    beside, touching = (
        on_air(built(at(7.1e6), power=power, site={"height": 1.5, "earth": AVERAGE, "metal": (railing,)}))[2]
        for power in (4000.0, 1.0)
    )
    assert row_of(beside, "icnirp-2010-instantaneous").distance_max > 4.0
    assert row_of(touching, "icnirp-2010-instantaneous").distance_max < 2.0


def test_one_row_for_each_limit_and_tier_that_covers_the_band():
    for megahertz, count in ((7.1, 9), (14.2, 7)):
        design = built(at(megahertz * 1e6))
        found = keep_out(design, predict(design))[0]
        rows = [(row.limit.name, row.limit.tier) for row in found.by_limit]
        assert rows == [(row.name, row.tier) for row in LIMITS if row.covers(megahertz * 1e6)]
        assert len(rows) == len(set(rows)) == count


def test_duty_lowers_averaged_limits_only():
    full = over_earth()
    quarter = replace(full[0], mode_factor=0.5, transmit_share=0.5)
    found = keep_out(quarter, full[1])[0]
    assert found.average_power == pytest.approx(100.0, rel=1e-12, abs=0)
    weaker = replace(full[0], power=100.0)
    of_weaker = keep_out(weaker, predict(weaker))[0]
    for row, before, weak in zip(found.by_limit, full[2].by_limit, of_weaker.by_limit, strict=True):
        same = weak if row.limit.is_averaged else before
        assert row.distance_max == pytest.approx(same.distance_max, rel=1e-3, abs=0)
        assert row.distance_axis == pytest.approx(same.distance_axis, rel=1e-3, abs=0)
    for person, at_full in zip(found.people, full[2].people, strict=True):
        gained = 10.0 * np.log10(4.0) if person.limit.is_averaged else 0.0
        # 1e-4 of the field over earth hangs on how far its tables were laid out.
        assert person.margin_db - at_full.margin_db == pytest.approx(gained, rel=0, abs=1e-3)


def test_people_are_held_to_the_tier_of_their_kind():
    _, _, found = over_earth()
    rows = {(row.name, row.limit.name): row for row in found.people}
    names = {row.name for row in LIMITS if row.covers(7.1e6)}
    assert rows.keys() == {(person, name) for person in ("neighbour", "operator") for name in names}
    for (person, name), row in rows.items():
        has_tier = any(limit.name == name and limit.tier is Tier.OCCUPATIONAL for limit in LIMITS)
        informed = person == "operator" and has_tier
        assert row.limit.tier is (Tier.OCCUPATIONAL if informed else Tier.PUBLIC)


@pytest.mark.parametrize("scene", [in_free_space, over_earth])
def test_margins_are_those_of_the_worse_field_at_the_spot(scene):
    design, prediction, found = scene()
    point = prediction.bands[0].point
    for row in found.people:
        person = next(each for each in PEOPLE if each.name == row.name)
        (field,) = fields_at(design, point, np.array([person.at]))
        e, h = row.limit.at(point.target.frequency)
        expected = min(20.0 * np.log10(e / field.e_rms), 20.0 * np.log10(h / field.h_rms))
        assert row.margin_db == pytest.approx(expected, rel=0, abs=1e-3)  # decibels; tables as above
        assert row.passes == (row.margin_unfavourable_db >= 0.0)
        in_decibels = 10.0 * np.log10(row.power_allowed / design.power)
        assert in_decibels == pytest.approx(row.margin_db, rel=1e-9, abs=0)


CERTAIN = Tolerance(capacitor_q=0.0, joint_resistance=0.0, earth=0.0)


@pytest.mark.parametrize("scene", [in_free_space, over_earth])
def test_people_pass_by_the_unfavourable_end_of_the_gap_s_current(scene):
    # All fields go with the gap's current: 20 log10 of its upper end over itself, from the prediction document.
    _, prediction, found = scene()
    band = prediction.bands[0]
    excess = band.range["tuning.capacitor_current_rms_a"][1] / band.tuning.capacitor_current_rms
    assert excess > 1.0
    for row in found.people:
        assert row.margin_db - row.margin_unfavourable_db == pytest.approx(
            20.0 * np.log10(excess), rel=1e-9, abs=0
        )
        assert row.power_allowed / row.power_allowed_unfavourable == pytest.approx(excess**2, rel=1e-9, abs=0)


def test_between_the_plain_and_the_unfavourable_edge_nobody_passes():
    design, prediction, found = over_earth()
    centre = prediction.bands[0].point.wires.centre
    spot = 1.002 * (np.array(row_of(found, "fcc-1.1310").farthest_at) - centre)
    person = Person(name="x", at=tuple(centre + spot))
    moved = replace(design, site=replace(design.site, people=(person,)))
    result = next(each for each in keep_out(moved, prediction)[0].people if each.limit.name == "fcc-1.1310")
    assert result.margin_db > 0.0 > result.margin_unfavourable_db
    assert not result.passes


def test_a_distance_that_metal_sets_names_it_and_without_it_is_shorter():
    # The field at that place, by the door of `fields`, is what twice the power brings to the limit; the place
    # is beyond the gutter's end; and without a gutter what it advises is metres less.
    gutter = SiteWire(
        kind="gutter", start=(-5.0, 1.5, 1.5), end=(5.0, 1.5, 1.5), diameter=0.08, conductivity=3e7
    )
    design, prediction, found = on_air(
        built(at(14.2e6), power=50.0, site={"metal": (gutter,)}, tolerance=CERTAIN)
    )
    point, row = prediction.bands[0].point, row_of(found, "fcc-1.1310")
    assert row.advised_beside == "gutter"
    assert row.advised_at is not None
    assert 5.0 < abs(row.advised_at[0]) < 6.0
    (field,) = fields_at(design, point, np.array([row.advised_at]))
    assert field.e_rms == pytest.approx(row.level[0] / np.sqrt(2.0), rel=5e-3, abs=0)
    assert "Set by the field at the gutter, " in next(set_by_metal(found, "m"))
    document = keepout_document("x", (found,))["bands"][0]["by_limit"]
    assert {each["advised_beside"] for each in document if each["limit"] == "fcc-1.1310"} == {"gutter"}

    _, _, alone = on_air(built(at(14.2e6), power=50.0, tolerance=CERTAIN))
    assert not list(set_by_metal(alone, "m"))
    assert row_of(alone, "fcc-1.1310").distance_advised < row.distance_advised - 2.5


@pytest.mark.parametrize("spread", [0.0, 0.3, 0.8])
def test_advised_distance_is_that_of_twice_the_power_at_the_unfavourable_end(spread):
    # The same ring, certain, fed with that power: the plain distance in any direction, rounded up to 0.1 m.
    loose = Tolerance(capacitor_q=spread, joint_resistance=0.0, earth=0.0)
    design, prediction, found = on_air(built(at(7.1e6), tolerance=loose))
    band = prediction.bands[0]
    power = 2.0 * design.power * (band.range[GAP_CURRENT][1] / band.tuning.capacitor_current_rms) ** 2
    _, _, strong = on_air(replace(design, power=power, tolerance=CERTAIN))
    for row, other in zip(found.by_limit, strong.by_limit, strict=True):
        assert row.distance_advised == pytest.approx(
            np.ceil(other.distance_max * 10.0 - 1e-9) / 10.0, rel=1e-9, abs=0
        )
        assert row.distance_advised >= row.distance_max


def test_ranges_leave_the_plain_distances_and_margins_as_they_are():
    design, _, found = over_earth()
    _, _, certain = on_air(replace(design, tolerance=CERTAIN))
    plain = (
        "distance_axis",
        "distance_plane",
        "distance_above",
        "distance_below",
        "distance_max",
        "governed_by",
    )
    for row, other in zip(found.by_limit, certain.by_limit, strict=True):
        assert [getattr(row, name) for name in plain] == [getattr(other, name) for name in plain]
    for person, alike in zip(found.people, certain.people, strict=True):
        assert (person.margin_db, person.power_allowed) == (alike.margin_db, alike.power_allowed)
        assert alike.margin_unfavourable_db == alike.margin_db


def test_a_person_at_the_edge_just_passes():
    design, prediction, found = on_air(replace(over_earth()[0], tolerance=CERTAIN))
    centre = prediction.bands[0].point.wires.centre
    row = row_of(found, "fcc-1.1310")
    for factor, passes in ((0.998, False), (1.002, True)):
        spot = np.array(row.farthest_at) - centre
        person = Person(name="x", at=tuple(centre + factor * spot))
        moved = replace(design, site=replace(design.site, people=(person,)))
        result = next(
            each for each in keep_out(moved, prediction)[0].people if each.limit.name == "fcc-1.1310"
        )
        assert result.passes is passes


def test_turning_the_ring_turns_the_zone():
    _, _, still = in_free_space()
    _, _, turned = on_air(built(at(14.2e6), power=100.0, site={"turn": 0.7}))
    for row, other in zip(still.by_limit, turned.by_limit, strict=True):
        for name in ("axis", "plane", "above", "below", "max"):
            assert getattr(other, f"distance_{name}") == pytest.approx(
                getattr(row, f"distance_{name}"), rel=1e-3, abs=0
            )


def test_a_flat_rings_axis_is_the_vertical_and_every_horizontal_lies_in_its_plane():
    _, _, upright = in_free_space()
    design, prediction, flat = on_air(built(at(14.2e6), power=100.0, ring={"tilt": np.pi / 2}))
    point = prediction.bands[0].point
    yardstick, field_at = Yardstick.of(design, 14.2e6), site_field(design, point)
    azimuth = np.linspace(0.0, 2.0 * np.pi, 360)
    around = np.stack([np.cos(azimuth), np.sin(azimuth), 0.0 * azimuth], axis=1)
    for number, (row, before) in enumerate(zip(flat.by_limit, upright.by_limit, strict=True)):
        assert row.distance_axis == pytest.approx(
            max(row.distance_above, row.distance_below), rel=1e-9, abs=0
        )
        assert row.distance_axis == pytest.approx(before.distance_axis, rel=1e-3, abs=0)
        assert row.distance_max == pytest.approx(before.distance_max, rel=3e-3, abs=0)
        on_circle = yardstick.shares(field_at, point.wires.centre + row.distance_plane * around)[:, number]
        # The horizontals are looked along every 15 degrees: the worst lies within 0.2 % of distance between them.
        assert on_circle.max() == pytest.approx(1.0, rel=6e-3, abs=0)


def test_a_whisper_exceeds_nothing():
    _, _, found = on_air(built(at(14.2e6), power=1e-7, site={"people": PEOPLE}))
    for row in found.by_limit:
        assert (row.distance_max, row.distance_advised, row.governed_by) == (0.0, 0.0, None)
    assert all(row.passes for row in found.people)


def test_document_has_the_keys_of_its_contract():
    design, _, found = over_earth()
    document = json.loads(json.dumps(keepout_document(design.name, (found,)), allow_nan=False))
    assert document["schema"] == "ringwright.keepout/1"
    (on_band,) = document["bands"]
    assert on_band.keys() >= {"band", "frequency_hz", "average_power_w", "by_limit", "people"}
    assert on_band["average_power_w"] == 400.0
    distances = {f"distance_{name}_m" for name in ("axis", "plane", "above", "below", "max", "advised")}
    for row in on_band["by_limit"]:
        assert row.keys() >= distances | {"limit", "tier", "governed_by"}
        assert row["tier"] in ("public", "occupational")
        assert row["governed_by"] in ("e", "h")
    for row in on_band["people"]:
        assert row.keys() >= {"name", "kind", "limit", "margin_db", "passes"}
        assert row["kind"] in ("public", "informed")


def test_every_band_of_a_design_is_answered():
    design = built(band("40m"), band("30m"), site={"height": 1.0, "earth": AVERAGE})
    found = keep_out(design, predict(design))
    assert [each.band for each in found] == ["40m", "30m"]
    assert [each.frequency for each in found] == [7.1e6, 10.125e6]
