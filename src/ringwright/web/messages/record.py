# SPDX-License-Identifier: BSD-3-Clause
"""Bodies of the addresses below `/api/v1/record`, and the word on the live socket that the record has grown.

Moments are ISO 8601 in UTC with whole seconds, `2026-05-01T16:30:00Z`; those that come in may have another zone.
"""

from typing import Annotated, Literal

from pydantic import AwareDatetime, Field

from ringwright.web.messages.base import Base, Edits, Message, Number
from ringwright.web.messages.designs import FigureEntry
from ringwright.web.messages.proof import MOST_SWEEPS, SweepSent

Moment = Annotated[AwareDatetime, Field(strict=False)]
Words = Annotated[str, Field(max_length=4000)]
NoteKindWord = Literal["weather", "rain", "repair", "joint", "box", "other"]


class RecordLane(Message):
    """A kind of entry and its heading, in the order in which they are drawn."""

    kind: str
    heading: str


class KeyChanged(Message):
    """A key of the design file that one text sets otherwise than the one before."""

    key: str
    before: str
    after: str


class SweepFigures(Message):
    """What a sweep said when it was last proved; `KEY_low` and `KEY_high` are the ends of the 95 % interval."""

    number: int
    file: str
    name_given: str
    temperature_degc: float | None
    note: str
    frequency_hz: float
    frequency_hz_low: float
    frequency_hz_high: float
    q_unloaded: float
    q_unloaded_low: float
    q_unloaded_high: float
    q_loaded: float
    q_loaded_low: float
    q_loaded_high: float
    coupling: float
    coupling_low: float
    coupling_high: float
    swr_min: float | None
    swr_min_low: float | None
    swr_min_high: float | None
    bandwidth_half_power_hz: float
    bandwidth_half_power_hz_low: float
    bandwidth_half_power_hz_high: float
    resistance_total_ohm: float
    resistance_total_ohm_low: float
    resistance_total_ohm_high: float
    efficiency_pct: float
    efficiency_pct_low: float
    efficiency_pct_high: float
    flags: list[str]
    notes: list[str]


class RecordEntry(Message):
    """Something that happened. `kind` is one of the lanes; `mark` what kind of its kind it is, such as `rain`.

    `designs` are checksums of the texts it belongs to, the last proved last. `sweep` is null of other kinds; `changes`
    are those of a design against the text before it.
    """

    key: str
    kind: str
    at: str
    title: str
    words: str
    mark: str
    band: str | None
    build: str | None
    designs: list[str]
    changes_ring: bool
    is_lost: bool
    changes: list[KeyChanged]
    sweep: SweepFigures | None


class RecordLine(Message):
    """Everything that happened, in order. `lost` are files of sweeps/ that are gone or altered."""

    lanes: list[RecordLane]
    entries: list[RecordEntry]
    bands: list[str]
    builds: list[str]
    lost: list[str]


class RecordTable(Message):
    """What a page of the record needs once: its figures, the kinds of notes, and the cautions in words."""

    figures: list[FigureEntry]
    kinds: list[NoteKindWord]
    before_touching: str
    authority: str


class DesignOnLine(Message):
    """The text of a design on the line."""

    sha256: str
    text: str


class NoteSent(Message):
    """A note to write down; `at` null: now."""

    text: Words
    kind: NoteKindWord = "other"
    at: Moment | None = None


class NoteOnLine(Message):
    number: int
    at: str
    kind: NoteKindWord
    text: str


class NoteKept(NoteOnLine):
    """A note as it is kept; not `is_new` where it was there already."""

    is_new: bool


class SweepToKeep(SweepSent):
    """A sweep as for a proof, and when it was measured; null: a file of the folder when last written, else now."""

    measured_at: Moment | None = None


class SweepsSent(Message):
    """Sweeps to set against a draft and to keep, with what the person says of all of them."""

    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    sweeps: Annotated[list[SweepToKeep], Field(min_length=1, max_length=MOST_SWEEPS)]
    build: Words | None = None
    temperature_degc: Number | None = None
    note: Words = ""
    measured_at: Moment | None = None


