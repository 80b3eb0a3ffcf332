# SPDX-License-Identifier: BSD-3-Clause
import pytest

from ringwright.antenna.design import ConductorKind, RingShape
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import (
    FIRST_RING,
    RUCKSACK_BRAID,
    TERRACE_OCTAGON,
    shipped_design,
    shipped_text,
)


def test_terrace_octagon_is_the_ring_of_the_scenario():
    design = shipped_design(TERRACE_OCTAGON)
    assert (design.ring.shape, design.ring.perimeter) == (RingShape.OCTAGON, 4.4)
    assert design.ring.conductor.diameter == 0.022
    assert [target.band for target in design.targets] == ["60m", "40m", "30m"]
    assert design.site.earth is not None
    assert [metal.material for metal in design.site.metal] == ["steel"]


def test_rucksack_braid_is_the_ring_of_the_scenario():
    design = shipped_design(RUCKSACK_BRAID)
    assert (design.ring.shape, design.ring.conductor.kind) == (RingShape.CIRCLE, ConductorKind.BRAID)
    assert design.ring.perimeter == pytest.approx(0.85 * 3.141592653589793, rel=1e-15, abs=0)
    assert [target.band for target in design.targets] == ["17m", "15m", "12m", "10m"]


def test_rucksack_braid_stops_short_of_the_top_of_10_m():
    bands = predict(shipped_design(RUCKSACK_BRAID)).bands
    assert [band.tuning.reachable for band in bands] == [True, True, True, False]
    top = bands[-1].tuning.tunes_to
    assert top is not None
    assert 28.0e6 < top < 29.7e6


@pytest.mark.parametrize("name", [FIRST_RING, TERRACE_OCTAGON])
def test_the_other_shipped_rings_reach_all_their_bands(name):
    assert all(band.tuning.reachable for band in predict(shipped_design(name)).bands)


@pytest.mark.parametrize("name", [FIRST_RING, TERRACE_OCTAGON, RUCKSACK_BRAID])
def test_shipped_designs_explain_their_choices_and_carry_the_cautions(name):
    text = shipped_text(name)
    assert text.count("#") > 12
    assert "never touch or adjust it" in text.replace("\n# ", " ")
    assert "your local codes decide" in text


def test_lines_commented_out_of_the_first_ring_read_when_taken_in():
    text = shipped_text(FIRST_RING)
    lines = text[text.index("# [[site.metal]]") :].splitlines()
    taken_in = text[: text.index("# [[site.metal]]")] + "\n".join(line.removeprefix("# ") for line in lines)
    site = parse_design(taken_in, source=FIRST_RING).site
    assert (len(site.metal), len(site.people)) == (1, 1)
