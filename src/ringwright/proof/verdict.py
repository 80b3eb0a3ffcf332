# SPDX-License-Identifier: BSD-3-Clause
"""What was found, in the words of a builder: a sentence for each sweep, and where its watts go."""

from dataclasses import asdict

from ringwright.proof.comparison import Comparison
from ringwright.proof.suspects import Cause
from ringwright.proof.sweep import SweepKind

UNEXPLAINED = "unexplained"
CAUSES = {
    Cause.JOINTS: "joints",
    Cause.CAPACITOR: "capacitor",
    Cause.CONDUCTOR: "ring's conductor",
    Cause.EARTH: "earth",
    Cause.METAL: "metal nearby",
    Cause.COUPLING: "coupling",
    Cause.FEED_LINE: "feedline",
    Cause.NONE: "nothing wrong",
}
_ADDRESS_OF = {"radiation": "sky"}


def verdict(comparison: Comparison) -> str:
    """One sentence: the measured Q beside the predicted one, and whether they agree."""
    measured, predicted = comparison.fit.q_unloaded, comparison.as_predicted.q_unloaded.value
    low, high = predicted_range(comparison)
    found = f"Q {measured.value:.0f} ({measured.low:.0f} to {measured.high:.0f})"
    expected = f"{predicted:.0f} ({low:.0f} to {high:.0f}) predicted"
    if measured.low > high:
        return f"{found}, better than the {expected}: it loses less than the design says, or radiates more."
    if measured.high < low:
        more = 100.0 * (predicted / measured.value - 1.0)
        return f"{found} where {expected}: {more:.0f} % more resistance than the design says."
    return f"{found}, within the {expected}."


def predicted_range(comparison: Comparison) -> tuple[float, float]:
    """The 10 to 90 % range of the predicted Q, about the Q that the same fit finds in the predicted sweep."""
    band, predicted = comparison.band, comparison.as_predicted.q_unloaded.value
    low, high = band.range.get("q_unloaded", (band.q_unloaded, band.q_unloaded))
    return predicted * low / band.q_unloaded, predicted * high / band.q_unloaded


def match_words(comparison: Comparison) -> str | None:
    """What the coupling does; None where a sweep does not tell."""
    if comparison.fit.kind is SweepKind.TRANSMISSION or comparison.fit.swr_min is None:
        return None
    coupling, swr = comparison.fit.coupling, comparison.fit.swr_min
    side = (
        "over-coupled" if coupling.low > 1.0 else "under-coupled" if coupling.high < 1.0 else "about matched"
    )
    return f"SWR {swr.value:.2f} ({swr.low:.2f} to {swr.high:.2f}) at best, {side}: coupling {coupling.value:.2f}"


def watts_found(comparison: Comparison) -> dict[str, float]:
    """Share of the power in the ring at each address [%], and what the design does not explain.

    Each address keeps its predicted resistance; what is measured beyond their sum is unexplained. Where less is
    measured than predicted, all of them share the difference and nothing is left.
    """
    resistance = asdict(comparison.band.resistance)
    resistance.pop("total")
    ohms = {_ADDRESS_OF.get(name, name): value for name, value in resistance.items() if value is not None}
    measured = max(comparison.resistance_total.value, sum(ohms.values()))
    shares = {name: 100.0 * value / measured for name, value in ohms.items()}
    return shares | {UNEXPLAINED: max(100.0 - sum(shares.values()), 0.0)}
