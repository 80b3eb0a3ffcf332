# SPDX-License-Identifier: BSD-3-Clause
"""A plan for alternating two antennas, and whether a campaign kept to what makes it fair.

Slots come in twos, each two with both antennas in an order drawn by lot: no slow change of the sky can take sides, and
both are on the air equally long.
"""

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import Final

import numpy as np

from ringwright.air.comparison import judged
from ringwright.air.pairs import Places, find_pairs
from ringwright.air.reports import Mask, Reports
from ringwright.errors import ReportFileError, ReportsError

HEADINGS: Final = "start,end,antenna"
_EARLY = 1.0 / 3.0
_UNEQUAL: Final = 1.5
"""Reports with one antenna over those with the other from which on it is told (common practice, no source)."""
_SIGMAS: Final = 2.0
_FEWEST_STAMPED: Final = 20
_ONE_STAMP: Final = 2.0
"""[s]: reports within it are stamped alike."""


@dataclass(frozen=True, slots=True)
class Slot:
    """A stretch of time on one antenna [s since 1970, UTC]."""

    start: float
    end: float
    antenna: str


def draw_slots(
    first: str, second: str, *, start: datetime, length: float, count: int, rng: np.random.Generator
) -> tuple[Slot, ...]:
    """A plan of `count` slots of `length` [s], rounded up to an even number."""
    if first.casefold() == second.casefold() or not (length > 0.0 and count > 0):
        raise ReportsError("a plan needs two antennas, a length above 0 and at least one slot")
    order = [name for _ in range((count + 1) // 2) for name in rng.permutation([first, second]).tolist()]
    begin = start.timestamp()
    return tuple(Slot(begin + n * length, begin + (n + 1) * length, name) for n, name in enumerate(order))


def slots_text(slots: Sequence[Slot]) -> str:
    """The plan as a table."""
    table = io.StringIO()
    writer = csv.writer(table, lineterminator="\n")
    writer.writerow(HEADINGS.split(","))
    writer.writerows((_iso(slot.start), _iso(slot.end), slot.antenna) for slot in slots)
    return table.getvalue()


def read_slots(text: str, *, source: str) -> tuple[Slot, ...]:
    """A plan as it was written, or as it was kept.

    Raises
    ------
    ReportFileError
        If a line is none, or slots overlap.
    """
    lines = [line.strip() for line in text.splitlines()]
    if not lines or lines[0].casefold() != HEADINGS:
        raise ReportFileError(source, 1, f"a plan starts with the line {HEADINGS}; write it first")
    slots: list[Slot] = []
    for number, line in enumerate(lines[1:], start=2):
        if not line:
            continue
        try:
            start, end, antenna = (cell.strip() for cell in next(csv.reader([line])))
            slot = Slot(_seconds(start), _seconds(end), antenna)
        except (ValueError, csv.Error):
            raise ReportFileError(
                source,
                number,
                "a slot is start, end and antenna, as in 2026-05-01T12:00:00Z,2026-05-01T12:02:00Z,ring",
            ) from None
        if slot.end <= slot.start or (slots and slot.start < slots[-1].end):
            raise ReportFileError(
                source, number, "the slot ends before it starts, or overlaps the one before; mend it"
            )
        slots.append(slot)
    return tuple(slots)


def with_antennas(reports: Reports, slots: Sequence[Slot]) -> Reports:
    """Reports that name no antenna get that of the slot they lie in; those in no slot stay without."""
    at = _slot_of(reports, slots)
    names = list(reports.antennas)
    names += [name for name in dict.fromkeys(slot.antenna for slot in slots) if name not in names]
    planned = np.array([names.index(slot.antenna) for slot in slots] + [-1], dtype=np.int32)[at]
    antenna = np.where(reports.antenna >= 0, reports.antenna, planned).astype(np.int32)
    return replace(reports, antenna=antenna, antennas=tuple(names))


def check_slots(reports: Reports, slots: Sequence[Slot], *, names: tuple[str, str]) -> tuple[str, ...]:
    """What makes the comparison less fair than its interval says, a sentence each; none if all is well."""
    return (
        *_of_another_plan(reports, slots),
        *_late(reports, slots),
        *_unequal(reports, slots, names=names),
        *_carried_over(reports, slots, names=names),
    )


def _of_another_plan(reports: Reports, slots: Sequence[Slot]) -> list[str]:
    """Whether reports name another antenna than the plan has for their moment."""
    at = _slot_of(reports, slots)
    known = {name.casefold(): number for number, name in reversed(list(enumerate(reports.antennas)))}
    same = np.array([known[name.casefold()] for name in reports.antennas] + [-1])
    planned = np.array([known.get(slot.antenna.casefold(), -1) for slot in slots] + [-1])[at]
    named = (at >= 0) & (reports.antenna >= 0)
    others = int((named & (same[reports.antenna] != planned)).sum())
    if not others:
        return []
    told = (
        f"{others} of {int(named.sum())} reports name another antenna than the plan has at their time: check the "
        "clocks, and whether this is the plan that was kept to."
    )
    return [told]


def _late(reports: Reports, slots: Sequence[Slot]) -> list[str]:
    """Whether all reports are stamped at one late moment of their slots, as by a clock that is wrong."""
    at = _slot_of(reports, slots)
    if (at >= 0).sum() < _FEWEST_STAMPED:
        return []
    begin = np.array([slot.start for slot in slots] + [0.0])[at]
    length = np.array([slot.end - slot.start for slot in slots] + [1.0])[at]
    into, share = (reports.time - begin)[at >= 0], ((reports.time - begin) / length)[at >= 0]
    if np.ptp(np.quantile(into, [0.05, 0.95])) > _ONE_STAMP or np.median(share) < _EARLY:
        return []
    told = (
        f"nearly all reports are stamped {np.median(into):.0f} s into their slot: a clock may be wrong, or the plan "
        "begun late, and reports then count for the wrong antenna."
    )
    return [told]


def _unequal(reports: Reports, slots: Sequence[Slot], *, names: tuple[str, str]) -> list[str]:
    told = []
    made = [int(reports.of_antenna(name).sum()) for name in names]
    on_air = [
        sum(s.end - s.start for s in slots if s.antenna.casefold() == name.casefold()) for name in names
    ]
    for what, pair in (("reports", made), ("seconds on the air", on_air)):
        if max(pair) > _UNEQUAL * max(min(pair), 1):
            told.append(
                f"{names[0]} has {pair[0]:.0f} {what}, {names[1]} {pair[1]:.0f}: more of the weaker one sharpen the "
                f"comparison most."
            )
    of_a, of_b = (set(reports.receiver[reports.of_antenna(name)].tolist()) for name in names)
    both, every = len(of_a & of_b), len(of_a | of_b)
    if every and both < every / 2:
        told.append(f"only {both} of {every} receivers heard both; the others say nothing of the difference.")
    return told


def _carried_over(reports: Reports, slots: Sequence[Slot], *, names: tuple[str, str]) -> list[str]:
    """Whether the difference is another just after a change than later: reports then belong to the slot before."""
    at = _slot_of(reports, slots)
    start = np.array([slot.start for slot in slots] + [0.0])[at]
    length = np.array([slot.end - slot.start for slot in slots] + [1.0])[at]
    share = (reports.time - start) / length
    parts = [_judge(reports, (at >= 0) & part, names=names) for part in (share < _EARLY, share >= _EARLY)]
    early, late = parts
    if early is None or late is None:
        return []
    apart, error = early[0] - late[0], float(np.hypot(early[1], late[1]))
    if abs(apart) <= _SIGMAS * error:
        return []
    told = (
        f"just after a change the difference is {early[0]:+.1f} dB, later {late[0]:+.1f} dB: reports may belong to the "
        f"slot before; check the clocks, or leave a pause after each change."
    )
    return [told]


def _judge(reports: Reports, part: Mask, *, names: tuple[str, str]) -> tuple[float, float] | None:
    first, second = (reports.of_antenna(name) & part for name in names)
    found = judged(find_pairs(reports, first, second, within=3600.0))
    return None if found is None else (found.value, found.error)


def _slot_of(reports: Reports, slots: Sequence[Slot]) -> Places:
    """Number of each report's slot, -1 where it lies in none."""
    starts, ends = np.array([s.start for s in slots]), np.array([s.end for s in slots])
    at = np.searchsorted(starts, reports.time, side="right") - 1
    return np.where((at >= 0) & (reports.time < ends[np.maximum(at, 0)]), at, -1)


def _seconds(text: str) -> float:
    moment = datetime.fromisoformat(text)
    return (moment if moment.tzinfo else moment.replace(tzinfo=UTC)).timestamp()


def _iso(seconds: float) -> str:
    moment = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=seconds)
    return moment.isoformat(timespec="seconds").replace("+00:00", "Z")
