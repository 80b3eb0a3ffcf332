# SPDX-License-Identifier: BSD-3-Clause
"""Lines of the link, written and read. A line that is not exactly one of ours is refused with one sentence.

Version and check sum are looked at before anything else: no digit of a garbled line is believed.
"""

import json
from collections.abc import Callable
from typing import NoReturn

from ringwright.errors import LinkMessageError, LinkVersionError
from ringwright.tuner.line_check import is_whole, sealed
from ringwright.tuner.messages import (
    LONGEST_LINE,
    LONGEST_WHY,
    MOST_NUMBER,
    MOST_POWER,
    MOST_SPEED,
    MOST_STEPS,
    VERSION,
    Acknowledgement,
    AskSettings,
    BoardLine,
    BoardSettings,
    Ends,
    Heartbeat,
    Hello,
    HostLine,
    Inhibit,
    Limit,
    Move,
    Order,
    Position,
    Reference,
    SetSetting,
    Status,
    Stop,
    StoppedBy,
)

_COLDEST, _HOTTEST = -100.0, 500.0
_QUIETEST, _LOUDEST = -300.0, 300.0
MOST_MILLIVOLTS = 1e6


def host_text(line: HostLine) -> str:
    """The line that carries an order, without its line end."""
    return _line({"v": VERSION, "seq": line.seq} | _order_fields(line.order))


def _order_fields(order: Order) -> dict[str, object]:
    fields: dict[str, object] = {}
    match order:
        case Move(to, speed):
            fields = {"to": to, "speed": speed}
        case Ends(low, high):
            fields = {"low": low, "high": high}
        case Limit(tuning_power):
            fields = {"tuning_power_w": tuning_power}
        case Position(at, is_sure):
            fields = {"is": at, "sure": is_sure}
        case Inhibit(is_on):
            fields = {"on": is_on}
        case SetSetting(key, value):
            fields = {"key": key, "value": value}
    return {"do": _DO[type(order)]} | fields


def board_text(line: BoardLine) -> str:
    """The line that carries an acknowledgement or a status, without its line end."""
    match line:
        case Acknowledgement():
            fields: dict[str, object] = {
                "answers": line.answers, "ok": line.is_done, "why": line.why, "newest": line.newest,
            }  # fmt: skip
        case BoardSettings():
            fields = {"settings": line.values}
        case Status():
            fields = {
                "at": line.at,
                "sure": line.is_sure,
                "moving": line.is_moving,
                "to": line.to,
                "over": line.over,
                "forward_w": line.forward_power,
                "reflected_w": line.reflected_power,
                "forward_mv": line.forward_mv,
                "reflected_mv": line.reflected_mv,
                "temperature_c": line.temperature_c,
                "noise_db": line.noise_db,
                "inhibit": line.is_inhibited,
                "low_stop": line.low_stop,
                "high_stop": line.high_stop,
                "boots": line.boots,
                "ms": line.milliseconds,
                "ends": line.ends,
                "stopped_by": line.stopped_by,
            }
    return _line({"v": VERSION, "seq": line.seq} | fields)


def _line(fields: dict[str, object]) -> str:
    return sealed(json.dumps(fields, separators=(",", ":")))


def parse_host_line(text: str) -> HostLine:
    """The order in a line; raises LinkMessageError."""
    fields = _object(text)
    do = fields.get("do")
    if not isinstance(do, str) or do not in _ORDERS:
        raise LinkMessageError("do", f"must be one of {', '.join(_ORDERS)}", text)
    keys, make = _ORDERS[do]
    _expect_keys(fields, keys | {"do"}, text)
    return HostLine(_whole(fields, "seq", low=0, high=MOST_NUMBER), make(fields))


