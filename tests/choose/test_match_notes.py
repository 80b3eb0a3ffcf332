# SPDX-License-Identifier: BSD-3-Clause
"""Notes beside a match: each where its condition holds, none where it does not."""

from dataclasses import replace

import pytest

from ringwright.choose.match import find_coupling
from ringwright.choose.match_notes import GOOD, POOR, match_notes
from ringwright.choose.search import Sensitivity
from tests.antenna.builds import band, built


@pytest.fixture(scope="module")
def plain():
    """Three bands, all in reach, nothing to say."""
    return find_coupling(built(band("30m"), band("20m"), capacitor={"minimum": 5e-12}))


def codes(found):
    return [note.code for note in match_notes(found)]


def with_worst(trial, swr):
    first, *others = trial.bands
    return replace(trial, bands=(replace(first, swr_min=swr), *others))


def test_nothing_is_said_where_nothing_is_wrong(plain):
    assert codes(plain) == []


def test_a_band_out_of_the_capacitors_reach_is_named(plain):
    wanted = plain.best.bands[1].capacitance
    for capacitor, expected in (
        (replace(plain.design.capacitor, minimum=wanted * 0.99), []),
        (replace(plain.design.capacitor, minimum=wanted * 1.01), ["20m"]),
        (replace(plain.design.capacitor, maximum=wanted * 1.01), ["30m"]),
    ):
        found = replace(plain, design=replace(plain.design, capacitor=capacitor))
        assert [note.band for note in match_notes(found) if note.code == "out-of-reach"] == expected


def test_a_match_that_is_none_is_called_so(plain):
    assert codes(replace(plain, best=with_worst(plain.best, POOR * 0.999))) == []
    assert codes(replace(plain, best=with_worst(plain.best, POOR * 1.001))) == ["no-match"]


def test_a_slip_that_spoils_a_good_match_asks_for_care(plain):
    def slipping(swr):
        return replace(
            plain, sensitivity=(Sensitivity(name="diameter", step=0.005, swr_less=None, swr_more=swr),)
        )

    assert codes(slipping(GOOD * 0.999)) == []
    assert codes(slipping(GOOD * 1.001)) == ["needs-care"]


def test_a_best_at_the_edge_of_what_was_tried_says_so():
    # 50 ohm of loss in the gap want more coupling than any loop inside the ring gives.
    found = find_coupling(built(band("40m"), capacitor={"esr": 50.0}))
    assert found.at_limit == ("diameter",)
    assert "at-limit" in codes(found)
    largest = max(trial.coupling.diameter or 0.0 for trial in found.curve)
    assert found.best.coupling.diameter == largest
