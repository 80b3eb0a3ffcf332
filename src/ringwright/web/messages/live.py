# SPDX-License-Identifier: BSD-3-Clause
"""Messages of the WebSocket `/api/v1/live`: one JSON object each, told apart by `type`."""

from typing import Annotated, Literal

from pydantic import Field, RootModel

from ringwright.web.messages.base import Base, Edits, Message, Problem
from ringwright.web.messages.match import MatchAnswer, MatchRequest, MatchStop
from ringwright.web.messages.prediction import PredictionDocument
from ringwright.web.messages.proof import ProofAnswer, ProveRequest, ProveStop, SweepChanged
from ringwright.web.messages.record import RecordChanged
from ringwright.web.messages.search import SearchAnswer, SearchRequest, SearchStop
from ringwright.web.messages.site import SiteAnswer, SiteRequest

Point = Annotated[tuple[float, float, float], Field(description="x, y, z in metres; z up from the earth.")]


class PredictBody(Message):
    """A draft to predict."""

    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    detail_band: Annotated[
        int,
        Field(
            ge=0,
            le=200,
            description="Index of the band whose current the drawing shows; beyond the last it is the last.",
        ),
    ] = 0


class PredictRequest(PredictBody):
    """Predict a draft. Of the requests that wait on one socket only the newest is answered."""

    type: Literal["predict"]
    seq: Annotated[int, Field(ge=0, le=2**53)]


class Hello(Message):
    """First message on every socket. `instance` changes when the server starts again, `version` with the program."""

    type: Literal["hello"]
    api: Literal[1]
    version: str
    instance: str
    workspace: str


class BandCurves(Message):
    """What the feed sees across one band with the capacitor at its setting, all lists of one length.

    Points lie close together in the dip and far apart where nothing happens; a page shows the part it wants.
    `edges_hz` are those of the band, equal for a single frequency.
    """

    band: str | None
    edges_hz: tuple[float, float]
    frequency_hz: list[float]
    swr: list[float]
    reflection_re: list[float]
    reflection_im: list[float]


class Wire(Message):
    """A conductor as it was solved: nodes in order. Where it is closed the last joins the first."""

    points_m: list[Point]
    radius_m: float


class CouplingWire(Wire):
    """A loop, closed, or a tapped coupling's arm, open: from the ring, along it, and back to it.

    Without points where the coupling is a transformer.
    """

    is_closed: bool


class CoreDrawn(Message):
    """A transformer's core round the ring's conductor, at `feed_m`."""

    primary_turns: int
    passes: int


class RingWire(Wire):
    """The ring; `current_rms_a` at each node in the detail band, at the design's power. Starts at the gap."""

    current_rms_a: list[float]


class Drawing(Message):
    """Ring and coupling in space. `across` and `up` span the ring's plane, `axis` stands on it.

    `core` is null but for a transformer.
    """

    detail_band: int
    ring: RingWire
    coupling: CouplingWire
    core: CoreDrawn | None
    gap_m: Point
    feed_m: Point
    centre_m: Point
    across: Point
    up: Point
    axis: Point
    gap_voltage_peak_v: float


class DefaultUsed(Message):
    """A key the draft leaves open: the value that stands for it, as it would stand in the file, and why that one."""

    key: str
    value: str
    why: str


class PredictionBody(Message):
    """A draft, predicted, with what a page draws. `elapsed_ms` is the server's own share.

    `solves` counts the full-wave solutions it took; 0 where everything was known.
    """

    prediction: PredictionDocument
    bands: list[BandCurves]
    drawing: Drawing
    defaults: list[DefaultUsed]
    elapsed_ms: float
    solves: int


class PredictionMessage(PredictionBody):
    """The answer to a request."""

    type: Literal["prediction"]
    seq: int


class ProblemMessage(Problem):
    """The answer to a request that has no prediction; `seq` is null where the request could not be read."""

    type: Literal["problem"]
    seq: int | None


class FileChanged(Message):
    """A design file is new or has changed, by whoever; `etag` is null when it is gone."""

    type: Literal["file_changed"]
    name: str
    etag: str | None


class ClientMessage(
    RootModel[
        Annotated[
            PredictRequest
            | SiteRequest
            | MatchRequest
            | MatchStop
            | ProveRequest
            | ProveStop
            | SearchRequest
            | SearchStop,
            Field(discriminator="type"),
        ]
    ]
):
    """What a client may send."""


class ServerMessage(
    RootModel[
        Annotated[
            Hello
            | PredictionMessage
            | ProblemMessage
            | FileChanged
            | SweepChanged
            | RecordChanged
            | SiteAnswer
            | MatchAnswer
            | ProofAnswer
            | SearchAnswer,
            Field(discriminator="type"),
        ]
    ]
):
    """What the server sends."""
