# SPDX-License-Identifier: BSD-3-Clause
"""The diagnosis and the next measurement as the contract's JSON, with a few keys more."""

from typing import Any

from ringwright.proof.diagnosis import Diagnosis, Suspect
from ringwright.proof.next_measurement import NextMeasurement


def diagnosis_document(diagnosis: Diagnosis) -> list[dict[str, Any]]:
    """All causes, most probable first."""
    return [_suspect_document(suspect) for suspect in diagnosis.suspects]


def next_measurement_document(measurement: NextMeasurement) -> dict[str, Any]:
    """What to do, the two suspects it tells apart best, and what it is expected to tell."""
    return {
        "do": measurement.do,
        "separates": [cause.value for cause in measurement.separates],
        "expected_information_bits": measurement.expected_information_bits,
        "is_worth_making": measurement.is_worth_making,
    }


def _suspect_document(suspect: Suspect) -> dict[str, Any]:
    resistance, gain, size = suspect.resistance, suspect.gain_db, suspect.size
    return {
        "cause": suspect.cause.value,
        "probability": suspect.probability,
        "resistance_ohm": resistance.value,
        "resistance_ohm_low": resistance.low,
        "resistance_ohm_high": resistance.high,
        "at_frequency_hz": suspect.at_frequency,
        "gain_db": gain.value,
        "gain_db_low": gain.low,
        "gain_db_high": gain.high,
        "gain_at_frequency_hz": suspect.gain_frequency,
        "gains_db": list(suspect.gains_db),
        "size": size
        and {
            "what": size.what,
            "unit": size.unit,
            "value": size.value.value,
            "low": size.value.low,
            "high": size.value.high,
        },
    }
