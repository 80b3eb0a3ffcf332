# SPDX-License-Identifier: BSD-3-Clause
"""What reports say, as the document `ringwright.air/1`."""

from collections.abc import Sequence
from typing import Any

from ringwright.air.comparison import Comparison
from ringwright.air.reports import Reading
from ringwright.air.summary import BandSummary

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
