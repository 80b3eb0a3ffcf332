# SPDX-License-Identifier: BSD-3-Clause
"""The search as a whole: against every candidate predicted by itself, in any order, stopped, and impossible."""

import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from ringwright.antenna.design_file import parse_design
from ringwright.antenna.predict import predict
from ringwright.choose.rings.candidate import text_of
from ringwright.choose.rings.document import search_document
from ringwright.choose.rings.finding import Forgetful, find_rings, in_this_process
from ringwright.choose.rings.front import front_of
from ringwright.choose.trials import match_bands
from ringwright.safety.keepout import keep_out
from ringwright.safety.mechanics import find_mechanics
from tests.choose.rings.briefs import SMALL, brief

LOOPS = np.arange(0.06, 0.2, 0.008)


class Kept(Forgetful):
    """Solutions in memory."""

    found: Any

    def __init__(self):
        self.nodes = {}

    def get(self, key):
        return self.nodes.get(key)

    def put(self, key, node):
        assert key not in self.nodes, "solved twice"
        self.nodes[key] = node


@pytest.fixture(scope="module")
def small():
    return brief()


@pytest.fixture(scope="module")
def kept(small):
    kept = Kept()
    kept.found = find_rings(small, kept=kept)
    return kept


@pytest.fixture(scope="module")
def found(kept):
    return kept.found


def test_the_winner_is_that_of_every_candidate_predicted_by_itself():
    """Brute force: for each ring the best of many couplings, and that predicted, with nothing of the search's.

    benchmarks/search_brute.py does the same for a larger brief over earth.
    """
    few = brief(SMALL, ('"20m", "17m"', '"20m"'), (', { diameter = "12 mm" }', ""))
    found = find_rings(few)
    brute = {}
    for place in np.ndindex(1, 2, 1, 2):
        design = parse_design(text_of(few, place, 0.12), source="candidate")
        tried = [match_bands(replace(design, coupling=replace(design.coupling, diameter=d))) for d in LOOPS]
        best_trial = min(tried, key=lambda trial: trial.swr_worst)
        assert best_trial.swr_worst < 1.1
        matched = replace(design, coupling=best_trial.coupling)
        (band,) = predict(matched).bands
        stands = band.limits.power_max is not None and band.limits.power_max >= design.power
        if stands and band.tuning.reachable:
            brute[place] = (
                10.0 * np.log10(band.efficiency_sky_pct / 100.0) - 2.0 * matched.ring.perimeter / np.pi
            )
    assert len(brute) >= 2
    best = max(brute, key=lambda place: brute[place])
    assert found.front[0].place == best
    assert {each.place for each in found.candidates} == set(brute)
    for each in found.candidates:
        assert each.score(few.weights) == pytest.approx(brute[each.place], abs=0.1)


def test_every_candidate_is_accounted_for(found):
    assert found.considered == 8
    assert found.considered == found.solved + found.screened
    assert found.considered == found.passing + sum(each.count for each in found.refused)
    assert all(each.relax and each.count >= each.screened for each in found.refused)


def test_the_front_has_the_figures_of_its_own_design_files(small, found):
    document = search_document(found)
    first = document["front"][0]
    design = parse_design(first["design_toml"], source="front")
    prediction = predict(design)
    for band, own in zip(first["bands"], prediction.bands, strict=True):
        assert band["frequency_hz"] == own.frequency
        assert band["efficiency_sky_pct"] == pytest.approx(own.efficiency_sky_pct, rel=1e-9, abs=0)
        assert band["swr_min"] == pytest.approx(own.match.swr_min, rel=1e-9, abs=0)
    mass = find_mechanics(design, prediction).mass.head
    assert first["mass_kg"] == pytest.approx(mass, rel=1e-9, abs=0)
    (band, _) = keep_out(design, prediction)
    assert all(row.passes for row in band.people)
    assert min(row.margin_unfavourable_db for row in band.people) == pytest.approx(
        first["bands"][0]["people_margin_db"], abs=1e-9
    )
    scores = [each["score"] for each in document["front"]]
    assert scores == sorted(scores, reverse=True)