class SweepKept(Message):
    """What became of one: its number and its file in sweeps/, or why it is not kept.

    Not `is_new` where nothing was written; `is_known` where the same bytes were kept before, perhaps judged otherwise.
    """

    name: str
    number: int | None
    file: str | None
    is_new: bool
    is_known: bool
    problem: str | None


class SweepsKept(Message):
    """One for each that was sent, in order; `record` is the file they are kept in."""

    record: str
    sweeps: list[SweepKept]


class MomentsSent(Message):
    before: Moment
    after: Moment


class BandMoved(Message):
    """One band at two moments; keys as in `ringwright.record.comparison/1`."""

    band: str | None
    q_before: float
    q_before_low: float
    q_before_high: float
    q_after: float
    q_after_low: float
    q_after_high: float
    q_ratio: float
    q_ratio_low: float
    q_ratio_high: float
    gain_db: float
    gain_db_low: float
    gain_db_high: float
    resistance_before_ohm: float
    resistance_before_ohm_low: float
    resistance_before_ohm_high: float
    resistance_after_ohm: float
    resistance_after_ohm_low: float
    resistance_after_ohm_high: float
    resistance_ratio: float
    resistance_ratio_low: float
    resistance_ratio_high: float
    frequency_before_hz: float
    frequency_before_hz_low: float
    frequency_before_hz_high: float
    frequency_after_hz: float
    frequency_after_hz_low: float
    frequency_after_hz_high: float
    frequency_change_hz: float
    frequency_change_hz_low: float
    frequency_change_hz_high: float
    is_told_apart: bool
    is_without_repeat: bool
    sweeps_before: list[int]
    sweeps_after: list[int]


class MomentsCompared(Message):
    """What moved; `has_changed`: the ring was changed between the two, so that all sweeps of either build speak.

    `why_not` says why there is no band; null where there is one.
    """

    has_changed: bool
    bands: list[BandMoved]
    notes: list[NoteOnLine]
    why_not: str | None


class TrendPoint(Message):
    """A sweep; `is_in_line` where the lines are drawn through it, `is_wet` in the day after a note of rain."""

    number: int
    measured_at: str
    q_unloaded: float
    q_unloaded_low: float
    q_unloaded_high: float
    frequency_hz: float
    frequency_hz_low: float
    frequency_hz_high: float
    temperature_degc: float | None
    build: str | None
    is_wet: bool
    is_in_line: bool


class StraightLine(Message):
    """From its first point to its last; over time `x` is in seconds since 1970, over warmth in degrees C."""

    x: tuple[float, float]
    y: tuple[float, float]


class TrendDrawn(Message):
    """A band's trend, keys as in `ringwright.record.trend/1`, with its lines as they are drawn; null: too few tell."""

    band: str
    from_: str = Field(alias="from")
    to: str
    changed_by: NoteOnLine | None
    q_change_pct: float | None
    q_change_pct_low: float | None
    q_change_pct_high: float | None
    q_per_kelvin_pct: float | None
    q_per_kelvin_pct_low: float | None
    q_per_kelvin_pct_high: float | None
    q_after_rain_pct: float | None
    q_after_rain_pct_low: float | None
    q_after_rain_pct_high: float | None
    frequency_change_hz: float | None
    frequency_change_hz_low: float | None
    frequency_change_hz_high: float | None
    frequency_per_kelvin_hz: float | None
    frequency_per_kelvin_hz_low: float | None
    frequency_per_kelvin_hz_high: float | None
    frequency_after_rain_hz: float | None
    frequency_after_rain_hz_low: float | None
    frequency_after_rain_hz_high: float | None
    reminders: list[str]
    points: list[TrendPoint]
    notes: list[NoteOnLine]
    q_line: StraightLine | None
    frequency_line: StraightLine | None
    q_line_by_warmth: StraightLine | None
    frequency_line_by_warmth: StraightLine | None


class TakenIn(Message):
    """How many of each are new here."""

    sweeps: int
    results: int
    notes: int
    tunings: int
    reports: int
    tuning_pairs: int


class RecordChanged(Message):
    """Something was added to the record, by whichever program."""

    type: Literal["record_changed"]
