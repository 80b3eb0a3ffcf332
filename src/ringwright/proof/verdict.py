# SPDX-License-Identifier: BSD-3-Clause
"""What was found, in the words of a builder: a sentence for each sweep, and where its watts go."""

from dataclasses import asdict

from ringwright.proof.comparison import Comparison
from ringwright.proof.diagnosis import Suspect
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
_CURES = {
    Cause.METAL: "taking it away",
    Cause.EARTH: "the declared earth",
    Cause.CONDUCTOR: "the declared one",
}
_METAL = "sweeps tell what it takes from the ring, not what of that it sends into the sky"
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


def gain_words(suspect: Suspect) -> str:
    """What the cure brings or costs in the sky, in tenths of a decibel, and in words which of the two."""
    gain = suspect.gain_db
    value, low, high = (round(each, 1) + 0.0 for each in (gain.value, gain.low, gain.high))
    cure, at = _CURES.get(suspect.cause, "mending it"), f"on {suspect.gain_frequency / 1e6:.4g} MHz"
    if low == high == 0.0:
        return f"{cure} changes less than 0.1 dB {at}"
    if low < 0.0 < high:
        words = f"{cure} may cost {-low:.1f} dB or bring {high:.1f} dB {at}"
    elif low < 0.0:
        words = f"{cure} costs {-value:.1f} dB ({abs(high):.1f} to {-low:.1f}) {at}"
    else:
        words = f"{cure} brings {value:.1f} dB ({low:.1f} to {high:.1f}) {at}"
    return words if suspect.cause is not Cause.METAL else f"{words}: {_METAL}"


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
