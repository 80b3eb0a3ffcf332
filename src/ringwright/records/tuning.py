# SPDX-License-Identifier: BSD-3-Clause
"""A tuning with its trace, and a tuning table, as the record keeps them."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from math import inf
from typing import Any

from ringwright.errors import RecordEntryError
from ringwright.records.entries import kept_label, kept_table_name, kept_text, moment_of, moment_text
from ringwright.tuner.table_point import Point, site_name

SCHEMA = "ringwright.record.tuning/1"
MOST_READINGS = 2000
"""In a trace; at ten readings a second more than three minutes of a search."""
LONGEST_WORDS = 300


class Outcome(StrEnum):
    """How a tuning ended."""

    TUNED = "tuned"
    NOT_FOUND = "not found"
    STOPPED = "stopped"
    LOST = "lost"
    """The link or the position was."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceReading:
    """One reading: seconds after the tuning began, step, reflected over forward power, forward power [W]."""

    after: float
    position: int
    reflection: float
    forward: float

    def __post_init__(self) -> None:
        if not (0.0 <= self.after < inf and 0.0 <= self.reflection < inf and 0.0 <= self.forward < inf):
            raise RecordEntryError("a reading of a trace is not finite or below 0")


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a tuning found; None for what it did not. `expected` [steps] is where the table had it."""

    expected: float
    position: int | None = None
    swr: float | None = None
    carrier: float = 0.0
    temperature: float | None = None
    words: str = ""
    trace: tuple[TraceReading, ...] = ()

    def __post_init__(self) -> None:
        if len(self.trace) > MOST_READINGS:
            raise RecordEntryError(
                f"a trace has {len(self.trace)} readings; at most {MOST_READINGS} are kept"
            )
        numbers = (self.expected, self.swr, self.carrier, self.temperature)
        if not all(number is None or -inf < number < inf for number in numbers):
            raise RecordEntryError("a number of a tuning is not finite")
        kept_text(self.words, what="the tuning's words", longest=LONGEST_WORDS)

    def to_document(self) -> dict[str, Any]:
        """As JSON; the trace as a list of [seconds, step, reflected share, W]."""
        return {
            "expected_steps": float(self.expected),
            "position_steps": self.position,
            "swr": None if self.swr is None else float(self.swr),
            "carrier_s": float(self.carrier),
            "temperature_degc": None if self.temperature is None else float(self.temperature),
            "words": self.words,
            "trace": [
                [float(each.after), each.position, float(each.reflection), float(each.forward)]
                for each in self.trace
            ],
        }

    @classmethod
    def from_document(cls, document: Mapping[str, Any]) -> "Found":
        """From such a document.

        Raises
        ------
        RecordEntryError
            If it is none.
        """
        if document.keys() != cls(expected=0.0).to_document().keys():
            raise RecordEntryError("the tuning's document has other keys than it should")
        try:
            return cls(
                expected=_number(document["expected_steps"]),
                position=None if document["position_steps"] is None else _whole(document["position_steps"]),
                swr=None if document["swr"] is None else _number(document["swr"]),
                carrier=_number(document["carrier_s"]),
                temperature=None
                if document["temperature_degc"] is None
                else _number(document["temperature_degc"]),
                words=_text(document["words"]),
                trace=tuple(
                    TraceReading(
                        after=_number(after),
                        position=_whole(position),
                        reflection=_number(reflection),
                        forward=_number(forward),
                    )
                    for after, position, reflection, forward in document["trace"]
                ),
            )
        except (TypeError, ValueError, OverflowError) as exc:
            if isinstance(exc, RecordEntryError):
                raise
            raise RecordEntryError(f"the tuning's document cannot be read ({exc})") from exc


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuning:
    """One tuning to `frequency` [Hz] with the tuning table of a name."""

    at: datetime
    table: str
    band: str | None
    frequency: float
    outcome: Outcome
    found: Found

    def __post_init__(self) -> None:
        if not 0.0 < self.frequency < inf:
            raise RecordEntryError("the frequency of a tuning must be above 0 and finite")
        kept_table_name(self.table)
        if self.band is not None:
            kept_label(self.band, what="band")
        moment_text(self.at)

    def found_text(self) -> str:
        """What it found, as it is kept."""
        return json.dumps(self.found.to_document(), allow_nan=False, ensure_ascii=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedTuning:
    """A tuning with its number and the checksum of the text of its design."""

    number: int
    design: str
    tuning: Tuning


@dataclass(frozen=True, slots=True, kw_only=True)
class TuningPairs:
    """The pairs of a tuning table in their order, times in whole seconds, and the site where the antenna stands."""

    points: tuple[Point, ...]
    site: str

    def __post_init__(self) -> None:
        whole = tuple(replace(point, at=moment_of(moment_text(point.at))) for point in self.points)
        object.__setattr__(self, "points", whole)

    def with_changes(self, before: "TuningPairs", after: "TuningPairs") -> "TuningPairs":
        """These pairs with what somebody else's hand changed between `before` and `after`."""
        gone = [point for point in before.points if point not in after.points]
        come = [point for point in after.points if point not in before.points and point not in self.points]
        return TuningPairs(
            points=(*(point for point in self.points if point not in gone), *come),
            site=after.site if self.site == before.site else self.site,
        )

    def to_document(self) -> dict[str, Any]:
        """As JSON."""
        return {
            "site": self.site,
            "pairs": [
                {
                    "position": point.position,
                    "frequency_hz": point.frequency,
                    "spread_hz": point.spread,
                    "temperature_degc": point.temperature,
                    "at": moment_text(point.at),
                    "site": point.site,
                }
                for point in self.points
            ],
        }

    @classmethod
    def from_document(cls, document: Mapping[str, Any]) -> "TuningPairs":
        """From such a document, whose types are right; TuningTableError if a value cannot be."""
        return cls(
            site=site_name(document["site"]),
            points=tuple(
                Point(
                    position=pair["position"],
                    frequency=pair["frequency_hz"],
                    spread=pair["spread_hz"],
                    temperature=pair["temperature_degc"],
                    at=moment_of(pair["at"]),
                    site=pair["site"],
                )
                for pair in document["pairs"]
            ),
        )


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise RecordEntryError(f"{value!r:.40} is no number")
    return float(value)


def _whole(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise RecordEntryError(f"{value!r:.40} is no whole number")
    return value


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise RecordEntryError(f"{value!r:.40} is no text")
    return value
