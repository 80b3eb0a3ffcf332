# SPDX-License-Identifier: BSD-3-Clause
"""What a record holds, as plain values, and the form that texts and times must have to be kept."""

import math
import unicodedata
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum

from ringwright.errors import RecordEntryError
from ringwright.records.result import Result
from ringwright.units import shown

LONGEST_NOTE = 2000
LONGEST_LABEL = 60
LONGEST_TABLE_NAME = 100
"""A design's name has up to 80 characters, and its simulated drive's table is told apart by a word more."""
COLDEST, HOTTEST = -90.0, 100.0
"""[degrees C] that an antenna in the open can have."""
_FIRST_YEAR, _LAST_YEAR = 1900, 2199


class NoteKind(StrEnum):
    """What a note is about."""

    WEATHER = "weather"
    RAIN = "rain"
    REPAIR = "repair"
    JOINT = "joint"
    BOX = "box"
    OTHER = "other"

    @property
    def changes_the_ring(self) -> bool:
        """Whether sweeps before it and after it are of two different builds."""
        return self in (NoteKind.REPAIR, NoteKind.JOINT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Something that happened at a moment."""

    number: int
    at: datetime
    kind: NoteKind
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedSweep:
    """One sweep as it was delivered: `file` in the workspace's `sweeps/`, `name_given` as the person called it.

    `results` pairs the checksum of a design's text with what the sweep said against that design, oldest first.
    `temperature` in degrees C.
    """

    number: int
    sha256: str
    file: str
    name_given: str
    size: int
    measured_at: datetime
    band: str | None
    build: str | None
    temperature: float | None
    note: str
    results: tuple[tuple[str, Result], ...]

    @property
    def result(self) -> Result:
        """What it said last."""
        return self.results[-1][1]


def moment_text(moment: datetime) -> str:
    """A moment as it is kept: UTC, whole seconds."""
    if moment.tzinfo is None:
        raise RecordEntryError(f"{moment} has no time zone; add one, as in 2026-05-01T18:30+02:00")
    if not _FIRST_YEAR <= moment.year <= _LAST_YEAR:
        raise RecordEntryError(
            f"the year {moment.year} is none that a record takes; write {_FIRST_YEAR} to {_LAST_YEAR}"
        )
    return moment.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="seconds") + "Z"


def moment_of(text: str) -> datetime:
    """The moment from its text."""
    return datetime.fromisoformat(text)


def kept_text(text: str, *, what: str, longest: int = LONGEST_NOTE) -> str:
    """A text as it is kept: one form of every letter, no blanks at the ends.

    Raises
    ------
    RecordEntryError
        If there are characters that cannot be shown, or too many.
    """
    kept = unicodedata.normalize("NFC", text).strip()
    if len(kept) > longest:
        raise RecordEntryError(f"{what} has {len(kept)} characters; write at most {longest}")
    odd = [c for c in kept if not (c.isprintable() or c in "\n\t")]
    if odd:
        raise RecordEntryError(f"{what} {shown(kept)} has characters that cannot be shown; delete them")
    return kept


def kept_label(label: str, *, what: str, longest: int = LONGEST_LABEL) -> str:
    """The name of a build or band: any words in one line, but no bare number, which would be a sweep's."""
    kept = kept_text(label, what=f"the {what}", longest=longest)
    if not kept.isprintable() or not kept or kept.isdecimal():
        raise RecordEntryError(f'{shown(label)} cannot be a {what}; write words, as in "joint 5 remade"')
    return kept


def kept_table_name(name: str) -> str:
    """Under what a tuning table is kept."""
    return kept_label(name, what="tuning table's name", longest=LONGEST_TABLE_NAME)


def kept_temperature(temperature: float) -> float:
    """Degrees C that can be."""
    if not (math.isfinite(temperature) and COLDEST <= temperature <= HOTTEST):
        raise RecordEntryError(
            f"{temperature:g} degrees C is no weather; write {COLDEST:g} to {HOTTEST:g} degrees C"
        )
    return float(temperature)
