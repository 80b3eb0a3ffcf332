# SPDX-License-Identifier: BSD-3-Clause
"""Any two moments in the life of a ring set side by side: which sweeps speak for the ring as it was at each of them.

A ring stays one build from a change to the next: a note of kind repair or joint, or a sweep under another build's name.
If the ring was changed between the two moments, all sweeps of either build speak for it, and so tell of its days, too.
If it was not, the two are moments of one build, and on each band the last sweep before each moment speaks, or where
there is none the first after it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from ringwright.records.comparison import BandChange, BuildComparison, compare_sweeps
from ringwright.records.entries import Note, RecordedSweep

ONE_SWEEP = (
    "one sweep cannot speak for both moments, and there is no other of its band; choose moments further apart, or "
    "sweep again"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MomentComparison:
    """What moved from one moment to another; `has_changed` tells whether the ring was changed between them.

    `why_not`: where the comparison has no band, one sentence says why.
    """

    has_changed: bool
    comparison: BuildComparison
    why_not: str | None = None


def compare_moments(
    sweeps: Sequence[RecordedSweep], notes: Sequence[Note], *, before: datetime, after: datetime
) -> MomentComparison:
    """Set two moments side by side, the earlier first; `sweeps` and `notes` in the order in which they happened."""
    before, after = sorted((before, after))
    changes = _changes(sweeps, notes)
    has_changed = any(before < change <= after for change in changes)
    of_before, of_after = (_build_at(moment, sweeps, changes) for moment in (before, after))
    if not has_changed:
        of_before, of_after = _nearest(of_before, before), _nearest(of_before, after)
        doubled = {sweep.number for sweep in of_before} & {sweep.number for sweep in of_after}
        of_before, of_after = (
            [sweep for sweep in some if sweep.number not in doubled] for some in (of_before, of_after)
        )
    first, second = (f"{moment.astimezone():%Y-%m-%d %H:%M}" for moment in (before, after))
    between = tuple(note for note in notes if before <= note.at <= after)
    why_not, bands = None, tuple[BandChange, ...]()
    if not of_before or not of_after:
        why_not = ONE_SWEEP
    elif not {sweep.band for sweep in of_before} & {sweep.band for sweep in of_after}:
        why_not = f"{first} and {second} have no band in common; sweep one band at both"
    else:
        bands = compare_sweeps(of_before, of_after, names=(first, second), notes=()).bands
    return MomentComparison(
        has_changed=has_changed,
        comparison=BuildComparison(before=first, after=second, bands=bands, notes=between),
        why_not=why_not,
    )


def _changes(sweeps: Sequence[RecordedSweep], notes: Sequence[Note]) -> list[datetime]:
    """Moments from which on the ring is another build; a sweep without a build's name says nothing of it."""
    named = [sweep for sweep in sweeps if sweep.build is not None]
    renamed = [late.measured_at for early, late in pairwise(named) if early.build != late.build]
    return sorted([note.at for note in notes if note.kind.changes_the_ring] + renamed)


def _build_at(
    moment: datetime, sweeps: Sequence[RecordedSweep], changes: Sequence[datetime]
) -> list[RecordedSweep]:
    """All sweeps from the last change before a moment to the first one after it."""
    first = max((change for change in changes if change <= moment), default=None)
    end = min((change for change in changes if change > moment), default=None)
    return [
        sweep
        for sweep in sweeps
        if (first is None or sweep.measured_at >= first) and (end is None or sweep.measured_at < end)
    ]


def _nearest(sweeps: Sequence[RecordedSweep], moment: datetime) -> list[RecordedSweep]:
    """Of each band the last sweep up to a moment, else the first after it."""
    found: dict[str | None, RecordedSweep] = {}
    for sweep in sweeps:
        if sweep.band not in found or sweep.measured_at <= moment:
            found[sweep.band] = sweep
    return list(found.values())
