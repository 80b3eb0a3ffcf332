# SPDX-License-Identifier: BSD-3-Clause
"""The addresses below `/api/v1/air`: reports put on the table, taken off, and looked at."""

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import Response

from ringwright.air.locator import place_of
from ringwright.desk.airing import AirLook, PredictedPattern
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.errors import DesignError, LocatorError, OutOfRangeError, ReportsError, StaleDraftError
from ringwright.web.encode_air import air_seen
from ringwright.web.messages.air import AirAsked, AirSeen
from ringwright.web.routes import PROBLEMS, problems

FileName = Annotated[
    str, Query(min_length=1, max_length=255, description="The file's name; its ending tells its kind.")
]
Column = Annotated[str, Query(max_length=200)]
ColumnsNamed = Annotated[
    list[Column] | None, Query(max_length=20, description="Columns of a table, as in `snr=4`; remembered.")
]
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
            responses=problems({404: "There is no such file on the table, or no such design."}),
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
        """Put a file of reports on the table."""
        content = await request.body()
        await run_in_threadpool(self._desk.reports.add, name, content, columns=column or ())
        return Response(status_code=204)

    def delete_reports(self, name: FileName) -> Response:
        """Take a file off the table."""
        self._desk.reports.remove(name)
        return Response(status_code=204)

    def post_look(self, asked: AirAsked) -> AirSeen:
        """What is to be seen of all reports on the table; a place or antennas that are none leave the rest."""
        wanted = AirLook(
            locator=asked.locator or None,
            band=asked.band,
            start=asked.start_s,
            end=asked.end_s,
            compared=None if asked.compare is None else (asked.compare[0], asked.compare[1]),
        )
        locator_problem = compare_problem = None
        if wanted.locator is not None:
            try:
                place_of(wanted.locator)
            except LocatorError as exc:
                locator_problem = str(exc)
                wanted = replace(wanted, locator=None)
        try:
            view = self._desk.reports.look(wanted)
        except ReportsError as exc:
            compare_problem = str(exc)
            view = self._desk.reports.look(replace(wanted, compared=None))
        return air_seen(
            view, self._pattern(asked), compare_problem=compare_problem, locator_problem=locator_problem
        )

    def _pattern(self, asked: AirAsked) -> PredictedPattern | None:
        """The draft's pattern; none where the draft makes no design, which other pages tell of."""
        draft = Draft(base=Base(**asked.base.model_dump()), edits=asked.edits)
        try:
            return self._desk.pattern(draft, asked.band)
        except (DesignError, OutOfRangeError, StaleDraftError):
            return None
