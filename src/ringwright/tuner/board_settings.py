# SPDX-License-Identifier: BSD-3-Clause
"""What a board has to know of its own drive and meter, kept in its flash. Plain Python that MicroPython runs, too.

The defaults move a bare motor gently and take every detector for a sensitive one: a meter that nobody has calibrated
reads too much power, which holds the drive still, never too little.
"""

import json

from ringwright.tuner.board_orders import is_number
from ringwright.tuner.line_check import is_whole, sealed

MOST_POINTS = 8
DEFAULTS = {
    "reversed": False,
    "speed": 400,
    "acceleration": 800,
    "seek_speed": 200,
    "travel": 16000,
    "stop_at": None,
    "high_stop_at": None,
    "switch_slack": 40,
    "forward_points": [[100.0, 0.0], [200.0, 10.0]],
    "reflected_points": [[100.0, 0.0], [200.0, 10.0]],
}
_RANGES = {
    "speed": (1, 20_000),
    "acceleration": (10, 1_000_000),
    "seek_speed": (1, 20_000),
    "travel": (1, 2**30),
    "stop_at": (-(2**30), 2**30),
    "high_stop_at": (-(2**30), 2**30),
    "switch_slack": (0, 100_000),
}
_MAY_BE_NONE = ("stop_at", "high_stop_at")


def why_not(key: str, value: object) -> str | None:
    """What is wrong with a value for a setting; None where it fits."""
    if key not in DEFAULTS:
        return "there is no setting of that name"
    if key == "reversed":
        return None if isinstance(value, bool) else key + " must be true or false"
    if key not in _RANGES:
        return None if _are_points(value) else key + _POINTS
    if value is None and key in _MAY_BE_NONE:
        return None
    low, high = _RANGES[key]
    if is_number(value, low, high):
        return None
    return key + " must be a whole number from " + str(low) + " to " + str(high)


_POINTS = " must be 1 to 8 pairs of millivolts, each at least 1 above the last, and growing watts"


def _are_points(value: object) -> bool:
    if not isinstance(value, list) or not 1 <= len(value) <= MOST_POINTS:
        return False
    before = (-1.0, -1.0)
    for pair in value:
        if not isinstance(pair, list) or len(pair) != 2 or not all(_is_measure(x) for x in pair):
            return False
        if not (before[0] + 1.0 <= pair[0] and before[1] < pair[1]):
            return False
        before = (pair[0], pair[1])
    return before[0] >= 1.0 and before[1] > 0.0


def _is_measure(value: object) -> bool:
    return not isinstance(value, bool) and isinstance(value, (int, float)) and 0.0 <= value <= 10_000.0


class Settings:
    """The values in force: defaults, over them what a settings file gives, over that what was learnt.

    `store` has two slots, `read(slot)` and `write(slot, text)`. What was learnt is written whole into the slot that
    does not hold the newest, so that a cut at any octet leaves the one before.
    """

    def __init__(self, store, given) -> None:
        self._store = store
        self._slot, self._number = 1, 0
        self._learnt: dict[str, object] = {}
        self.values: dict[str, object] = dict(DEFAULTS)
        for slot in (0, 1):
            number, learnt = _read(store.read(slot))
            if number > self._number:
                self._slot, self._number, self._learnt = slot, number, learnt
        for values in (given, self._learnt):
            for key in values:
                if why_not(key, values[key]) is None:
                    self.values[key] = values[key]

    def set(self, key: str, value: object) -> str | None:
        """Remember one setting; why not, None once it is kept."""
        why = why_not(key, value)
        if why is not None:
            return why
        learnt = dict(self._learnt)
        learnt[key] = value
        try:
            self._store.write(
                1 - self._slot, sealed(json.dumps({"number": self._number + 1, "learnt": learnt}))
            )
        except OSError:
            return "the flash cannot be written"
        self._slot, self._number, self._learnt = 1 - self._slot, self._number + 1, learnt
        self.values[key] = value
        return None


def _read(text: str):
    """Number and values of a slot, 0 and none where it is empty or torn."""
    if not is_whole(text):
        return 0, {}
    found = json.loads(text)
    return found["number"], found["learnt"]


def watts(millivolts: float, points) -> float:
    """Power of a detector's voltage: its square root goes straight from point to point, and on beyond the last.

    Below a first point above 0 W it goes to 0 W at 0 mV: a diode detector's voltage follows that of the line.
    """
    points = list(points)
    if points[0][1] > 0.0:
        points.insert(0, [0.0, 0.0])
    if millivolts <= points[0][0]:
        return 0.0
    upper = 1
    while upper < len(points) - 1 and points[upper][0] < millivolts:
        upper += 1
    (low_mv, low_w), (high_mv, high_w) = points[upper - 1], points[upper]
    low, high = low_w**0.5, high_w**0.5
    root = low + (high - low) * (millivolts - low_mv) / (high_mv - low_mv)
    return float(root * root)
