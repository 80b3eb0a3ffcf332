# SPDX-License-Identifier: BSD-3-Clause
"""A result in its document and back; one from a real proof; what is no result."""

import json
from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design, shipped_text
from ringwright.errors import RecordEntryError
from ringwright.proof.comparison import prove_sweep
from ringwright.proof.document import sweep_document
from ringwright.proof.estimate import Estimate, Flag
from ringwright.proof.sweep import Sweep, SweepKind
from ringwright.records.result import Result
from tests.records.recording import START, result

KEYS = (
    *("frequency_hz", "q_unloaded", "q_loaded", "coupling", "swr_min"),
    *("bandwidth_half_power_hz", "resistance_total_ohm", "efficiency_pct"),
)


def test_the_document_has_the_contract_s_keys():
    document = result().to_document()
    assert document.keys() == {f"{key}{end}" for key in KEYS for end in ("", "_low", "_high")} | {
        "flags",
        "notes",
    }
    assert Result.from_document(document) == result()
    assert Result.from_document(json.loads(result().to_text())) == result()


def test_a_transmission_has_no_swr():
    without = replace(result(), swr_min=None)
    assert without.to_document()["swr_min_low"] is None
    assert Result.from_document(without.to_document()) == without


def test_a_real_proof_is_kept_as_it_is(records):
    design = shipped_design(TERRACE_OCTAGON)
    prediction = predict(design)
    band = prediction.bands[1]
    width = band.bandwidth_half_power
    f = np.linspace(band.frequency - 6 * width, band.frequency + 6 * width, 101)
    noise = np.random.default_rng(3).normal(scale=1e-3, size=(2, len(f)))
    response = band.point.tuned.reflection(f) + noise[0] + 1j * noise[1]
    for kind in (SweepKind.REFLECTION, SweepKind.SWR):
        seen = response if kind is SweepKind.REFLECTION else abs(response).astype(complex)
        sweep = Sweep(source="sweep.s1p", kind=kind, frequency=f, response=seen)
        comparison = prove_sweep(design, prediction, sweep)
        said = Result.of(comparison)
        records.add_sweep(
            kind.value.encode(),
            name="sweep.s1p",
            measured_at=START,
            design=shipped_text(TERRACE_OCTAGON),
            result=said,
            band=comparison.band.band,
        )
        in_proof = sweep_document(comparison)
        assert said.to_document() == {key: in_proof[key] for key in said.to_document()}
        kept = records.sweeps()[-1]
        assert kept.result == said
        assert kept.band == band.band
        assert kept.result.q_unloaded == comparison.fit.q_unloaded
        assert kept.result.resistance_total == comparison.resistance_total


@pytest.mark.parametrize(
    "wrong",
    [
        {"q_unloaded": Estimate(value=600.0, low=610.0, high=620.0)},
        {"q_unloaded": Estimate(value=600.0, low=0.0, high=620.0)},
        {"frequency": Estimate(value=7e6, low=-1.0, high=8e6)},
        {"coupling": Estimate(value=1.0, low=0.5, high=float("inf"))},
        {"efficiency_pct": Estimate.exact(float("nan"))},
        {"q_loaded": None},
        {"flags": (Flag(code="x", text="a\x1b[0mb"),)},
    ],
)
def test_what_is_no_result_is_refused(wrong):
    with pytest.raises(RecordEntryError):
        replace(result(), **wrong)