def test_any_order_of_the_work_gives_the_same_answer(small, kept, found):
    def backwards(work, items):
        yield from reversed(list(in_this_process(work, items)))

    again = find_rings(small, run=backwards, kept=kept)
    assert again == replace(found, kept=found.solutions, candidates=again.candidates)
    assert search_document(again)["front"] == search_document(found)["front"]


def test_a_search_that_was_stopped_goes_on_without_solving_twice(small, found, kept):
    class StoppedError(Exception):
        pass

    def stop_half_way(advance):
        if advance.done * 2 >= advance.total:
            raise StoppedError

    half = Kept()
    feed = iter(list(kept.nodes.values()))
    with pytest.raises(StoppedError):
        find_rings(
            small,
            run=lambda _, items: ((n, next(feed)) for n in range(len(items))),
            kept=half,
            tell=stop_half_way,
        )
    solved_first = len(half.nodes)
    assert 0 < solved_first < found.solutions
    rest = list(kept.nodes.values())[solved_first:]
    asked = []

    def go_on(work, items):
        asked.append(len(items))
        nodes = iter(rest)
        yield from (
            (n, next(nodes) if work.__name__ == "solve_node" else work(item)) for n, item in enumerate(items)
        )

    again = find_rings(small, run=go_on, kept=half)
    assert asked[0] == found.solutions - solved_first
    assert again.front == found.front


def test_other_weights_need_no_solution_again(small, kept, found):
    heavy = replace(
        small, weights=small.weights | {"size": 0.0, "mass": 1.0, "margin": 0.1, "bandwidth": 0.2}
    )
    again = find_rings(heavy, kept=kept)
    assert again.kept == again.solutions == found.solutions
    assert set(again.front[0].points(heavy.weights)) == {"sky_db", "mass", "bandwidth", "margin"}


LIMITED = SMALL.replace("[weights]", '[room]\nwidth = "5 m"\n\n[limits]\nmass = "50 kg"\n\n[weights]')
STATED = {
    "limits.capacitor_voltage_margin": ("power", "W"),
    "site.people": ("power", "W"),
    "limits.mass": ("mass", "kg"),
    "room.width": ("width", "m"),
}


@pytest.mark.parametrize(
    ("stated", "asked", "keys"),
    [
        ('power = "20 W"', 'power = "2000 W"', {"limits.capacitor_voltage_margin"}),
        ('at = ["5 m", "2 m"', 'at = ["0.8 m", "0.6 m"', {"site.people"}),
        ('mass = "50 kg"', 'mass = "0.8 kg"', {"limits.mass"}),
        ('width = "5 m"', 'width = "0.4 m"', {"room.width"}),
    ],
)
def test_an_impossible_brief_says_what_to_relax_and_that_is_enough(kept, stated, asked, keys):
    text = LIMITED.replace(stated, asked)
    found = find_rings(brief(text), kept=Reading(kept))
    assert not found.front
    assert found.nearest is not None
    assert set(found.nearest.misses) >= keys
    amounts: dict[str, tuple[float, str]] = {}
    for key, needed in found.nearest.misses.items():
        name, unit = STATED[key]
        amounts[name] = min(amounts.get(name, (1e9, unit)), (needed, unit))
    for name, (needed, unit) in amounts.items():
        margin = 0.999 if name == "power" else 1.001
        text = re.sub(rf'{name} = ".*"', f'{name} = "{needed * margin:.9g} {unit}"', text)
    again = find_rings(brief(text), kept=Reading(kept))
    assert found.nearest.place in {each.place for each in again.candidates}
    assert again.front


class Reading(Kept):
    """Solutions of another search, and new ones for this one."""

    def __init__(self, other):
        self.nodes = dict(other.nodes)


def test_the_front_leaves_out_what_another_beats_or_equals(found, small):
    candidates = [*found.candidates]
    front = front_of(candidates, small.weights, most=12)
    points = [np.array(list(each.points(small.weights).values())) for each in candidates]
    chosen = [np.array(list(each.points(small.weights).values())) for each in front]
    assert all(any((one >= other - 0.1).all() for one in chosen) for other in points)
    assert not any(
        (one >= other).all()
        for number, other in enumerate(chosen)
        for one in chosen[:number] + chosen[number + 1 :]
    )
    assert front == front_of(candidates[::-1], small.weights, most=12)
