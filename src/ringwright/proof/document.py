# SPDX-License-Identifier: BSD-3-Clause
"""The proof as a JSON document, `ringwright.proof/1`."""

import math
from typing import Any

from ringwright.proof.comparison import Comparison
from ringwright.proof.diagnosis_document import diagnosis_document, next_measurement_document
from ringwright.proof.estimate import Estimate
from ringwright.proof.proving import Proof
from ringwright.proof.verdict import match_words, predicted_range, verdict, watts_found

SCHEMA = "ringwright.proof/1"


def proof_document(proof: Proof) -> dict[str, Any]:
    """SI units in the keys' names; None for what a sweep does not tell."""
    following = [next_measurement_document(each) for each in proof.next_measurements]
    return {
        "schema": SCHEMA,
        "design": proof.design.name,
        "sweeps": [sweep_document(each) for each in proof.comparisons],
        "diagnosis": diagnosis_document(proof.diagnosis),
        "not_told_apart": [cause.value for cause in proof.diagnosis.not_told_apart],
        "next_measurement": following[0] if following else None,
        "other_measurements": following[1:],
    }


def sweep_document(comparison: Comparison) -> dict[str, Any]:
    """One entry of `sweeps`."""
    fit, band = comparison.fit, comparison.band
    low, high = predicted_range(comparison)
    return {
        "file": fit.source,
        "kind": fit.kind.value,
        "band": band.band,
        **_with_ends("frequency_hz", fit.frequency),
        **_with_ends("q_unloaded", fit.q_unloaded),
        **_with_ends("q_loaded", fit.q_loaded),
        **_with_ends("coupling", fit.coupling),
        **_with_ends("swr_min", fit.swr_min),
        **_with_ends("bandwidth_half_power_hz", fit.bandwidth_half_power),
        **_with_ends("resistance_total_ohm", comparison.resistance_total),
        **_with_ends("efficiency_pct", comparison.efficiency_pct),
        "flags": [flag.code for flag in fit.flags],
        "notes": [flag.text for flag in fit.flags],
        "verdict": verdict(comparison),
        "match": match_words(comparison),
        "predicted": {
            "q_unloaded": comparison.as_predicted.q_unloaded.value,
            "q_unloaded_range": [low, high],
            "coupling": comparison.as_predicted.coupling.value,
            "efficiency_pct": band.efficiency_sky_pct,
            "resistance_total_ohm": band.resistance.total,
        },
        "radiation_resistance_ohm": comparison.radiation_resistance.value,
        "feedline_loss_db": comparison.feedline_loss,
        **_with_ends("loss_found_db", comparison.loss_found),
        "watts_found_pct": watts_found(comparison),
    }


def _with_ends(key: str, estimate: Estimate | None) -> dict[str, float | None]:
    """A figure with both ends of its 95 % interval."""
    if estimate is None:
        return {key: None, f"{key}_low": None, f"{key}_high": None}
    return {
        key: _finite(estimate.value),
        f"{key}_low": _finite(estimate.low),
        f"{key}_high": _finite(estimate.high),
    }


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None
