# SPDX-License-Identifier: BSD-3-Clause
"""The tuning table: monotone whatever is measured, right where it was measured, less sure elsewhere."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import FIRST_RING, TERRACE_OCTAGON, shipped_design
from ringwright.errors import OutOfRangeError, TuningTableError
from ringwright.tuner.table import MOST_POINTS, TuningTable
from ringwright.tuner.table_law import predicted_law
from ringwright.tuner.table_point import Point
from tests.tuner.table_laws import BEGIN, PER_KELVIN, STEPS, lumped_law, pair, resonance

LAW = lumped_law()
places = st.integers(0, STEPS)
factors = st.floats(0.5, 2.0)


@pytest.fixture(scope="module")
def octagon():
    design = shipped_design(TERRACE_OCTAGON)
    prediction = predict(design)
    return design, prediction, predicted_law(design, prediction)


def table_of(*points, site="home"):
    return TuningTable(law=LAW, points=points, site=site)


@settings(max_examples=40)
@given(st.lists(st.tuples(places, factors, st.none() | st.floats(-30, 60)), max_size=12))
def test_the_curve_falls_throughout_whatever_was_measured(pairs):
    points = [
        pair(at, resonance(at) * factor, temperature=warm)
        for at, factor, warm in pairs
        if 2e6 < resonance(at) * factor < 5e7
    ]
    curve = table_of(*points).curve()
    found = np.array([curve.frequency(at) for at in np.linspace(-50, STEPS + 50, 120)])
    assert np.all(np.diff(found) < 0.0)


@settings(max_examples=40)
@given(
    st.lists(st.tuples(places, st.floats(0.95, 1.05)), max_size=8),
    st.floats(-0.1, 1.1),
    st.none() | st.floats(-20, 40),
)
def test_position_and_frequency_are_each_others_inverse(pairs, share, temperature):
    curve = table_of(*(pair(at, resonance(at) * factor) for at, factor in pairs)).curve()
    position = share * STEPS
    assert curve.position(curve.frequency(position, temperature), temperature) == pytest.approx(
        position, abs=1e-3
    )


def test_without_pairs_the_law_of_the_design_holds():
    curve = table_of().curve()
    for at in (0, 313, 9_000, STEPS):
        assert curve.frequency(at) == pytest.approx(
            resonance(at), rel=2e-5, abs=0
        )  # the law is sampled at 41 places


def test_the_curve_goes_through_what_was_measured_well():
    measured = [
        pair(at, resonance(at, stray=2e-12, scale=1.03), spread=10.0) for at in (500, 4_000, 9_000, 15_000)
    ]
    curve = table_of(*measured).curve()
    for point in measured:
        assert curve.frequency(point.position, 20.0) == pytest.approx(point.frequency, abs=30.0)


def test_two_pairs_tell_a_stray_capacitance_from_an_inductance():
    measured = [pair(at, resonance(at, stray=2e-12, scale=1.03)) for at in (500, 15_000)]
    curve = table_of(*measured).curve()
    # With the law alone the resonance is 3.8 % off here; the remainder of 0.5 % that the fit allows for is not there.
    assert curve.frequency(4_000) == pytest.approx(resonance(4_000, stray=2e-12, scale=1.03), rel=5e-4, abs=0)


def test_what_is_known_fades_away_from_what_was_measured():
    curve = table_of(pair(4_000, resonance(4_000)), pair(9_000, resonance(9_000))).curve()
    spreads = [curve.sigma(resonance(at)) for at in (4_000, 5_000, 6_000)]
    assert spreads == sorted(spreads)
    beyond = [curve.sigma(resonance(at)) for at in (9_000, 12_000, 16_000, 20_000)]
    assert beyond == sorted(beyond)
    nothing = table_of().curve()
    assert nothing.sigma(resonance(9_000)) > 20 * curve.sigma(resonance(9_000))


@pytest.mark.parametrize("count", [0, 1, 3])
def test_one_sigma_is_one_sigma(count):
    """Antennas drawn as the fit assumes them lie within one and two sigma as often as a normal number does."""
    rng = np.random.default_rng(count)
    off = []
    for _ in range(200):
        at = rng.integers(2_000, STEPS, count + 1)
        found = drawn(at, rng)
        points = [pair(int(one), f + rng.normal(0, 100.0)) for one, f in zip(at[1:], found[1:], strict=True)]
        curve = table_of(*points).curve()
        off.append((curve.position(found[0]) - at[0]) / curve.sigma(found[0]))
    # 200 draws: the shares scatter by 0.033 and 0.015, one sigma.
    assert np.mean(np.abs(off) < 1.0) == pytest.approx(0.683, abs=0.10)
    assert np.mean(np.abs(off) < 2.0) == pytest.approx(0.954, abs=0.045)


def drawn(positions, rng):
    """Resonances of an antenna that differs from its design as much as is assumed, remainder included."""
    farads = np.array([LAW.farads.at(at) for at in positions])
    apart = abs(np.subtract.outer(np.log(farads), np.log(farads))) / 0.3
    alike = (1.0 + apart) * np.exp(-apart) + 1e-9 * np.eye(len(farads))
    remainder = 0.005 * np.linalg.cholesky(alike) @ rng.normal(size=len(farads))
    scale, stray = rng.normal(0, np.hypot(0.05, 0.01)), rng.normal(0, np.hypot(3e-12, 1e-12))
    return [LAW.frequency_of(each) for each in farads * (1.0 + scale + remainder) + stray]


def test_temperature_is_learnt_from_cold_and_warm_days():
    measured = [
        pair(9_000, resonance(9_000, kelvin=t - 20, per_kelvin=-60e-6), temperature=t, spread=50.0)
        for t in (-5.0, 5.0, 20.0, 32.0)
    ]
    curve = table_of(*measured).curve()
    assert curve.drift.is_learnt
    assert curve.drift.per_kelvin == pytest.approx(-60e-6, rel=0.05, abs=0)
    assert curve.frequency(9_000, 0.0) == pytest.approx(
        resonance(9_000, kelvin=-20, per_kelvin=-60e-6), abs=60.0
    )


@pytest.mark.parametrize("temperatures", [(20.0,) * 4, (19.5, 20.0, 20.5, 20.0), (None, None, None, None)])
def test_temperature_stays_the_designs_where_the_days_were_alike(temperatures):
    rng = np.random.default_rng(1)
    measured = [
        pair(9_000, resonance(9_000) + rng.normal(0, 1000), temperature=t, spread=1000.0)
        for t in temperatures
    ]
    drift = table_of(*measured).curve().drift
    assert not drift.is_learnt
    assert drift.per_kelvin == pytest.approx(PER_KELVIN, abs=10e-6)


def test_a_new_site_needs_one_pair():
    at_home = [
        pair(at, resonance(at, stray=2e-12, scale=1.02), spread=20.0) for at in (1_000, 4_000, 9_000, 15_000)
    ]
    table = table_of(*at_home).moved_to("garden")
    truth = {at: resonance(at, stray=2e-12, scale=1.026) for at in (1_000, 4_000, 9_000, 15_000)}
    before = {at: table.curve().frequency(at) / f - 1.0 for at, f in truth.items()}
    table = table.learnt(pair(9_000, truth[9_000], spread=20.0))
    after = {at: table.curve().frequency(at) / f - 1.0 for at, f in truth.items()}
    assert table.points[-1].site == "garden"
    assert table.sites == ("home", "garden")
    for at in truth:
        assert abs(after[at]) < 0.35 * abs(before[at])
    assert abs(after[9_000]) < 1e-5
    # And back home nothing has changed but by what one pair elsewhere says of the law.
    back = table.moved_to("home").curve()
    for point in at_home:
        assert back.frequency(point.position) == pytest.approx(point.frequency, rel=3e-5, abs=0)


def test_a_pair_that_cannot_be_of_this_antenna_is_refused():
    table = table_of(*(pair(at, resonance(at)) for at in (4_000, 9_000)))
    with pytest.raises(TuningTableError, match="end stop"):
        table.learnt(pair(9_000, resonance(9_000) * 1.05))
    assert len(table.learnt(pair(9_000, resonance(9_000) * 1.0001, spread=500.0)).points) == 3


def test_a_pair_that_is_certain_overrules_the_newest_that_contradict_it():
    right = pair(2000, resonance(2000) * 1.01)
    wrong = pair(3100, resonance(3000) * 1.01)
    certain = pair(3000, resonance(3000) * 1.01)
    table = table_of(right, wrong)
    with pytest.raises(TuningTableError):
        table.learnt(certain)
    assert table.overruled(certain).points == (right, certain)
    elsewhere = table_of(wrong, site="home").moved_to("field")
    assert wrong in elsewhere.overruled(pair(2000, resonance(2000) * 1.01)).points


def test_the_oldest_pair_goes_where_there_are_too_many():
    table = table_of(*(pair(9_000, resonance(9_000), hours=hour) for hour in range(MOST_POINTS)))
    again = table.learnt(pair(9_000, resonance(9_000), hours=MOST_POINTS))
    assert len(again.points) == MOST_POINTS
    assert again.points[0] == table.points[1]


def test_pairs_are_removed_and_edited_by_their_number():
    first, second = pair(4_000, resonance(4_000)), pair(9_000, resonance(9_000))
    table = table_of(first, second)
    assert table.without(1).points == (second,)
    changed = pair(9_000, resonance(9_000) + 50.0)
    assert table.with_edited(2, changed).points == (first, changed)
    for number in (0, 3, -1):
        with pytest.raises(TuningTableError, match="there is no pair"):
            table.without(number)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"frequency": float("nan")}, "frequency"),
        ({"frequency": 1.0e6}, "frequency"),
        ({"spread": 0.0}, "spread"),
        ({"temperature": float("nan")}, "temperature"),
        ({"temperature": 300.0}, "temperature"),
        ({"at": BEGIN.replace(tzinfo=None)}, "time zone"),
        ({"site": " home"}, "site"),
        ({"site": "\x1b[2J"}, "site"),
    ],
)
def test_a_pair_that_cannot_be_is_one_sentence(change, word):
    fields = {"position": 1, "frequency": 7.1e6, "at": BEGIN} | change
    with pytest.raises(TuningTableError, match=word) as caught:
        Point(**fields)
    assert "\n" not in str(caught.value)


def test_a_position_beyond_the_travel_is_refused():
    with pytest.raises(TuningTableError, match="travel"):
        table_of(pair(STEPS + 1, 3.7e6))


def test_a_frequency_out_of_reach_is_one_sentence():
    curve = table_of().curve()
    with pytest.raises(OutOfRangeError, match="reaches"):
        curve.reached(30e6)
    assert curve.reached(resonance(9_000)) == 9_000


def test_the_octagons_law_meets_its_prediction(octagon):
    _, prediction, law = octagon
    for band in prediction.bands:
        place = law.farads.inverse(law.farads_showing(band.frequency))
        assert place / law.last == pytest.approx(band.tuning.at_travel, abs=1e-9)
        step = law.frequency_of(law.farads.at(place)) - law.frequency_of(law.farads.at(place + 1.0))
        assert step == pytest.approx(band.tuning.step, rel=2e-3, abs=0)
    assert law.last == 16 * 200 * 8 * 5
    assert law.frequency_of(law.farads.y[0]) == pytest.approx(
        prediction.bands[0].tuning.tunes_to, rel=1e-9, abs=0
    )


def test_a_design_without_a_drive_says_what_to_add(octagon):
    design = shipped_design(FIRST_RING)
    with pytest.raises(TuningTableError, match=r"add a \[drive\]"):
        predicted_law(design, octagon[1])
