# SPDX-License-Identifier: BSD-3-Clause
"""The match on the live socket: a draft goes in, word of the search and its answer come back.

Of the requests on one socket only the newest is worked on; a newer one, or `match_stop`, ends the search before it.
"""

from typing import Annotated, Literal

from pydantic import Field

from ringwright.web.messages.base import Base, Edits, Message, Problem


class MatchRequest(Message):
    """Find the coupling for all bands of a draft at once; `vary` beside its size."""

    type: Literal["match"]
    seq: Annotated[int, Field(ge=0, le=2**53)]
    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    vary: Annotated[list[Literal["squash", "clearance", "at"]], Field(max_length=3)] = Field(
        default_factory=list
    )


class MatchStop(Message):
    """End the search; what it found so far is answered."""

    type: Literal["match_stop"]


class MatchBand(Message):
    """One band re-tuned for its lowest SWR; `is_over_coupled`: the coupling takes more than a match."""

    band: str | None
    frequency_hz: float
    swr_min: float
    capacitance_f: float
    is_over_coupled: bool


class CouplingSizes(Message):
    """Sizes of a coupling; null what its kind does not have.

    `wire_m`: round the loop; `along_m`, `across_m`: its length and width beside the ring's conductor; all by its axis.
    """

    diameter_m: float | None
    squash: float | None
    clearance_m: float | None
    at: str | None
    wire_m: float | None
    along_m: float | None
    across_m: float | None
    tap_at_m: float | None
    turns: int | None


class MatchTrial(CouplingSizes):
    """A coupling with what it gives on every band."""

    swr_worst: float
    worst_band: str | None
    bands: list[MatchBand]


class MatchTrade(MatchTrial):
    """The coupling that matches one band best, and what it costs the others."""

    band: str | None
    frequency_hz: float


class MatchPoint(CouplingSizes):
    """A point of the curve along the first size; `swr_min` band by band."""

    swr_worst: float
    swr_min: list[float]


class MatchSensitivity(Message):
    """The worst SWR with one size a step less and more than the best; null where that cannot be built."""

    key: str
    step_m: float | None
    step_turns: int | None
    swr_worst_less: float | None
    swr_worst_more: float | None


class MatchNote(Message):
    code: str
    text: str


class MatchDocument(Message):
    """What `match --json` prints. `one_fifth`: a loop by the rule of thumb, null for other kinds of coupling."""

    schema_: Literal["ringwright.match/1"] = Field(alias="schema")
    design: str
    kind: str
    varied: list[str]
    best: MatchTrial
    now: MatchTrial
    one_fifth: MatchTrial | None
    sensitivity: list[MatchSensitivity]
    trade: list[MatchTrade]
    curve: list[MatchPoint]
    notes: list[MatchNote]
    tried: int


class MatchProgress(Message):
    """How many couplings were tried, and the best of them, also in words."""

    type: Literal["match_progress"]
    seq: int
    tried: int
    text: str
    best: MatchTrial


class MatchFound(Message):
    """The answer. `edits` put the coupling into the draft."""

    type: Literal["match_found"]
    seq: int
    match: MatchDocument
    edits: Edits
    elapsed_ms: float


class MatchStopped(Message):
    """The search was ended; `best` so far, null if nothing was tried."""

    type: Literal["match_stopped"]
    seq: int
    best: MatchTrial | None


class MatchProblem(Problem):
    """Why there is no match; `seq` null where the request could not be read."""

    type: Literal["match_problem"]
    seq: int | None


MatchAnswer = MatchProgress | MatchFound | MatchStopped | MatchProblem
