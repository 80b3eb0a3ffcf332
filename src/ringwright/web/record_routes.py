# SPDX-License-Identifier: BSD-3-Clause
"""The addresses below `/api/v1/record`: thin doors to the desk's record."""

from contextlib import ExitStack
from typing import Annotated

from fastapi import APIRouter, Path, Query, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import FileResponse, Response
from starlette.background import BackgroundTask

from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.records.entries import NoteKind
from ringwright.web.encode_record import (
    labels_of,
    moments_compared,
    note_kept,
    record_line,
    record_table,
    sweep_kept,
    taken_in,
    to_keep,
    trend_drawn,
)
from ringwright.web.messages.record import (
    DesignOnLine,
    MomentsCompared,
    MomentsSent,
    NoteKept,
    NoteSent,
    RecordLine,
    RecordTable,
    SweepsKept,
    SweepsSent,
    TakenIn,
    TrendDrawn,
)
from ringwright.web.routes import PROBLEMS, problems

Checksum = Annotated[str, Path(pattern="^[0-9a-f]{64}$", description="SHA-256 of a design's text.")]
Band = Annotated[str, Query(min_length=1, max_length=60, description="A band of the line.")]
Trial = Annotated[bool, Query(description="Only say what it would bring.")]
_ARCHIVE = {"content": {"application/zip": {"schema": {"type": "string", "format": "binary"}}}}
_MISSING = {404: "The record holds no such thing."}
_STALE = {412: "The text under this etag is no longer known: send it."}
_DISK = {507: "The disk refuses, or the record is damaged or locked; nothing is half kept."}


class RecordApi:
    """Its addresses, for one desk."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def router(self) -> APIRouter:
        """The addresses with what they may answer beside what is asked for."""
        router = APIRouter(prefix="/api/v1/record", responses=problems(PROBLEMS | _DISK))
        router.add_api_route("", self.get_line)
        router.add_api_route("/table", self.get_table)
        router.add_api_route("/designs/{sha256}", self.get_design, responses=problems(_MISSING))
        router.add_api_route("/trend", self.get_trend, responses=problems(_MISSING))
        router.add_api_route("/compare", self.post_compare, methods=["POST"], responses=problems(_MISSING))
        router.add_api_route("/notes", self.post_note, methods=["POST"])
        router.add_api_route(
            "/sweeps", self.post_sweeps, methods=["POST"], responses=problems(_MISSING | _STALE)
        )
        router.add_api_route(
            "/archive",
            self.get_archive,
            response_class=FileResponse,
            responses=problems(_MISSING) | {200: _ARCHIVE},
        )
        router.add_api_route(
            "/archive", self.post_archive, methods=["POST"], openapi_extra={"requestBody": _ARCHIVE}
        )
        return router

    def get_line(self) -> RecordLine:
        """Everything that happened, in order."""
        return record_line(self._desk.record.line())

    def get_table(self) -> RecordTable:
        """What a page of the record needs once: figures, kinds of notes, cautions."""
        return record_table()

    def get_design(self, sha256: Checksum) -> DesignOnLine:
        """The text of a design on the line."""
        return DesignOnLine(sha256=sha256, text=self._desk.record.design_text(sha256))

    def get_trend(self, band: Band) -> TrendDrawn:
        """How a band's Q and frequency move with time, temperature and rain."""
        return trend_drawn(self._desk.record.trend(band))

    def post_compare(self, request: MomentsSent) -> MomentsCompared:
        """What moved from one moment to another, band by band."""
        return moments_compared(self._desk.record.compare(request.before, request.after))

    def post_note(self, request: NoteSent) -> NoteKept:
        """Write a note down."""
        note, is_new = self._desk.record.add_note(request.text, at=request.at, kind=NoteKind(request.kind))
        return note_kept(note, is_new=is_new)

    def post_sweeps(self, request: SweepsSent) -> SweepsKept:
        """Set sweeps against a draft and keep them, with the text of the draft."""
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        kept = self._desk.keep(draft, list(map(to_keep, request.sweeps)), labels_of(request))
        return SweepsKept(record=str(self._desk.record.file), sweeps=list(map(sweep_kept, kept)))

    def get_archive(self) -> Response:
        """Everything as plain files, in one archive."""
        open_until_sent = ExitStack()
        archive = open_until_sent.enter_context(self._desk.record.packed())
        return FileResponse(
            archive,
            media_type="application/zip",
            filename=archive.name,
            background=BackgroundTask(open_until_sent.close),
        )

    async def post_archive(self, request: Request, *, trial: Trial = False) -> TakenIn:
        """Add what an archive holds and the record has not."""
        archive = await request.body()
        return taken_in(await run_in_threadpool(self._desk.record.take_in, archive, is_trial=trial))
