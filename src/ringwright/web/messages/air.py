# SPDX-License-Identifier: BSD-3-Clause
"""Bodies of the addresses below `/api/v1/air`: reports of who heard whom, as a map and its histograms.

On the map x points east and y north of one's own place, 1 is the point opposite; distance and bearing are true.
"""

from typing import Annotated

from pydantic import Field

from ringwright.web.messages.base import Base, Edits, Message

Word = Annotated[str, Field(min_length=1, max_length=80)]


class AirAsked(Message):
    """What to look at; what is null is all of it. `base` and `edits` are the draft whose predicted
    pattern is drawn over the map."""

    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    locator: Annotated[str | None, Field(max_length=16)] = None
    band: Annotated[str | None, Field(max_length=16)] = None
    start_s: float | None = None
    end_s: float | None = None
    compare: Annotated[list[Word], Field(min_length=2, max_length=2)] | None = None


class ReportFile(Message):
    """A file on the table."""

    name: str
    size_bytes: int


class RejectedRow(Message):
    """A row that is not used; `row` counted from 1 without the headings."""

    file: str
    row: int
    line: int
    reason: str


class AirBand(Message):
    """A band, whatever is looked at."""

    band: str
    count: int
    distance_max_m: float | None
    distance_median_m: float | None
    snr_median_db: float | None


class AirAntenna(Message):
    name: str
    count: int


class AirTimes(Message):
    """Reports of the looked-at band in equal parts of their whole time [s since 1970]."""

    start_s: float
    end_s: float
    counts: list[int]


class AirWorld(Message):
    """Dots, all lists of one length, and the histograms. `placeless` reports tell no place."""

    x: list[float]
    y: list[float]
    distance_m: list[float]
    bearing_deg: list[float]
    count: list[int]
    snr_db: list[float | None]
    distance_step_m: float
    by_distance: list[int]
    bearing_step_deg: float
    by_bearing: list[int]
    placeless: int
    coast: list[list[float]]
    half_round_m: float


class AirPattern(Message):
    """The draft's predicted gain round the horizon."""

    band: str | None
    elevation_deg: float
    bearing_deg: list[float]
    gain_dbi: list[float]


class AirLight(Message):
    """Reports by the light at one's own place."""

    day: int
    grey_line: int
    night: int


class AirCompared(Message):
    """Two antennas, as `air --compare` prints them, with the sentences."""

    a: str
    b: str
    difference_db: float | None
    low_db: float | None
    high_db: float | None
    pairs: int
    receivers: int
    more_needed: int | None
    verdict: str
    more: str


class AirSeen(Message):
    """What is to be seen; `rejected` at most the first 500 of `rejected_count`."""

    files: list[ReportFile]
    read: int
    kept: int
    rejected_count: int
    rejected: list[RejectedRow]
    locator: str | None
    bands: list[AirBand]
    antennas: list[AirAntenna]
    shown: int
    times: AirTimes | None
    world: AirWorld | None
    pattern: AirPattern | None
    light: AirLight | None
    compared: AirCompared | None
    compare_problem: str | None
    locator_problem: str | None
