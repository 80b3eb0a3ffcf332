# SPDX-License-Identifier: BSD-3-Clause
"""The plain methods find a dip that is where the table says, and count what they use."""

import random
from dataclasses import replace

import pytest

from ringwright.tuner.baselines import Bench, full_scan, golden_section
from ringwright.tuner.trial.plain import Method, run_plain
from ringwright.tuner.trial.truth import resonant_motor, truth_of
from ringwright.tuner.twin.facts import draw_twin
from ringwright.tuner.twin.world import World


def kind_twin():
    """A step of a tenth of a bandwidth, little slack, and a meter that is nearly right."""
    facts = draw_twin(random.Random(11))
    steps = facts.ring.half_power_steps(facts.frequency)
    return replace(
        facts,
        train=replace(facts.train, backlash=0.5 * steps, windup=0.1 * steps, microstep_error=0.0),
        meter=replace(facts.meter, noise=0.002, knee=1e-4, offset=0.0, period=0.02),
        operator=replace(facts.operator, patience=1e9),
        inhibit_is_wired=False,
    )


def bench_of(world):
    facts = world.facts
    slack = round(facts.train.backlash + 2.0 * facts.train.windup) + 1
    return Bench(world, low=facts.low_end, high=facts.high_end, slack=slack, tuning_power=4.0)


def search(method, *, off, reach):
    world = World(kind_twin(), tuning_limit=5.0)
    steps = world.facts.ring.half_power_steps(world.facts.frequency)
    bench = bench_of(world)
    found = method(bench, expected=resonant_motor(world) + off * steps, reach=reach * steps, bandwidth=steps)
    return world, found


@pytest.mark.parametrize("off", [-1.3, 0.0, 1.7])
@pytest.mark.parametrize("method", [golden_section, full_scan])
def test_a_kind_dip_is_found(method, off):
    world, found = search(method, off=off, reach=3.0)
    assert truth_of(world).is_success
    assert found.carrier == pytest.approx(world.keyed_seconds)
    assert world.monitor.total == 0


def test_a_scan_reads_four_times_a_bandwidth():
    _, found = search(full_scan, off=0.0, reach=3.0)
    assert found.readings == pytest.approx(4 * 6 + 1, abs=1)


def test_golden_section_reads_as_often_as_its_shrinking_says():
    """From 6 bandwidths to a tenth of one, or a step: ln 60 / ln 1.618 = 8.5 readings after the first."""
    _, found = search(golden_section, off=0.3, reach=3.0)
    assert 7 <= found.readings <= 11


def test_what_is_out_of_reach_is_not_found():
    world, _ = search(golden_section, off=30.0, reach=3.0)
    assert not truth_of(world).is_success


@pytest.mark.parametrize("method", Method)
def test_a_plain_run_is_decided_by_its_seed(method):
    assert run_plain(2, 5, method) == run_plain(2, 5, method)
