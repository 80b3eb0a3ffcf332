# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps that were set against a design, kept in the record of its workspace with what the person says of them."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from math import log10

import numpy as np

from ringwright.desk.proving import Delivered, Judged
from ringwright.errors import RecordEntryError
from ringwright.proof.comparison import Comparison
from ringwright.proof.sweep import Sweep
from ringwright.records.entries import kept_label, kept_temperature, kept_text, moment_text
from ringwright.records.records import Records
from ringwright.records.result import Result

_READINGS = "# SWR readings, typed\nfrequency MHz,swr\n"


@dataclass(frozen=True, slots=True, kw_only=True)
class Labels:
    """What a person says of sweeps; `temperature` in degrees C. `measured_at` None: each has its own moment.

    Raises
    ------
    RecordEntryError
        If something of it cannot be kept.
    """

    build: str | None = None
    temperature: float | None = None
    note: str = ""
    measured_at: datetime | None = None

    def __post_init__(self) -> None:
        """What cannot be kept is refused before anything is computed."""
        if self.build is not None:
            kept_label(self.build, what="build's name")
        if self.temperature is not None:
            kept_temperature(self.temperature)
        kept_text(self.note, what="the note")
        if self.measured_at is not None:
            moment_text(self.measured_at)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proved:
    """A sweep set against its band, the bytes it was read from, and when it was measured; None: now."""

    name: str
    content: bytes
    comparison: Comparison
    measured_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """What became of one: its number and its file in sweeps/, or one sentence why it is not kept.

    `is_known`: the same bytes were kept before; only what they say of another text of the design is new.
    """

    name: str
    number: int | None = None
    file: str | None = None
    is_new: bool = False
    is_known: bool = False
    problem: str | None = None


def keep_sweeps(
    records: Records, proved: Sequence[Proved | Kept], *, design: str, labels: Labels
) -> tuple[Kept, ...]:
    """Keep all that can be kept, in one transaction; `design` is the text they were set against.

    What is `Kept` already, since it could not be judged, is passed on in its place.

    Raises
    ------
    RecordEntryError
        If a label cannot be kept; nothing is then.
    RecordError, StorageError
        If the record cannot be written.
    """
    now = datetime.now(UTC)
    kept = []
    with records.writing():
        for one in proved:
            if isinstance(one, Kept):
                kept.append(one)
                continue
            try:
                result = Result.of(one.comparison)
            except RecordEntryError as exc:  # a figure without an end
                kept.append(Kept(name=one.name, problem=f"{one.name} is not recorded: {exc}"))
                continue
            added = records.add_sweep(
                one.content,
                name=one.name,
                measured_at=labels.measured_at or one.measured_at or now,
                design=design,
                result=result,
                band=one.comparison.band.band,
                build=labels.build,
                temperature=labels.temperature,
                note=labels.note,
            )
            file = records.file_of(added.number)
            kept.append(
                Kept(
                    name=one.name,
                    number=added.number,
                    file=file,
                    is_new=added.is_new,
                    is_known=added.is_known,
                )
            )
    return tuple(kept)


def proved_of(delivered: Delivered, judged: Judged) -> Proved | Kept:
    """What was delivered and judged as it can be kept; typed readings become a file."""
    if judged.sweep is None or judged.comparison is None:
        return Kept(name=judged.name, problem=judged.problem)
    name, content = judged.name, judged.content
    if delivered.is_readings:
        name, content = readings_file(judged.sweep, judged.comparison.band.band)
    return Proved(name=name, content=content, comparison=judged.comparison, measured_at=delivered.measured_at)


def readings_file(sweep: Sweep, band: str | None) -> tuple[str, bytes]:
    """Typed readings as a table that reads as they do: a name for it, and its bytes.

    An SWR has the digits that were typed: half of the last one is the sweep's rounding.
    """
    size = abs(sweep.response)
    swr = (1.0 + size) / (1.0 - size)
    assert sweep.rounding is not None
    half = sweep.rounding * (swr + 1.0) ** 2 / 2.0
    rows = [
        f"{f / 1e6:.9g},{value:.{max(0, round(-log10(2.0 * last)))}f}"
        for f, value, last in zip(sweep.frequency, swr, np.asarray(half), strict=True)
    ]
    where = "" if band is None else f"{re.sub(r'[^0-9A-Za-z.]', '', band)} "
    return f"{where}readings.csv", f"{_READINGS}{chr(10).join(rows)}\n".encode()
