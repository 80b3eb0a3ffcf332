# SPDX-License-Identifier: BSD-3-Clause
"""The addresses below `/api/v1/air`: reports put on the table, taken off, and looked at."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import Response

from ringwright.air.columns import FREQUENCY_UNITS, POWER_UNITS, ROLES, told_by_headings
from ringwright.air.locator import place_of
from ringwright.air.table import sample
from ringwright.desk.air_answers import PNG, SVG, PredictedPattern, plan_text, predicted_nulls
from ringwright.desk.airing import AirLook
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.errors import DesignError, LocatorError, OutOfRangeError, ReportsError, StaleDraftError
from ringwright.web.encode_air import air_seen, null_found, promise_found
from ringwright.web.messages.air import (
    AirAsked,
    AirHeadings,
    AirKept,
    AirNull,
    AirNullAsked,
    AirPictureAsked,
    AirPromiseAsked,
    AirPromised,
    AirSeen,
    AirSlotsAsked,
)
from ringwright.web.routes import PROBLEMS, problems

FileName = Annotated[
    str, Query(min_length=1, max_length=255, description="The file's name; its ending tells its kind.")
]
OwnPlace = Annotated[
    str | None, Query(max_length=16, description="One's own locator, where the reports tell none.")
]
Column = Annotated[str, Query(max_length=200)]
ColumnsNamed = Annotated[
    list[Column] | None, Query(max_length=20, description="Columns of a table, as in `snr=4`; remembered.")
]
_NO_DESIGN = {404: "There is no such design."}
_PICTURES = {SVG: "image/svg+xml", PNG: "image/png"}
_FILE = {"schema": {"type": "string", "format": "binary"}}
_MAP: dict[int | str, dict[str, Any]] = {200: {"content": dict.fromkeys(_PICTURES.values(), _FILE)}}
_PLAN: dict[int | str, dict[str, Any]] = {200: {"content": {"text/csv": {"schema": {"type": "string"}}}}}
_BODY = {"content": {"application/octet-stream": {"schema": {"type": "string", "format": "binary"}}}}


class AirApi:
    """Its addresses, for one desk."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def router(self) -> APIRouter:
        """The addresses with what they may answer beside what is asked for."""
        router = APIRouter(prefix="/api/v1/air", responses=problems(PROBLEMS))
        router.add_api_route(
            "/look",
            self.post_look,
            methods=["POST"],
            responses=problems(_NO_DESIGN),
        )
        router.add_api_route("/null", self.post_null, methods=["POST"], responses=problems(_NO_DESIGN))
        router.add_api_route("/promise", self.post_promise, methods=["POST"], responses=problems(_NO_DESIGN))
        router.add_api_route(
            "/map",
            self.post_map,
            methods=["POST"],
            response_class=Response,
            responses=_MAP | problems(_NO_DESIGN),
        )
        router.add_api_route(
            "/slots", self.post_slots, methods=["POST"], response_class=Response, responses=_PLAN
        )
        router.add_api_route(
            "/headings", self.post_headings, methods=["POST"], openapi_extra={"requestBody": _BODY}
        )
        router.add_api_route(
            "/keep",
            self.post_keep,
            methods=["POST"],
            responses=problems({507: "The disk refuses; nothing was kept."}),
        )
        router.add_api_route(
            "/reports",
            self.post_reports,
            methods=["POST"],
            status_code=204,
            response_class=Response,
            responses=problems({507: "The disk refuses; what lay on the table stays."}),
            openapi_extra={"requestBody": _BODY},
        )
        router.add_api_route(
            "/reports",
            self.delete_reports,
            methods=["DELETE"],
            status_code=204,
            response_class=Response,
            responses=problems({404: "There is no such file on the table."}),
        )
        return router

    async def post_reports(self, request: Request, name: FileName, column: ColumnsNamed = None) -> Response:
        """Put a file of reports, or a plan for alternating, on the table."""
        content = await request.body()
        await run_in_threadpool(self._desk.reports.add, name, content, columns=column or ())
        return Response(status_code=204)

    def delete_reports(self, name: FileName) -> Response:
        """Take a file off the table."""
        self._desk.reports.remove(name)
        return Response(status_code=204)

    async def post_headings(self, request: Request, name: FileName) -> AirHeadings:
        """What the columns of a table are called, so that they can be named; nothing is put on the table."""
        head, first = sample(await request.body(), source=name)
        return AirHeadings(
            headings=head,
            sample=first,
            roles=list(ROLES),
            told={role: place + 1 for role, place in told_by_headings(head).items()},
            frequency_units=list(FREQUENCY_UNITS),
            power_units=list(POWER_UNITS),
        )

    def post_keep(self, locator: OwnPlace = None) -> AirKept:
        """Keep all reports on the table in the record, each once."""
        return AirKept(new=self._desk.reports.keep(locator or None))

    def post_look(self, asked: AirAsked) -> AirSeen:
        """What is to be seen of the reports on the table and of the record; a place or antennas that are none leave
        the rest."""
        wanted, locator_problem = _look(asked), None
        if wanted.locator is not None:
            try:
                place_of(wanted.locator)
            except LocatorError as exc:
                locator_problem, wanted = str(exc), replace(wanted, locator=None)
        view = self._desk.reports.look(wanted)
        return air_seen(view, self._pattern(asked), locator_problem=locator_problem)

    def post_null(self, asked: AirNullAsked) -> AirNull:
        """Where the ring is quiet and how deep, beside what is predicted of the draft."""
        turned = {each.antenna or "": each.bearing_deg for each in asked.turned}
        found = self._desk.reports.null(_look(asked), turned)
        try:
            predicted = predicted_nulls(self._desk.promise(_draft(asked)))
        except (DesignError, OutOfRangeError, StaleDraftError):
            predicted = ()  # which other pages tell of
        return null_found(found, predicted)

    def post_promise(self, asked: AirPromiseAsked) -> AirPromised:
        """What the designs of two antennas promise over their pairs, beside what these say."""
        if asked.compare is None:
            raise ReportsError("compare: two antennas are needed for two designs; name them")
        first, second = (self._desk.promise(_named(asked, name)) for name in asked.designs)
        names = asked.compare[0], asked.compare[1]
        return promise_found(self._desk.reports.promised(_look(asked), first, second=second, names=names))

    def post_map(self, asked: AirPictureAsked) -> Response:
        """The map as a file."""
        content = self._desk.reports.picture(_look(asked), self._pattern(asked), kind=asked.kind)
        headers = {"Content-Disposition": f'attachment; filename="heard.{asked.kind}"'}
        return Response(content, media_type=_PICTURES[asked.kind], headers=headers)

    def post_slots(self, asked: AirSlotsAsked) -> Response:
        """A plan for alternating two antennas, its order drawn by lot, as a table."""
        start = None if asked.start_s is None else datetime.fromtimestamp(asked.start_s, UTC)
        text = plan_text(asked.antennas, start=start, length=asked.length_s, count=asked.count, seed=None)
        headers = {"Content-Disposition": 'attachment; filename="plan.csv"'}
        return Response(text, media_type="text/csv; charset=utf-8", headers=headers)

    def _pattern(self, asked: AirAsked) -> PredictedPattern | None:
        """The draft's pattern; none where the draft makes no design, which other pages tell of."""
        try:
            return self._desk.pattern(_draft(asked), asked.band)
        except (DesignError, OutOfRangeError, StaleDraftError):
            return None


def _look(asked: AirAsked) -> AirLook:
    return AirLook(
        locator=asked.locator or None,
        band=asked.band,
        start=asked.start_s,
        end=asked.end_s,
        compared=None if asked.compare is None else (asked.compare[0], asked.compare[1]),
        antenna=asked.antenna,
        since=None if asked.since_s is None else datetime.fromtimestamp(asked.since_s, UTC),
        with_record=asked.with_record,
    )


def _draft(asked: AirAsked) -> Draft:
    return Draft(base=Base(**asked.base.model_dump()), edits=asked.edits)


def _named(asked: AirAsked, name: str | None) -> Draft:
    """A design file as it stands, or the draft."""
    return _draft(asked) if name is None else Draft(base=Base(name=name), edits={})