def parse_board_line(text: str) -> BoardLine:
    """The acknowledgement or status in a line; raises LinkMessageError."""
    fields = _object(text)
    if "answers" in fields:
        _expect_keys(fields, _ACKNOWLEDGEMENT_KEYS, text)
        return Acknowledgement(
            seq=_whole(fields, "seq", low=0, high=MOST_NUMBER),
            answers=_whole(fields, "answers", low=0, high=MOST_NUMBER),
            is_done=_flag(fields, "ok"),
            why=_why(fields),
            newest=None if fields["newest"] is None else _whole(fields, "newest", low=0, high=MOST_NUMBER),
        )
    if "settings" in fields:
        _expect_keys(fields, _FRAME | {"settings"}, text)
        return BoardSettings(_whole(fields, "seq", low=0, high=MOST_NUMBER), _settings(fields))
    _expect_keys(fields, _STATUS_KEYS, text)
    return Status(
        seq=_whole(fields, "seq", low=0, high=MOST_NUMBER),
        at=_steps(fields, "at"),
        is_sure=_flag(fields, "sure"),
        is_moving=_flag(fields, "moving"),
        to=None if fields["to"] is None else _steps(fields, "to"),
        over=_pair(fields, "over"),
        forward_power=_number(fields, "forward_w", low=0.0, high=MOST_POWER),
        reflected_power=_number(fields, "reflected_w", low=0.0, high=MOST_POWER),
        temperature_c=_number_or_none(fields, "temperature_c", low=_COLDEST, high=_HOTTEST),
        noise_db=_number_or_none(fields, "noise_db", low=_QUIETEST, high=_LOUDEST),
        is_inhibited=_flag(fields, "inhibit"),
        boots=_whole(fields, "boots", low=0, high=MOST_STEPS),
        milliseconds=_whole(fields, "ms", low=0, high=MOST_NUMBER),
        ends=_ends(fields),
        stopped_by=_stopped_by(fields),
        forward_mv=_number_or_none(fields, "forward_mv", low=-MOST_MILLIVOLTS, high=MOST_MILLIVOLTS),
        reflected_mv=_number_or_none(fields, "reflected_mv", low=-MOST_MILLIVOLTS, high=MOST_MILLIVOLTS),
        low_stop=_flag_or_none(fields, "low_stop"),
        high_stop=_flag_or_none(fields, "high_stop"),
    )


