# SPDX-License-Identifier: BSD-3-Clause
"""A comparison in one sentence, and what it takes to be surer."""

from ringwright.air.comparison import Comparison

SURE_OF_DIRECTION = 0.0
_MUCH = 0.5
"""Share of the variance from which on more of the same does little."""


def verdict(comparison: Comparison) -> str:
    """Better, worse or not told apart, by how much, how sure."""
    a, b, found = comparison.first, comparison.second, comparison.found
    from_ = f"{_counted(comparison.pairs, 'pair')} from {_counted(comparison.receivers, 'receiver')}"
    if found is None:
        return f"{a} and {b} cannot be compared yet: {from_} do not say how far they can be trusted."
    span = f"{found.low:+.1f} to {found.high:+.1f} dB with 95 % confidence, from {from_}"
    if found.low > SURE_OF_DIRECTION or found.high < -SURE_OF_DIRECTION:
        word = "better" if found.value > 0.0 else "worse"
        return f"{a} is {word} than {b} by {abs(found.value):.1f} dB (A minus B {span})."
    return f"{a} and {b} are not told apart: the difference is {found.value:+.1f} dB ({span})."


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def more(comparison: Comparison) -> str:
    """What it takes to know the difference within 1 dB."""
    found, needed = comparison.found, comparison.more_needed
    if found is None or needed is None:
        return "Alternate the antennas in short random slots, so that the same receivers report both close in time."
    if needed == 0:
        return "The difference is known to 1 dB or better."
    about = float(f"{needed:.2g}")
    words = f"It takes some {about:.0f} more pairs to know the difference within 1 dB"
    if found.of_times > max(_MUCH, found.of_receivers):
        return f"{words}, at other times of the day: what the sky did meanwhile is most of the doubt."
    if found.of_receivers > _MUCH:
        return f"{words}, from other receivers: that receivers differ is most of the doubt."
    return f"{words}."
