# SPDX-License-Identifier: BSD-3-Clause
"""What reports say, as the document `ringwright.air/1`."""

from collections.abc import Sequence
from typing import Any

from ringwright.air.comparison import Comparison
from ringwright.air.expected import Expected
from ringwright.air.history import CAN, CANNOT, History
from ringwright.air.null_fit import PATTERN_CAN, PATTERN_CANNOT, NullFit
from ringwright.air.reports import Reading
from ringwright.air.summary import LIGHTS, BandSummary, LightTable
from ringwright.antenna.directions import Null

SCHEMA = "ringwright.air/1"


def air_document(
    reading: Reading, bands: Sequence[BandSummary], *, comparison: Comparison | None, locator: str | None
) -> dict[str, Any]:
    """Plain values. Distances are null without one's own locator; `more_needed` counts pairs to +-1 dB."""
    return {
        "schema": SCHEMA,
        "locator": locator,
        "reports": {
            "read": reading.read,
            "kept": len(reading.reports),
            "rejected": [
                {"row": each.row, "reason": each.reason, "file": each.file, "line": each.line}
                for each in reading.rejected
            ],
        },
        "bands": [
            {
                "band": each.band,
                "count": each.count,
                "distance_max_m": each.distance_max,
                "distance_median_m": each.distance_median,
                "snr_median_db": each.snr_median,
            }
            for each in bands
        ],
        "comparison": None if comparison is None else comparison_document(comparison),
    }


def light_document(table: LightTable) -> dict[str, Any]:
    """Reports by the light at either end; rows of `both` are the light here, columns that at the receivers."""
    names = [each.name.lower() for each in LIGHTS]
    return {
        "order": names,
        "here": dict(zip(names, table.here, strict=True)),
        "there": dict(zip(names, table.there, strict=True)),
        "both": [list(row) for row in table.both],
        "place_unknown": sum(table.placeless),
    }


def null_document(found: NullFit, predicted: Sequence[tuple[str, Null]]) -> dict[str, Any]:
    """The null that reports tell, and the predicted one of each band; bearings are of one end of it."""
    return {
        "bearing_deg": found.bearing,
        "bearing_low_deg": found.bearing_low,
        "bearing_high_deg": found.bearing_high,
        "depth_db": found.depth,
        "depth_low_db": found.depth_low,
        "depth_high_db": found.depth_high,
        "receivers": found.receivers,
        "reports": found.reports,
        "is_turned": found.is_turned,
        "is_told": found.is_told,
        "predicted": [
            {"band": band, "bearing_deg": null.bearing_deg, "depth_db": null.depth_db}
            for band, null in predicted
        ],
        "says": PATTERN_CAN,
        "does_not_say": PATTERN_CANNOT,
    }


def expected_document(found: Expected) -> dict[str, Any]:
    """What two designs promise at the angles of the pairs' paths."""
    return {
        "difference_db": found.difference,
        "low_db": found.low,
        "high_db": found.high,
        "elevation_low_deg": found.elevation_low,
        "elevation_high_deg": found.elevation_high,
        "pairs": found.pairs,
        "is_met": found.is_met,
    }


def history_document(history: History) -> dict[str, Any]:
    """One antenna against its own past."""
    found = history.found
    return {
        "difference_db": None if found is None else found.value,
        "low_db": None if found is None else found.low,
        "high_db": None if found is None else found.high,
        "pairs": history.pairs,
        "days_before": history.days_before,
        "days_after": history.days_after,
        "says": CAN,
        "does_not_say": CANNOT,
    }


def comparison_document(comparison: Comparison) -> dict[str, Any]:
    """A comparison as plain values; figures are null where its pairs do not say."""
    found = comparison.found
    return {
        "a": comparison.first,
        "b": comparison.second,
        "difference_db": comparison.difference,
        "low_db": None if found is None else found.low,
        "high_db": None if found is None else found.high,
        "pairs": comparison.pairs,
        "receivers": comparison.receivers,
        "more_needed": comparison.more_needed,
        "within_s": comparison.within,
        "direction": "heard me" if comparison.heard_me else "heard by me",
        "left_out_at_floor": comparison.left_out,
        "spread_db": None if found is None else found.spread,
        "of_receivers_pct": None if found is None else 100.0 * found.of_receivers,
        "of_times_pct": None if found is None else 100.0 * found.of_times,
    }
