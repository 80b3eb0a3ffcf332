# SPDX-License-Identifier: BSD-3-Clause
"""Recorded sweeps and notes without a database, for what is reckoned from them."""

from datetime import timedelta

from ringwright.records.entries import Note, NoteKind, RecordedSweep
from tests.records.recording import START, result


def sweep_at(
    days: float,
    *,
    q: float,
    frequency: float = 7.1e6,
    spread: float = 0.02,
    temperature: float | None = None,
    build: str | None = None,
) -> RecordedSweep:
    """A sweep so many days after the start; its number counts hours."""
    return RecordedSweep(
        number=round(24 * days),
        sha256="0" * 64,
        file="sweep.s1p",
        name_given="sweep.s1p",
        size=1,
        measured_at=START + timedelta(days=days),
        band="40m",
        build=build,
        temperature=temperature,
        note="",
        results=(("0" * 64, result(q=q, frequency=frequency, spread=spread)),),
    )


def note_at(days: float, kind: NoteKind, text: str = "so it was") -> Note:
    return Note(number=1, at=START + timedelta(days=days), kind=kind, text=text)
