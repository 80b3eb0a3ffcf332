# SPDX-License-Identifier: BSD-3-Clause
"""What reports say of a null, of the past, of two designs and of the light, in sentences; figures beside them."""

from collections.abc import Iterator, Sequence

from ringwright.air.comparison import Comparison
from ringwright.air.expected import Expected
from ringwright.air.history import CAN, CANNOT, FEWEST_DAYS, History
from ringwright.air.null_fit import PATTERN_CAN, PATTERN_CANNOT, NullFit
from ringwright.antenna.directions import Null


def comparison_notes(comparison: Comparison) -> Iterator[str]:
    """What belongs beside a verdict."""
    if comparison.left_out:
        yield (
            f"{comparison.left_out} pairs lay at the receivers' floor, where a weak antenna is heard only by luck, and "
            f"are left out."
        )
    if not comparison.heard_me:
        yield "This is of stations heard, noise included, not of being heard."


def promise_words(promise: Expected) -> str:
    """The designs' own difference beside the one that was found."""
    met = {True: " The two agree.", False: " The two do not agree.", None: ""}[promise.is_met]
    return (
        f"The designs promise {promise.difference:+.1f} dB ({promise.low:+.1f} to {promise.high:+.1f} with the "
        f"height of the layer) at the {promise.elevation_low:.0f} to {promise.elevation_high:.0f} degrees that "
        f"half of these paths take.{met}"
    )


def null_words(null: NullFit, *, plane: str) -> str:
    """Where the null lies, counted from `plane`, and how deep it is."""
    if not null.is_told:
        return (
            f"These {null.reports} reports of {null.receivers} receivers tell no null: it could lie anywhere within "
            f"{min(null.bearing_high - null.bearing_low, 180.0):.0f} of 180 degrees and be {null.depth_low:.0f} to "
            f"{null.depth_high:.0f} dB deep."
        )
    opposite = (null.bearing + 180.0) % 360.0
    return (
        f"The null lies {null.bearing:.0f} degrees ({null.bearing_low:.0f} to {null.bearing_high:.0f}) and "
        f"{opposite:.0f} degrees {plane}, {null.depth:.0f} dB deep ({null.depth_low:.0f} to {null.depth_high:.0f}), "
        f"from {null.reports} reports of {null.receivers} receivers."
    )


def predicted_null_words(predicted: Sequence[tuple[str, Null]]) -> Iterator[str]:
    """Those of a design, band by band."""
    for band, each in predicted:
        yield (
            f"predicted on {band}: true bearing {each.bearing_deg:.0f} degrees, {each.depth_db:.0f} dB deep at a "
            f"take-off angle of 20 degrees"
        )


def pattern_limits() -> str:
    """What a pattern from reports can and cannot say."""
    return f"{PATTERN_CAN} {PATTERN_CANNOT}"


def history_words(history: History) -> Iterator[str]:
    """One antenna against its own past, and how far that goes."""
    found = history.found
    if found is None:
        yield (
            f"Days with reports are {history.days_before} before and {history.days_after} after, with {history.pairs} "
            f"pairs: at least {FEWEST_DAYS} each are needed to tell the antenna from the sky."
        )
    else:
        yield (
            f"Since then the same receivers hear you {found.value:+.1f} dB ({found.low:+.1f} to {found.high:+.1f} with "
            f"95 % confidence, from {history.pairs} pairs)."
        )
    yield f"{CAN} {CANNOT}"
