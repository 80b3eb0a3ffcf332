# SPDX-License-Identifier: BSD-3-Clause
"""The search for rings on the live socket: a brief goes in, word of the search and the rings worth building come back.

Of the requests on one socket only the newest is worked on; a newer one, or `search_stop`, ends the search before it.
"""

from typing import Annotated, Literal

from pydantic import Field

from ringwright.web.messages.base import Base, Edits, Message, Problem
from ringwright.web.messages.designs import FigureEntry

_Text = Annotated[str, Field(max_length=200)]
_Names = Annotated[list[_Text], Field(max_length=500)]


class RoomAsked(Message):
    """Quantities as in a brief file; null: nothing is in the way."""

    width: _Text | None = None
    depth: _Text | None = None
    height: _Text | None = None


class LimitsAsked(Message):
    mass: _Text | None = None
    cost: _Text | None = None
    capacitor_voltage_margin: float | None = None
    swr: float | None = None


class WeightsAsked(Message):
    sky_db: float = 1.0
    size: float = 0.0
    mass: float = 0.0
    cost: float = 0.0
    bandwidth: float = 0.0
    margin: float = 0.0


class GridAsked(Message):
    """Conductors and capacitors by name; null: all that is at hand."""

    shape: _Names | None = None
    perimeter: Annotated[list[str | int], Field(max_length=3)] | None = None
    conductors: _Names | None = None
    capacitors: _Names | None = None


class BriefAsked(Message):
    """A brief as in its file; site, tolerances and region are those of the draft."""

    bands: _Names
    power: _Text
    mode: _Text | None = None
    room: RoomAsked = Field(default_factory=RoomAsked)
    limits: LimitsAsked = Field(default_factory=LimitsAsked)
    weights: WeightsAsked | None = None
    grid: GridAsked = Field(default_factory=GridAsked)


class SearchRequest(Message):
    """Find the rings worth building for a brief on the site of a draft.

    `from_file`: what only the workspace's brief.toml says counts, too, as `BriefStart.says` tells.
    """

    type: Literal["search"]
    seq: Annotated[int, Field(ge=0, le=2**53)]
    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    brief: BriefAsked
    from_file: bool = False


class SearchStop(Message):
    """End the search; the best so far is answered, and what was solved is kept."""

    type: Literal["search_stop"]


class SearchBand(Message):
    """Margins at the unfavourable end of the tolerances [dB]; null where nobody is."""

    band: str | None
    frequency_hz: float
    efficiency_sky_pct: float
    swr_min: float
    capacitance_f: float
    bandwidth_half_power_hz: float
    capacitor_voltage_peak_v: float
    voltage_margin_db: float | None
    people_margin_db: float | None


class SearchRing(Message):
    """One ring; `verified`: its figures are those of a solution of its own."""

    design: str
    design_toml: str
    shape: str
    score: float
    sky_db: float
    diameter_m: float
    mass_kg: float
    cost: float | None
    coupling_diameter_m: float
    points: dict[str, float]
    verified: bool
    bands: list[SearchBand]


class SearchRefused(Message):
    reason: str
    count: int
    relax: str
    key: str
    screened: int


class SearchRelax(Message):
    key: str
    text: str


class SearchNearest(Message):
    """Of an impossible brief the ring that misses least, and all that would have to be relaxed."""

    design: str
    text: str
    relax: list[SearchRelax]


class SearchDocument(Message):
    """What `search --json` prints."""

    schema_: Literal["ringwright.search/1"] = Field(alias="schema")
    brief: str
    considered: int
    solved: int
    screened: int
    passing: int
    solutions: int
    solutions_kept: int
    verified: int
    weights: dict[str, float]
    currency: str | None
    defaults_used: list[str]
    refused: list[SearchRefused]
    nearest: SearchNearest | None
    front: list[SearchRing]


class SearchProgress(Message):
    """How far it is, also in words, and the best so far, not yet solved for themselves."""

    type: Literal["search_progress"]
    seq: int
    done: int
    total: int
    text: str
    best: list[SearchRing]


class SearchFound(Message):
    """The answer."""

    type: Literal["search_found"]
    seq: int
    search: SearchDocument
    elapsed_ms: float


class SearchStopped(Message):
    """The search was ended; the best so far."""

    type: Literal["search_stopped"]
    seq: int
    best: list[SearchRing]


class SearchProblem(Problem):
    """Why there is no answer; `seq` null where the request could not be read."""

    type: Literal["search_problem"]
    seq: int | None


SearchAnswer = SearchProgress | SearchFound | SearchStopped | SearchProblem


class StockList(Message):
    """What a page of a brief needs once: names of the parts at hand, figures, and the cautions in words."""

    figures: list[FigureEntry]
    conductors: list[str]
    capacitors: list[str]
    shapes: list[str]
    modes: list[str]
    bands: list[str]
    cautions: list[str]


class BriefFields(Message):
    """What a page's fields show of a brief file; lists of parts are null for all that is at hand."""

    bands: list[str]
    power: str
    mode: str | None
    width: str | None
    depth: str | None
    height: str | None
    mass: str | None
    cost: str | None
    margin: float
    swr: float | None
    weights: dict[str, float]
    shapes: list[str]
    perimeter_from: str
    perimeter_to: str
    perimeter_count: int
    conductors: list[str] | None
    capacitors: list[str] | None


class BriefStart(Message):
    """The workspace's brief.toml; `file` is null without one, `form` where the `problem` says why.

    Own parts are described in this file alone; `says` is what counts without a field, and what does not count.
    """

    file: str | None
    etag: str | None
    problem: str | None
    form: BriefFields | None
    own_conductors: list[str]
    own_capacitors: list[str]
    says: list[str]
