# SPDX-License-Identifier: BSD-3-Clause
"""The HTTP API below `/api/v1`: thin doors to the desk."""

import time
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Path
from fastapi.responses import JSONResponse, Response

from ringwright.desk.controls import CHOICES, SLIDERS
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.saving import Saved as SavedDesign
from ringwright.web.encode import design_entry, design_text, figure_entries, prediction_body, to_text
from ringwright.web.live import draft_of
from ringwright.web.messages.base import NAME_PATTERN, Problem
from ringwright.web.messages.designs import (
    Choice,
    Conflict,
    DesignList,
    DesignText,
    FigureTable,
    Health,
    Saved,
    SaveRequest,
    Slider,
    StartDraft,
)
from ringwright.web.messages.live import PredictBody, PredictionBody

NameInAddress = Annotated[
    str, Path(pattern=NAME_PATTERN, description="A design file's name, without `.toml`.")
]


def api_routes(desk: Desk, health: Health) -> APIRouter:
    """All addresses, for one desk."""
    router = APIRouter(
        prefix="/api/v1",
        responses={
            status: {"model": Problem, "description": description}
            for status, description in {
                400: "The body is no JSON.",
                401: "The server's token is missing or wrong.",
                403: "Another page's origin, or a name that is not this server's.",
                408: "The body took too long.",
                413: "The body is too large.",
                422: "The values make no design, or the request is not allowed.",
            }.items()
        },
    )
    missing: dict[int | str, dict[str, Any]] = {
        404: {"model": Problem, "description": "There is no such design."}
    }
    stale: dict[int | str, dict[str, Any]] = {
        412: {"model": Problem, "description": "The text under this etag is no longer known: send it."}
    }

    @router.get("/health")
    def get_health() -> Health:
        """Whether the server is up, and which one it is."""
        return health

    @router.get("/start")
    def get_start() -> StartDraft:
        """The built-in design a page starts from, and what may be dragged and chosen."""
        start = desk.start()
        return StartDraft(
            name=start.name,
            text=start.text,
            etag=start.etag,
            values=start.values,
            sliders=[Slider(**asdict(slider)) for slider in SLIDERS],
            choices=[Choice(**asdict(choice) | {"options": list(choice.options)}) for choice in CHOICES],
        )

    @router.get("/figures")
    def get_figures() -> FigureTable:
        """The table of figures: what every number on a page is, where it comes from, how far it holds."""
        return FigureTable(figures=figure_entries())

    @router.get("/designs")
    def get_designs() -> DesignList:
        """The design files of the workspace."""
        return DesignList(workspace=desk.name, designs=list(map(design_entry, desk.designs())))

    @router.get("/designs/{name}", responses=missing)
    def get_design(name: NameInAddress) -> DesignText:
        """A design file as it stands."""
        return design_text(desk.open(name))

    @router.put(
        "/designs/{name}",
        response_model=Saved,
        responses=missing
        | stale
        | {
            409: {"model": Conflict, "description": "Somebody else changed the same; nothing was written."},
            507: {"model": Problem, "description": "The disk refuses; the old text is untouched."},
        },
    )
    def put_design(name: NameInAddress, request: SaveRequest) -> Response:
        """Save a draft, comments kept, nobody's edit lost."""
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        outcome = desk.save(name, draft, text=request.text)
        if isinstance(outcome, SavedDesign):
            saved = Saved(
                outcome="saved",
                name=name,
                etag=outcome.etag,
                text=outcome.text,
                is_merged=outcome.is_merged,
            )
            return JSONResponse(saved.model_dump())
        conflict = Conflict(
            outcome="conflict",
            name=name,
            etag=outcome.etag,
            theirs=outcome.theirs,
            yours=outcome.yours,
            keys=list(outcome.keys),
        )
        return JSONResponse(conflict.model_dump(), status_code=409)

    @router.post("/predict", response_model=PredictionBody, responses=missing | stale)
    def post_predict(request: PredictBody) -> Response:
        """Predict a draft once; a page uses the live socket instead."""
        began = time.perf_counter()
        found = desk.predict(draft_of(request), request.detail_band)
        body = to_text(prediction_body(found, elapsed=time.perf_counter() - began))
        return Response(body, media_type="application/json")

    return router