def _object(text: str) -> dict[str, object]:
    if len(text) > LONGEST_LINE:
        raise LinkMessageError("line", f"is longer than {LONGEST_LINE} characters", text)
    try:
        found = json.loads(text, object_pairs_hook=_without_repeats, parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise LinkMessageError("line", f"is not one JSON object: {error}", text) from error
    if not isinstance(found, dict):
        raise LinkMessageError("line", "is not one JSON object", text)
    _expect_version(found, text)
    if not is_whole(text):
        raise LinkMessageError("crc", "is not the check sum of the line, which was garbled on its way", text)
    del found["crc"]
    return found


def _expect_version(found: dict[str, object], text: str) -> None:
    """Refuse another version; one that a garbled line names is not believed."""
    version = found.get("v")
    if type(version) is not int:
        raise LinkMessageError("v", f"must be {VERSION}, the protocol version this program speaks", text)
    if version != VERSION and ("crc" not in found or is_whole(text)):
        raise LinkVersionError(version, VERSION)


def _without_repeats(pairs: list[tuple[str, object]]) -> dict[str, object]:
    fields = dict(pairs)
    if len(fields) != len(pairs):
        raise ValueError("a key stands twice")
    return fields


def _no_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is no number")


def _expect_keys(fields: dict[str, object], keys: frozenset[str], text: str) -> None:
    if fields.keys() != keys:
        missing = sorted(keys - fields.keys())
        what = f"misses {', '.join(missing)}" if missing else "has more keys than it should"
        raise LinkMessageError("line", what, text)


def _whole(fields: dict[str, object], key: str, *, low: int, high: int) -> int:
    value = fields[key]
    if type(value) is not int or not low <= value <= high:
        raise LinkMessageError(key, f"must be a whole number from {low} to {high}", value)
    return value


def _steps(fields: dict[str, object], key: str) -> int:
    return _whole(fields, key, low=-MOST_STEPS, high=MOST_STEPS)


def _speed(fields: dict[str, object]) -> int | None:
    return None if fields["speed"] is None else _whole(fields, "speed", low=1, high=MOST_SPEED)


def _number(fields: dict[str, object], key: str, *, low: float, high: float) -> float:
    value = fields[key]
    if type(value) not in {int, float} or not low <= value <= high:  # type: ignore[operator]
        raise LinkMessageError(key, f"must be a number from {low:g} to {high:g}", value)
    return float(value)  # type: ignore[arg-type]


def _number_or_none(fields: dict[str, object], key: str, *, low: float, high: float) -> float | None:
    return None if fields[key] is None else _number(fields, key, low=low, high=high)


def _flag(fields: dict[str, object], key: str) -> bool:
    value = fields[key]
    if not isinstance(value, bool):
        raise LinkMessageError(key, "must be true or false", value)
    return value


def _flag_or_none(fields: dict[str, object], key: str) -> bool | None:
    return None if fields[key] is None else _flag(fields, key)


def _settings(fields: dict[str, object]) -> dict[str, object]:
    value = fields["settings"]
    if not isinstance(value, dict):
        raise LinkMessageError("settings", "must be a JSON object", value)
    return value


def _text(fields: dict[str, object], key: str) -> str:
    value = fields[key]
    if not isinstance(value, str):
        raise LinkMessageError(key, "must be a text", value)
    return value


def _pair(fields: dict[str, object], key: str) -> tuple[int, int]:
    value = fields[key]
    if not isinstance(value, list) or len(value) != 2:
        raise LinkMessageError(key, "must be two whole numbers", value)
    return _steps({key: value[0]}, key), _steps({key: value[1]}, key)


def _ends(fields: dict[str, object]) -> tuple[int, int] | None:
    if fields["ends"] is None:
        return None
    low, high = _pair(fields, "ends")
    if low > high:
        raise LinkMessageError("ends", "must be the low end, then the high one", fields["ends"])
    return low, high


def _stopped_by(fields: dict[str, object]) -> StoppedBy | None:
    value = fields["stopped_by"]
    if value is None:
        return None
    try:
        return StoppedBy(value)  # type: ignore[arg-type]
    except ValueError:
        known = ", ".join(StoppedBy)
        raise LinkMessageError("stopped_by", f"must be null or one of {known}", value) from None


def _why(fields: dict[str, object]) -> str | None:
    value = fields["why"]
    if value is not None and not (isinstance(value, str) and len(value) <= LONGEST_WHY):
        raise LinkMessageError("why", f"must be null or a text of at most {LONGEST_WHY} characters", value)
    return value


def _ordered_ends(fields: dict[str, object]) -> Ends:
    low, high = _steps(fields, "low"), _steps(fields, "high")
    if low > high:
        raise LinkMessageError("low", "must not be above high", low)
    return Ends(low, high)


_FRAME = frozenset({"v", "seq"})
_ACKNOWLEDGEMENT_KEYS = _FRAME | {"answers", "ok", "why", "newest"}
_STATUS_KEYS = _FRAME | {"at", "sure", "moving", "to", "over", "forward_w", "reflected_w", "temperature_c"} | {
    "noise_db", "inhibit", "boots", "ms", "ends", "stopped_by", "forward_mv", "reflected_mv", "low_stop", "high_stop",
}  # fmt: skip

_DO: dict[type[Order], str] = {
    Hello: "hello",
    Heartbeat: "heartbeat",
    Move: "move",
    Stop: "stop",
    Ends: "ends",
    Limit: "limit",
    Position: "position",
    Reference: "reference",
    Inhibit: "inhibit",
    AskSettings: "settings",
    SetSetting: "set",
}
_ORDERS: dict[str, tuple[frozenset[str], Callable[[dict[str, object]], Order]]] = {
    "hello": (_FRAME, lambda _: Hello()),
    "heartbeat": (_FRAME, lambda _: Heartbeat()),
    "move": (_FRAME | {"to", "speed"}, lambda fields: Move(_steps(fields, "to"), _speed(fields))),
    "stop": (_FRAME, lambda _: Stop()),
    "ends": (_FRAME | {"low", "high"}, _ordered_ends),
    "limit": (
        _FRAME | {"tuning_power_w"},
        lambda fields: Limit(_number(fields, "tuning_power_w", low=0.0, high=MOST_POWER)),
    ),
    "position": (
        _FRAME | {"is", "sure"},
        lambda fields: Position(_steps(fields, "is"), _flag(fields, "sure")),
    ),
    "reference": (_FRAME, lambda _: Reference()),
    "inhibit": (_FRAME | {"on"}, lambda fields: Inhibit(_flag(fields, "on"))),
    "settings": (_FRAME, lambda _: AskSettings()),
    "set": (_FRAME | {"key", "value"}, lambda fields: SetSetting(_text(fields, "key"), fields["value"])),
}
