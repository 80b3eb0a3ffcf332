# SPDX-License-Identifier: BSD-3-Clause
"""The site's picture in parts: what it is put together from agrees with what each piece says by itself."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.design import Earth, FeedSide, Person, PersonKind, SiteWire
from ringwright.antenna.design_file import design_of, read_tables
from ringwright.antenna.directions import gain_dbi
from ringwright.antenna.far_side import far_side
from ringwright.antenna.predict import predict
from ringwright.antenna.reception import NoisePlace, reception
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.antenna.site_fields import site_field
from ringwright.desk.predictions import Predictions
from ringwright.desk.site import Section, SiteView, kept_distances, site_parts, usual_limits
from ringwright.desk.site.figures import SITE_FIGURES
from ringwright.desk.site.kept_distances import KeptDistances
from ringwright.desk.site.parts import Comparison, Dipole, Distances, Outlines, Scene, Space
from ringwright.desk.site.picture import without_metal
from ringwright.safety.exposure import Yardstick
from ringwright.safety.keepout import keep_out
from ringwright.safety.limits import LIMITS, Tier

OCTAGON = design_of(read_tables(shipped_text(TERRACE_OCTAGON)))
ONE_BAND = replace(OCTAGON, targets=OCTAGON.targets[1:2])
FCC = (("fcc-1.1310", Tier.PUBLIC),)


@pytest.fixture(scope="module")
def predictions():
    return Predictions(), Predictions(), KeptDistances()


def parts_of(design, view, predictions):
    own, aside, distances = predictions
    return list(site_parts(design, view, predictions=own, aside=aside, distances=distances))


@pytest.fixture(scope="module")
def parts(predictions):
    return parts_of(ONE_BAND, SiteView(limits=FCC, is_in_space=True, noise_bearing_deg=40.0), predictions)


def test_parts_come_in_order_with_the_quick_one_first(parts):
    assert [type(part) for part in parts] == [Scene, Space, Outlines, Distances, Comparison]
    assert [(part.step, part.steps) for part in parts] == [(number, 5) for number in range(1, 6)]


def test_other_bands_get_their_distances_last(predictions):
    design = replace(OCTAGON, site=replace(OCTAGON.site, people=()))
    found = parts_of(design, SiteView(band=1, limits=()), predictions)
    assert [part.band for part in found if isinstance(part, Distances)] == [1, 0, 2]
    assert found[-1].step == found[-1].steps == len(found)


def test_the_draft_that_was_predicted_is_not_solved_again(predictions):
    own, *_ = predictions
    design = replace(ONE_BAND, site=replace(ONE_BAND.site, height=2.2))
    own.new(design)
    own.known(design)
    before = own.use(lambda memory: memory.solves)
    parts_of(design, SiteView(limits=FCC), predictions)
    assert own.use(lambda memory: memory.solves) == before


def test_distances_stay_those_of_the_design_however_it_is_looked_at(parts, predictions, monkeypatch):
    monkeypatch.delattr(kept_distances, "keep_out")  # nobody looks for them again
    known = parts_of(ONE_BAND, SiteView(limits=FCC, section=Section.PLANE, plan_height=2.0), predictions)
    assert known[-2].keep_out == parts[-2].keep_out
    with pytest.raises(NameError):  # another design has others
        parts_of(replace(ONE_BAND, power=2.0 * ONE_BAND.power), SiteView(limits=()), predictions)


def test_a_band_beyond_the_last_is_the_last(predictions):
    (scene, *_) = parts_of(ONE_BAND, SiteView(band=7, limits=()), predictions)
    assert (scene.band, scene.frequency) == (0, ONE_BAND.targets[0].frequency)


def test_on_every_outline_the_field_is_the_limit_or_a_little_less(parts, predictions):
    band = predictions[0].known(ONE_BAND).bands[0]
    yardstick = Yardstick.of(ONE_BAND, band.frequency)
    column = [(row.name, row.tier) for row in yardstick.rows].index(FCC[0])
    field_at = site_field(ONE_BAND, band.point)
    outlines = next(part for part in parts if isinstance(part, Outlines))
    for drawn in (outlines.section, outlines.plan):
        (zone,) = drawn.zones
        for ring in zone.rings:
            in_air = ring[ring[:, 1] > drawn.cut.lowest + 1e-6] if drawn.cut.up[2] else ring
            share = yardstick.shares(field_at, drawn.cut.points(*in_air.T))[:, column].max(axis=1)
            # The field falls by 7 % over a hundredth of the zone's radius; the outline errs outwards.
            assert share.max() < 1.01
            assert np.median(share) > 0.9


def test_the_outline_reaches_as_far_along_the_axis_as_the_distance_says(parts):
    outlines = next(part for part in parts if isinstance(part, Outlines))
    distances = next(part for part in parts if isinstance(part, Distances))
    row = next(row for row in distances.keep_out.by_limit if (row.limit.name, row.limit.tier) == FCC[0])
    (zone,) = outlines.section.zones
    level = np.concatenate([ring[abs(ring[:, 1]) < 0.1, 0] for ring in zone.rings])
    assert abs(level).max() == pytest.approx(row.distance_axis, rel=0.03, abs=0)


def test_distances_and_margins_are_those_of_the_keep_out(parts):
    (expected,) = keep_out(ONE_BAND, predict(ONE_BAND))
    scene, distances = parts[0], parts[3]
    assert scene.average_power == expected.average_power
    flat = [row for rows in scene.margins for row in rows]
    assert [(row.name, row.limit.name) for row in flat] == [
        (row.name, row.limit.name) for row in expected.people
    ]
    # The same code, but its tables of the half-space are laid out for other points: they hold the field to 1e-3.
    assert [row.margin_db for row in flat] == pytest.approx(
        [row.margin_db for row in expected.people], rel=1e-4, abs=0
    )
    assert [row.distance_max for row in distances.keep_out.by_limit] == pytest.approx(
        [row.distance_max for row in expected.by_limit], rel=1e-3, abs=0
    )


def test_both_sections_agree_at_the_zenith_and_mirror_where_the_site_does(predictions):
    lobes = {
        section: parts_of(without_metal(ONE_BAND), SiteView(limits=(), section=section), predictions)[0].lobes
        for section in Section
    }
    zenith = [float(each.over[each.over_angle == 90.0][0]) for each in lobes.values()]
    assert zenith[0] == pytest.approx(zenith[1], rel=1e-9, abs=0)
    across = lobes[Section.AXIS].over
    assert across == pytest.approx(across[::-1], rel=1e-6, abs=0)


def test_directions_are_true_bearings(parts, predictions):
    # x points east in this design: azimuths count from there towards north, bearings from north towards east.
    scene = parts[0]
    assert scene.lobes.towards.bearing_deg == pytest.approx(40.0, rel=1e-12, abs=0)
    assert scene.lobes.towards.azimuth_deg == pytest.approx(50.0, rel=1e-12, abs=0)
    band = predictions[0].known(ONE_BAND).bands[0]
    far = far_side(band.point, earth=ONE_BAND.site.earth)
    there = gain_dbi(far, ONE_BAND.power, elevation=np.deg2rad([20.0]), azimuth=np.deg2rad([50.0]))[0]
    assert scene.lobes.towards.depth_db == pytest.approx(scene.lobes.around.max() - there, rel=1e-3, abs=0)
    assert scene.lobes.quietest.depth_db == pytest.approx(np.ptp(scene.lobes.around), rel=1e-9, abs=0)
    turned = replace(ONE_BAND, site=replace(ONE_BAND.site, x_bearing=np.deg2rad(120.0)))
    lobes = parts_of(turned, SiteView(limits=()), predictions)[0].lobes
    assert (lobes.bearing_deg - scene.lobes.bearing_deg) % 360.0 == pytest.approx(30.0, rel=1e-9, abs=0)


def test_a_ring_that_is_turned_takes_its_lobes_along(predictions):
    bare = without_metal(ONE_BAND)
    turned = replace(bare, site=replace(bare.site, turn=np.deg2rad(30.0)))
    before, after = (parts_of(design, SiteView(limits=()), predictions)[0].lobes for design in (bare, turned))
    assert np.roll(before.around, 30) == pytest.approx(after.around, rel=1e-6, abs=0)
    assert before.over == pytest.approx(after.over, rel=1e-6, abs=0)


def test_space_and_round_are_one_pattern(parts):
    scene, space = parts[0], parts[1].sphere
    row = space.gain[space.elevation == 20.0][0]
    assert row == pytest.approx(scene.lobes.around[(space.azimuth % 360.0).astype(int)], rel=1e-9, abs=0)
    assert space.gain.max() <= scene.lobes.pattern.gain_max_dbi + 1e-9


def test_as_if_the_metal_were_gone_is_the_design_without_it(predictions):
    near = SiteWire(kind="rail", start=(-2.0, 0.3, 0.9), end=(2.0, 0.3, 0.9), diameter=0.04, conductivity=6e6)
    design = replace(ONE_BAND, site=replace(ONE_BAND.site, metal=(near,)))
    gone = parts_of(design, SiteView(limits=FCC, is_metal_gone=True), predictions)
    bare = parts_of(without_metal(design), SiteView(limits=FCC), predictions)
    assert gone[0].is_metal_gone
    assert gone[0].metal == (near,)  # it still stands there, and is drawn
    assert gone[0].lobes.around == pytest.approx(bare[0].lobes.around, rel=1e-9, abs=0)
    ring, other = (part[0].section.zones[0].rings[0] for part in (gone, bare))
    assert ring == pytest.approx(other, rel=1e-6, abs=1e-9)
    (comparison,) = [part for part in gone if isinstance(part, Comparison)]
    assert comparison.without_metal is not None
    assert comparison.without_metal.watts_pct.sky > comparison.with_metal.watts_pct.sky
    assert comparison.without_metal.watts_pct.metal in (None, 0.0)


def test_where_there_is_no_metal_nothing_is_compared_with(predictions):
    found = parts_of(without_metal(ONE_BAND), SiteView(limits=()), predictions)
    (comparison,) = [part for part in found if isinstance(part, Comparison)]
    assert comparison.without_metal is None


def test_the_ring_stands_beside_a_dipole(parts):
    comparison = parts[-1]
    assert isinstance(comparison.dipole, Dipole)
    ring = comparison.with_metal.pattern
    assert comparison.dipole.ahead_db == ring.gain_max_dbi - comparison.dipole.pattern.gain_max_dbi
    assert comparison.dipole.ahead_db < 0.0  # a small ring against a full-size antenna without loss


def test_the_null_is_told_with_and_without_the_cables_outside(predictions):
    cabled = replace(ONE_BAND, feedline=replace(ONE_BAND.feedline, runs_down=True))
    for design in (ONE_BAND, cabled):
        scene, *_, comparison = parts_of(design, SiteView(limits=()), predictions)
        with_cable, without = comparison.quietest_db
        own = with_cable if design is cabled else without
        assert own == pytest.approx(scene.lobes.quietest.depth_db, rel=1e-2, abs=0)  # found on two grids
    near = replace(ONE_BAND.coupling, feed_side=FeedSide.NEAR)
    low = replace(ONE_BAND, coupling=near, site=replace(ONE_BAND.site, height=0.12, metal=()))
    assert parts_of(low, SiteView(limits=()), predictions)[-1].quietest_db[0] is None


def test_reception_is_told_for_every_band_and_place(predictions):
    found = parts_of(without_metal(OCTAGON), SiteView(limits=()), predictions)
    (comparison,) = [part for part in found if isinstance(part, Comparison)]
    bands = predictions[0].known(without_metal(OCTAGON)).bands
    for band, places in zip(bands, comparison.receptions, strict=True):
        # 4.8 dB per 100 m at 10 MHz, 10 m of it, by the square root of frequency.
        loss_db = 0.48 * np.sqrt(band.frequency / 10e6)
        expected = reception(
            band.frequency, band.efficiency_sky_pct / 100.0, NoisePlace.CITY, feedline_loss_db=loss_db
        )
        assert places[0].place is NoisePlace.CITY
        assert places[0].loss_db == pytest.approx(expected.loss_db, rel=1e-9, abs=0)
        assert [each.loss_db for each in places] == sorted(each.loss_db for each in places)


def test_free_space_has_no_floor_and_no_earth(predictions):
    design = replace(ONE_BAND, site=replace(ONE_BAND.site, earth=None, metal=(), people=()))
    scene, *_ = parts_of(design, SiteView(limits=FCC), predictions)
    assert scene.earth is None
    assert scene.section.cut.lowest == -np.inf
    (ring,) = scene.section.zones[0].rings
    assert ring[:, 1].min() == pytest.approx(-ring[:, 1].max(), rel=0.05, abs=0)


@pytest.mark.parametrize(
    ("name", "source"), [("average", "handbook"), ("wet ground", "P.527"), ("stated", "stated in the design")]
)
def test_the_earths_constants_come_with_their_source(name, source, predictions):
    earth = Earth(name=name, conductivity=8e-3, permittivity=17.0)
    design = replace(ONE_BAND, site=replace(ONE_BAND.site, earth=earth, metal=(), people=()))
    scene, *_ = parts_of(design, SiteView(limits=()), predictions)
    assert source in scene.earth_source
    assert scene.earth == earth


def test_without_a_choice_the_usual_limits_of_the_region_are_drawn(predictions):
    in_europe, in_america = (
        parts_of(replace(ONE_BAND, region=region), SiteView(), predictions)[0].chosen for region in (1, 2)
    )
    assert in_europe == usual_limits(1)
    assert in_america == usual_limits(2) == FCC
    for limits in (in_europe, in_america):
        assert set(limits) <= {(row.name, row.tier) for row in LIMITS if row.tier is Tier.PUBLIC}


def test_nobody_is_merged_with_anybody(predictions):
    people = tuple(
        Person(name=name, at=(1.5, 0.0, 1.5), kind=kind)
        for name, kind in (("one", PersonKind.PUBLIC), ("other", PersonKind.INFORMED))
    )
    design = replace(ONE_BAND, site=replace(ONE_BAND.site, people=people))
    scene, *_ = parts_of(design, SiteView(limits=()), predictions)
    rows = [row for row in LIMITS if row.covers(scene.frequency) and row.tier is Tier.PUBLIC]
    assert [len(each) for each in scene.margins] == [len(rows), len(rows)]
    public, informed = scene.margins
    assert all(mine.margin_db <= theirs.margin_db for mine, theirs in zip(public, informed, strict=True))


def test_every_figure_of_the_site_says_what_it_is():
    for key, figure in SITE_FIGURES.items():
        assert key == figure.key
        assert all(
            (figure.label, figure.definition, figure.formula, figure.source, figure.validity, figure.inputs)
        )
