# SPDX-License-Identifier: BSD-3-Clause
"""The fields document: E and H at places on the site, SI with the unit in each key."""

from typing import Any

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.site_fields import FieldAtPoint, fields_at
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray

SCHEMA = "ringwright.fields/1"


def fields_document(design: Design, prediction: Prediction, places: FloatArray) -> dict[str, Any]:
    """Fields of a predicted design at places (n, 3) [m], on every band, at its power and unmodulated.

    Raises
    ------
    OutOfRangeError
        If a place lies inside a conductor or in the earth.
    """
    return {
        "schema": SCHEMA,
        "design": prediction.design,
        "power_w": design.power,
        "bands": [
            {
                "band": band.band,
                "frequency_hz": band.frequency,
                "points": [_point(field) for field in fields_at(design, band.point, places)],
            }
            for band in prediction.bands
        ],
    }


def _point(field: FieldAtPoint) -> dict[str, Any]:
    return {
        "at_m": field.at.tolist(),
        "e_rms_v_per_m": field.e_rms,
        "h_rms_a_per_m": field.h_rms,
        "e_peak_v_per_m": field.e_peak,
        "h_peak_a_per_m": field.h_peak,
        "e_components_rms_v_per_m": _components(field.electric),
        "h_components_rms_a_per_m": _components(field.magnetic),
    }


def _components(phasor: ComplexArray) -> list[list[float]]:
    """x, y and z as [real, imaginary]."""
    return [[float(part.real), float(part.imag)] for part in phasor]
