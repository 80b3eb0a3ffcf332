# SPDX-License-Identifier: BSD-3-Clause
"""The prediction as a JSON document, `ringwright.prediction/1`."""

import math
from typing import Any

from ringwright.antenna.figures.table import FIGURES
from ringwright.antenna.prediction import BandPrediction, Prediction

SCHEMA = "ringwright.prediction/1"


def to_json(prediction: Prediction) -> dict[str, Any]:
    """Plain dicts, lists, str, bool, int and finite float; None for what cannot be had.

    Every key is always there, but those of a group that is null as a whole: `drive` without a drive. What each figure
    means is in the table of figures, under the same dotted key.
    """
    return {
        "schema": SCHEMA,
        "design": prediction.design,
        "calibration": prediction.calibration,
        "defaults_used": list(prediction.defaults_used),
        "warnings": [
            {"code": notice.code, "text": notice.text, "band": notice.band} for notice in prediction.warnings
        ],
        "bands": [_band(band) for band in prediction.bands],
    }


def _band(band: BandPrediction) -> dict[str, Any]:
    document: dict[str, Any] = {}
    for key, figure in FIGURES.items():
        *tables, name = key.split(".")
        if figure.is_left_out(band):
            document[tables[0]] = None
            continue
        place = document
        for table in tables:
            place = place.setdefault(table, {})
        place[name] = _plain(figure.of(band))
    document["range"] = {
        key: [_plain(low), _plain(high)]
        for key, (low, high) in band.range.items()
        if math.isfinite(low) and math.isfinite(high)
    }
    document["range_led_by"] = dict(band.range_led_by)
    return document


def _plain(value: float | bool | str | None) -> float | bool | str | None:
    """Without numpy's types, and without the numbers JSON does not have."""
    if value is None or isinstance(value, str | bool):
        return value
    number = float(value)
    return number if math.isfinite(number) else None
