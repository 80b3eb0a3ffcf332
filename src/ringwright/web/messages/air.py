# SPDX-License-Identifier: BSD-3-Clause
"""Bodies of the addresses below `/api/v1/air`: reports of who heard whom, as a map and its histograms.

On the map x points east and y north of one's own place, 1 is the point opposite; distance and bearing are true.
"""

from typing import Annotated, Literal

from pydantic import Field

from ringwright.web.messages.base import Base, Edits, Message, Name

Two = Field(min_length=2, max_length=2)
Word = Annotated[str, Field(min_length=1, max_length=80)]


TwoWords = Annotated[list[Word], Two]


class AirAsked(Message):
    """What to look at; what is null is all of it. `base` and `edits` are the draft whose predicted
    pattern is drawn over the map."""

    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    locator: Annotated[str | None, Field(max_length=16)] = None
    band: Annotated[str | None, Field(max_length=16)] = None
    start_s: float | None = None
    end_s: float | None = None
    compare: TwoWords | None = None
    antenna: Word | None = None
    since_s: float | None = Field(
        None,
        ge=0.0,
        le=4e9,
        description="Sets what came from then on against what came before, of `antenna` if it is named.",
    )
    with_record: bool = Field(True, description="Whether what the record holds is looked at too.")


class AirTurned(Message):
    """The true bearing of a ring's plane while reports named it so; without `antenna`: of all reports."""

    antenna: Word | None = None
    bearing_deg: Annotated[float, Field(ge=-360.0, le=360.0)]


class AirNullAsked(AirAsked):
    """Where the ring is quiet."""

    turned: Annotated[list[AirTurned], Field(min_length=1, max_length=36)]


class AirPromiseAsked(AirAsked):
    """What the designs of the two antennas of `compare` promise; null stands for the draft."""

    designs: Annotated[list[Name | None], Field(min_length=2, max_length=2)]


class AirPictureAsked(AirAsked):
    """The map as a file."""

    kind: Literal["svg", "png"] = "svg"


class AirSlotsAsked(Message):
    """A plan for alternating two antennas, in slots of `length_s`; from the next minute on without a start."""

    antennas: TwoWords
    start_s: Annotated[float | None, Field(ge=0.0, le=4e9)] = None
    length_s: Annotated[float, Field(ge=1.0, le=86_400.0)] = 120.0
    count: Annotated[int, Field(ge=2, le=2000)] = 60


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
    """Reports by the light at one's own place, and at the receivers'; both together in `both`, rows here, columns
    there, in the order day, grey line, night. `place_unknown` reports tell no place."""

    day: int
    grey_line: int
    night: int
    there: list[int]
    both: list[list[int]]
    place_unknown: int


class AirPlan(Message):
    """The plan for alternating that lies on the table."""

    name: str
    slots: int


class AirHistory(Message):
    """After minus before, of the same receivers at the same hours; null where they say too little."""

    difference_db: float | None
    low_db: float | None
    high_db: float | None
    pairs: int
    words: list[str]


class AirNull(Message):
    """The null that reports tell, the predicted ones beside it, and what this cannot say."""

    bearing_deg: float
    bearing_low_deg: float
    bearing_high_deg: float
    depth_db: float
    depth_low_db: float
    depth_high_db: float
    words: str
    predicted: list[str]
    limits: str


class AirPromised(Message):
    """What two designs promise at the angles of the pairs' paths; `is_met` null where the pairs do not say."""

    difference_db: float
    low_db: float
    high_db: float
    is_met: bool | None
    words: str


class AirKept(Message):
    """How many reports the record had not."""

    new: int


class AirHeadings(Message):
    """The columns of a table to be named: headings, cells of the first row, and the roles that headings tell already,
    each with its column counted from 1."""

    headings: list[str]
    sample: list[str]
    roles: list[str]
    told: dict[str, int]
    frequency_units: list[str]
    power_units: list[str]


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
    """What is to be seen; `rejected` at most the first 500 of `rejected_count`. `read`, `kept` and `rejected` are of
    the files on the table, `total` of all that is looked at; `recorded` stand in the record, `unkept` of the table do
    not."""

    files: list[ReportFile]
    plan: AirPlan | None
    total: int
    recorded: int
    unkept: int
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
    fairness: list[str]
    history: AirHistory | None
    history_problem: str | None
    compare_problem: str | None
    locator_problem: str | None
