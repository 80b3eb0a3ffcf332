# SPDX-License-Identifier: BSD-3-Clause
"""The kinds of value a design file holds: text with a unit in, SI float out, else a sentence."""

import math
import re
from collections.abc import Collection, Iterable
from difflib import get_close_matches
from enum import Enum
from typing import Any

from pydantic import Field, PlainValidator

from ringwright.errors import QuantityError
from ringwright.units import read_quantity, shown, to_si

_LOCATOR = re.compile(r"[A-R]{2}[0-9]{2}(?:[A-Xa-x]{2}(?:[0-9]{2}(?:[A-Xa-x]{2})?)?)?")

_PRICE = re.compile(r"(?P<amount>\d{1,9}(?:\.\d{1,3})?) (?P<currency>[A-Z]{3})", re.ASCII)


def nearest(text: str, names: Iterable[str]) -> str | None:
    """The name a misspelt text was most likely meant to be, whatever its case."""
    by_lower = {name.lower(): name for name in names}
    close = get_close_matches(text[:60].lower(), by_lower, n=1, cutoff=0.6)
    return by_lower[close[0]] if close else None


def default(value: object, why: str) -> Any:
    """A default as it would stand in the file, with the reason that `Design.defaults_used` gives for it."""
    return Field(default=value, validate_default=True, json_schema_extra={"why": why})


def quantity(
    unit: str, *, low: str | None = None, above: str | None = None, high: str | None = None
) -> PlainValidator:
    """Text with a unit to an SI float; `low` and `high` are allowed, `above` is not.

    A limit's unit is the one that people use here, and the one that a refusal proposes.
    """
    usual = next((text for text in (low, above, high) if text), unit).rpartition(" ")[2]
    limits = tuple(None if text is None else to_si(text, unit) for text in (low, above, high))

    def read(value: object) -> float:
        number = to_si(_text(value, f"1.5 {usual}"), usual)
        _hold(value, number, limits=limits, written=(low, above, high))
        return number

    return PlainValidator(read, json_schema_input_type=str)


def number(
    *, low: float | None = None, above: float | None = None, high: float | None = None
) -> PlainValidator:
    """A bare number; `low` and `high` are allowed, `above` is not."""
    limits = (low, above, high)
    written = tuple(None if limit is None else f"{limit:g}" for limit in limits)

    def read(value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise ValueError(f"{shown(value)} must be a bare number, without quotes or unit")
        # A whole number in TOML may have thousands of digits; float() of it would overflow.
        result = float(value) if abs(value) <= 1e300 else math.nan
        if not math.isfinite(result):
            raise ValueError(f"{shown(value)} is not a number this program can use; write a finite one")
        _hold(value, result, limits=limits, written=written)
        return result

    return PlainValidator(read, json_schema_input_type=float)


def whole(*, low: int, high: int) -> PlainValidator:
    """A whole number within both limits."""

    def read(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int):
            raise ValueError(f"{shown(value)} must be a whole number, without quotes or decimals")
        if not low <= value <= high:
            raise ValueError(f"{shown(value)} must be from {low} to {high}")
        return value

    return PlainValidator(read, json_schema_input_type=int)


def is_later_format(value: object) -> bool:
    """Whether a file that says so is of a newer program."""
    return type(value) is int and value > 1


def read_format(value: object) -> int:
    """The version of the design file this program reads."""
    if type(value) is int and value == 1:
        return 1
    if is_later_format(value):
        raise ValueError(f"{value} is the format of a newer program; update this one")
    raise ValueError(f"{shown(value)} is a format this version does not read; write format = 1")


def read_locator(value: object) -> str:
    """A Maidenhead locator of four to ten characters."""
    if isinstance(value, str) and _LOCATOR.fullmatch(value):
        return value
    raise ValueError(f'{shown(value)} is no locator; write four to ten characters, as in "JJ00" or "JJ00aa"')


def choice(kinds: type[Enum]) -> PlainValidator:
    """A member of an enum, read from its value."""
    names = [kind.value for kind in kinds]
    return PlainValidator(lambda value: kinds(_one_of(names, value)), json_schema_input_type=str)


def name_among(names: Collection[str]) -> PlainValidator:
    """One of a fixed set of names."""
    return PlainValidator(lambda value: _one_of(names, value), json_schema_input_type=str)


def words(*, longest: int) -> PlainValidator:
    """One line of text, not empty."""

    def read(value: object) -> str:
        if not isinstance(value, str) or not value.strip() or not value.isprintable():
            raise ValueError(f"{shown(value)} is no name; write one line of text in quotes")
        if len(value) > longest:
            raise ValueError(f"{shown(value)} is too long; write at most {longest} characters")
        return value

    return PlainValidator(read, json_schema_input_type=str)


def read_gap_angle(value: object) -> float:
    """Where the gap is: "top", "bottom", or an angle counted from the top towards x. [rad]"""
    text = {"top": "0 deg", "bottom": "180 deg"}.get(_text(value, "90 deg"), str(value))
    if not any(c.isdigit() for c in text):
        raise ValueError(
            f'{shown(value)} is no place for the gap; write "top", "bottom" or an angle such as "90 deg"'
        )
    angle = to_si(text, "rad")
    if abs(angle) > math.tau:
        raise ValueError(f"{shown(value)} must be at most a full circle, 360 deg")
    return angle


def read_travel(value: object) -> tuple[float, str]:
    """The capacitor's travel and its unit: in turns, or in degrees where the file gives an angle."""
    try:
        travel, unit = read_quantity(_text(value, "16 turns"), "turns", "rad")
    except QuantityError as exc:
        raise ValueError(f'{exc}; count turns of the shaft, "16 turns", or its angle, "180 deg"') from exc
    if travel <= 0.0:
        raise ValueError(f"{shown(value)} must be more than zero")
    return (travel, "turns") if unit == "turns" else (math.degrees(travel), "deg")


def read_speed(value: object) -> tuple[float, str]:
    """A motor's speed and its unit: in turns per minute, or in whole steps per second."""
    speed, unit = read_quantity(_text(value, "120 rpm"), "rpm", "steps/s")
    if not 0.0 < speed <= 100_000.0:
        raise ValueError(f"{shown(value)} must be more than 0 and at most 100000 {unit}")
    return speed, unit


def read_price(value: object) -> tuple[float, str]:
    """What one piece costs, and the currency's three letters."""
    match = _PRICE.fullmatch(value) if isinstance(value, str) else None
    if match is None:
        raise ValueError(f'{shown(value)} is no price; write an amount and three letters, as in "12.50 EUR"')
    return float(match["amount"]), match["currency"]


def _text(value: object, example: str) -> str:
    if isinstance(value, str):
        return value
    raise ValueError(f'{shown(value)} has no unit; write it in quotes and with its unit, as in "{example}"')


def _one_of(names: Collection[str], value: object) -> str:
    if isinstance(value, str) and value in names:
        return value
    close = nearest(value, names) if isinstance(value, str) else None
    hint = f"did you mean {shown(close)}?" if close else f"write one of {', '.join(map(shown, names))}"
    raise ValueError(f"{shown(value)} is not a name known here; {hint}")


def _hold(
    value: object, result: float, *, limits: tuple[float | None, ...], written: tuple[str | None, ...]
) -> None:
    low, above, high = limits
    if low is not None and result < low:
        raise ValueError(f"{shown(value)} must be at least {written[0]}")
    if above is not None and result <= above:
        raise ValueError(f"{shown(value)} must be more than {written[1]}")
    if high is not None and result > high:
        raise ValueError(f"{shown(value)} must be at most {written[2]}")
