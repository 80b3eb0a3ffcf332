# SPDX-License-Identifier: BSD-3-Clause
"""A tap and a transformer's turns are found by the same search."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.design import Core, Coupling, CouplingKind
from ringwright.antenna.predict import predict
from ringwright.choose.match import find_coupling
from ringwright.choose.match_document import match_document
from ringwright.choose.trials import Trials
from ringwright.desk.matching import match_edits, so_far
from ringwright.errors import DesignError
from tests.antenna.builds import at, band, built, solid

CLOSE = 0.05
ARM = Coupling(kind=CouplingKind.TAPPED, conductor=solid(0.005), clearance=0.05, tap_at=0.3)


def around(core):
    return Coupling(kind=CouplingKind.TRANSFORMER, core=core)


def design_with(coupling, *targets, **changed):
    return replace(built(*targets, **changed), coupling=coupling)


def worst_by_prediction(design, **coupling):
    try:
        found = predict(replace(design, coupling=replace(design.coupling, **coupling)))
    except DesignError:
        return np.inf
    return max(band.match.swr_min for band in found.bands)


def test_no_tap_of_a_dense_scan_is_better():
    design = design_with(ARM, band("40m"), band("20m"), band("17m"), capacitor={"esr": 0.08})
    found = find_coupling(design)
    assert found.varied == ("tap_at",)
    scanned = [worst_by_prediction(design, tap_at=place) for place in np.geomspace(0.06, 1.2, 40)]
    assert found.best.swr_worst <= min(scanned) + CLOSE
    assert worst_by_prediction(design, tap_at=found.best.coupling.tap_at) == pytest.approx(
        found.best.swr_worst, rel=1e-3, abs=0
    )
    assert found.rule is None
    edits = match_edits(found)
    assert list(edits) == ["coupling.tap_at"]
    assert "tapped at" in so_far(found.best)


def test_an_ideal_transformer_takes_the_root_of_the_resistances():
    # N^2 R = 50 ohm, R the series resistance at the gap (here from a prediction with a coupling loop, that one's left
    # out), the ring's current even at 0.02 wavelengths; a core of 1 mH a turn and no leakage is ideal to 1e-3.
    ideal = Core(inductance_factor=1e-3, q=1000.0, primary_turns=5, coupling_factor=1.0)
    design = design_with(around(ideal), at(1.9e6), capacitor={"esr": 0.35})
    parts = predict(built(at(1.9e6), capacitor={"esr": 0.35})).bands[0].resistance
    resistance = parts.radiation + parts.ring + parts.capacitor
    best = find_coupling(design).best
    assert best.coupling.core is not None
    turns = best.coupling.core.primary_turns
    assert turns == round(np.sqrt(50.0 / resistance))
    # One N^2 R to 50 ohm; what the core itself takes is below 1e-3.
    swr = max(turns**2 * resistance / 50.0, 50.0 / (turns**2 * resistance))
    assert best.swr_worst == pytest.approx(swr, rel=5e-3, abs=0)


def test_turns_are_tried_one_by_one_without_a_new_solution():
    core = Core(inductance_factor=0.1e-6, q=60.0, primary_turns=20, coupling_factor=0.98)
    design = design_with(around(core), band("40m"), band("20m"))
    trials = Trials(design)
    for turns in range(5, 25):
        trials.of(around(replace(core, primary_turns=turns)))
    assert len(trials.known) == 20
    assert trials._memory.solves == 1
    found = find_coupling(design)
    scanned = [worst_by_prediction(design, core=replace(core, primary_turns=turns)) for turns in range(1, 41)]
    assert found.best.swr_worst == pytest.approx(min(scanned), rel=1e-3, abs=0)
    (shift,) = match_document(found)["sensitivity"]
    assert (shift["key"], shift["step_m"], shift["step_turns"]) == ("turns", None, 1)
    best = scanned.index(min(scanned))
    assert shift["swr_worst_less"] == pytest.approx(scanned[best - 1], rel=1e-3, abs=0)
    assert shift["swr_worst_more"] == pytest.approx(scanned[best + 1], rel=1e-3, abs=0)
    assert match_edits(found) == {"coupling.turns": best + 1}
    assert so_far(found.best).startswith(f"best so far {best + 1} turns")
