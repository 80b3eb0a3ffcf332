# SPDX-License-Identifier: BSD-3-Clause
"""Orders as the board reads them from a line. Plain Python that MicroPython runs, too."""

import json

from ringwright.tuner.line_check import is_whole

VERSION = 2
LONGEST_LINE = 1000
_FIELDS = {
    "hello": (),
    "heartbeat": (),
    "move": ("to", "speed"),
    "stop": (),
    "ends": ("low", "high"),
    "limit": ("tuning_power_w",),
    "position": ("is", "sure"),
    "reference": (),
    "inhibit": ("on",),
    "settings": (),
    "set": ("key", "value"),
}
_FLAGS = ("sure", "on")
_MOST_STEPS = 2**31 - 1
_MOST_NUMBER = 2**53 - 1


def order_in(line: str):
    """The order in a line as a dictionary, None where it is not exactly one."""
    if len(line) > LONGEST_LINE or not is_whole(line):
        return None
    found = _object(line)
    if not is_number(found.get("v"), VERSION, VERSION):
        return None
    do = found.get("do")
    if not isinstance(do, str) or do not in _FIELDS or not is_number(found.get("seq"), 0, _MOST_NUMBER):
        return None
    return found if all(name in found and _fits(name, found[name]) for name in _FIELDS[do]) else None


def seq_of_another_version(line: str) -> int | None:
    """The number of an order of another version; of one without a check sum, too, since version 1 had none."""
    found = _object(line)
    if "crc" in found and not is_whole(line):
        return None
    version, seq = found.get("v"), found.get("seq")
    if not is_number(version, 0, _MOST_STEPS) or version == VERSION or not isinstance(found.get("do"), str):
        return None
    return seq if is_number(seq, 0, _MOST_NUMBER) else None


def is_number(value: object, low: int, high: int) -> bool:
    """Whether a value is a whole number of that range."""
    return isinstance(value, int) and not isinstance(value, bool) and low <= value <= high


def _object(line: str):
    """The JSON object in a line, an empty one where there is none."""
    if len(line) > LONGEST_LINE:
        return {}
    try:
        found = json.loads(line)
    except (ValueError, RuntimeError):  # nested too deep is a RuntimeError
        return {}
    return found if isinstance(found, dict) else {}


def _fits(name: str, value: object) -> bool:
    if name in _FLAGS:
        return isinstance(value, bool)
    if name == "key":
        return isinstance(value, str)
    if name == "value":
        return True  # the settings judge it
    if name == "speed":
        return value is None or is_number(value, 1, _MOST_STEPS)
    if name == "tuning_power_w":
        return isinstance(value, float) or is_number(value, 0, _MOST_STEPS)
    return is_number(value, -_MOST_STEPS, _MOST_STEPS)
