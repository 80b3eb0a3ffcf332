# SPDX-License-Identifier: BSD-3-Clause
"""The addresses below `/api/v1/build`: a draft as a thing to make, and its sheet as a file to print."""

import re
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from ringwright.desk.building import printed
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.sheet.build import Build
from ringwright.sheet.build_document import build_document
from ringwright.sheet.drawings import drawings
from ringwright.sheet.figures import BUILD_FIGURES
from ringwright.web.encode import figure_entries, to_text
from ringwright.web.messages.build import BuildAsked, BuildFound, SheetAsked
from ringwright.web.messages.designs import FigureTable
from ringwright.web.routes import problems

_PDF: dict[int | str, dict[str, Any]] = {
    200: {"content": {"application/pdf": {"schema": {"type": "string", "format": "binary"}}}}
}
_MISSING = {404: "There is no such design."}
_STALE = {412: "The text under this etag is no longer known: send it."}
_NO_DESIGN = {
    400: "The body is no JSON.",
    401: "The server's token is missing or wrong.",
    403: "Another page's origin, or a name that is not this server's.",
    408: "The body took too long.",
    413: "The body is too large.",
    422: "The values make no design, or the request is not allowed.",
}


class BuildApi:
    """Its addresses, for one desk."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def router(self) -> APIRouter:
        """The addresses with what they may answer beside what is asked for."""
        router = APIRouter(prefix="/api/v1/build", responses=problems(_NO_DESIGN))
        router.add_api_route("", self.get_table)
        router.add_api_route(
            "",
            self.post_build,
            methods=["POST"],
            response_model=BuildFound,
            responses=problems(_MISSING | _STALE),
        )
        router.add_api_route(
            "/sheet",
            self.post_sheet,
            methods=["POST"],
            response_class=Response,
            responses=_PDF | problems(_MISSING | _STALE),
        )
        return router

    def get_table(self) -> FigureTable:
        """What a page of a build needs once: its figures."""
        return FigureTable(figures=figure_entries(BUILD_FIGURES))

    def post_build(self, request: BuildAsked) -> Response:
        """A draft as a thing to make, with every drawing as SVG."""
        return Response(to_text(_body(self._build(request))), media_type="application/json")

    def post_sheet(self, request: SheetAsked) -> Response:
        """The sheet for the bench, or its templates at 1:1, as a PDF."""
        build = self._build(request)
        content = printed(
            build,
            paper=request.paper,
            sheet=request.contents != "templates",
            templates=request.contents != "sheet",
        )
        name = re.sub(r"[^A-Za-z0-9]+", "-", build.design.name).strip("-") or "design"
        kind = "templates" if request.contents == "templates" else "sheet"
        headers = {"Content-Disposition": f'attachment; filename="{name.lower()}-{kind}.pdf"'}
        return Response(content, media_type="application/pdf", headers=headers)

    def _build(self, request: BuildAsked) -> Build:
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        return self._desk.build(draft, is_imperial=request.units == "imperial")


def _body(build: Build) -> dict[str, Any]:
    """The build document less what a page has from the prediction, with pieces as they read, and drawings."""
    document = build_document(build)
    for key in ("schema", "bands"):
        del document[key]
    cuts = document["cuts"]
    del cuts["corners"]
    for group in ("pieces", "coupling"):
        for number, piece in enumerate(cuts[group]):
            piece["letter"] = chr(ord("A") + number) if group == "pieces" else ""
            piece["cut_text"] = build.measures.length(piece["cut_m"])
            piece["axis_text"] = build.measures.length(piece["axis_m"])
    document["drawings"] = [
        {
            "name": name,
            "title": sketch.title,
            "svg": sketch.svg(),
            "width_mm": sketch.width,
            "height_mm": sketch.height,
        }
        for name, sketch in drawings(build).items()
    ]
    return document
