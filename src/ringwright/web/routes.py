# SPDX-License-Identifier: BSD-3-Clause
"""The HTTP API below `/api/v1`: thin doors to the desk."""

import time
from collections.abc import Mapping
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Path
from fastapi.responses import JSONResponse, Response

from ringwright.antenna.figures import FIGURES
from ringwright.choose.figures import COUPLING_FIGURES
from ringwright.choose.rings.figures import SEARCH_FIGURES
from ringwright.desk.controls import CHOICES, SLIDERS
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.proof_figures import PROOF_FIGURES
from ringwright.desk.proving import ANALYSER, AUTHORITY, BEFORE_TOUCHING, WEATHER
from ringwright.desk.saving import Saved as SavedDesign
from ringwright.desk.site.figures import SITE_FIGURES
from ringwright.safety.cautions import AUTHORITY as AUTHORITY_OF_LIMITS
from ringwright.safety.cautions import HIGH_VOLTAGE
from ringwright.web.encode import design_entry, design_text, figure_entries, prediction_body, to_text
from ringwright.web.encode_site import site_cautions
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
from ringwright.web.messages.proof import ProofCautions, ProofTable, SweepEntry, SweepList
from ringwright.web.messages.search import BriefStart, StockList
from ringwright.web.messages.site import SiteTable

NameInAddress = Annotated[
    str, Path(pattern=NAME_PATTERN, description="A design file's name, without `.toml`.")
]


PROBLEMS = {
    400: "The body is no JSON.",
    401: "The server's token is missing or wrong.",
    403: "Another page's origin, or a name that is not this server's.",
    408: "The body took too long.",
    413: "The body is too large.",
    422: "The values make no design, or the request is not allowed.",
}
_MISSING = {404: "There is no such design."}
_STALE = {412: "The text under this etag is no longer known: send it."}
_DISK = {507: "The disk refuses; the old text is untouched."}


class Api:
    """All addresses, for one desk."""

    def __init__(self, desk: Desk, health: Health) -> None:
        self._desk, self._health = desk, health

    def router(self) -> APIRouter:
        """The addresses with what they may answer beside what is asked for."""
        router = APIRouter(prefix="/api/v1", responses=problems(PROBLEMS))
        router.add_api_route("/health", self.get_health)
        router.add_api_route("/start", self.get_start)
        router.add_api_route("/figures", self.get_figures)
        router.add_api_route("/site", self.get_site)
        router.add_api_route("/match", self.get_match)
        router.add_api_route("/stock", self.get_stock)
        router.add_api_route("/brief", self.get_brief)
        router.add_api_route("/proof", self.get_proof)
        router.add_api_route("/sweeps", self.get_sweeps, responses=problems(_DISK))
        router.add_api_route("/designs", self.get_designs)
        router.add_api_route("/designs/{name}", self.get_design, responses=problems(_MISSING))
        router.add_api_route(
            "/designs/{name}",
            self.put_design,
            methods=["PUT"],
            response_model=Saved,
            responses=problems(_MISSING | _STALE | _DISK)
            | {
                409: {
                    "model": Conflict,
                    "description": "Somebody else changed the same; nothing was written.",
                }
            },
        )
        router.add_api_route(
            "/predict",
            self.post_predict,
            methods=["POST"],
            response_model=PredictionBody,
            responses=problems(_MISSING | _STALE),
        )
        return router

    def get_health(self) -> Health:
        """Whether the server is up, and which one it is."""
        return self._health

    def get_start(self) -> StartDraft:
        """The built-in design a page starts from, and what may be dragged and chosen."""
        start = self._desk.start()
        return StartDraft(
            name=start.name,
            text=start.text,
            etag=start.etag,
            values=start.values,
            sliders=[Slider(**asdict(slider)) for slider in SLIDERS],
            choices=[Choice(**asdict(choice) | {"options": list(choice.options)}) for choice in CHOICES],
        )

    def get_figures(self) -> FigureTable:
        """The table of figures: what every number on a page is, where it comes from, how far it holds."""
        return FigureTable(figures=figure_entries(FIGURES))

    def get_site(self) -> SiteTable:
        """What a page of the site needs once: its figures, and the cautions in words."""
        return SiteTable(figures=figure_entries(SITE_FIGURES), cautions=site_cautions())

    def get_match(self) -> FigureTable:
        """What a page of a match needs once: its figures."""
        return FigureTable(figures=figure_entries(COUPLING_FIGURES))

    def get_stock(self) -> StockList:
        """What a page of a brief needs once: the parts at hand by name, and the cautions in words."""
        return StockList(
            **{key: list(names) for key, names in asdict(self._desk.stock()).items()},
            figures=figure_entries(SEARCH_FIGURES),
            cautions=[HIGH_VOLTAGE, AUTHORITY_OF_LIMITS],
        )

    def get_brief(self) -> BriefStart:
        """The workspace's brief.toml as the fields of a page start from it."""
        return BriefStart.model_validate(asdict(self._desk.brief()), strict=False)

    def get_proof(self) -> ProofTable:
        """What a page of a proof needs once: its figures, and the cautions in words."""
        cautions = ProofCautions(
            before_touching=BEFORE_TOUCHING, analyser=ANALYSER, weather=WEATHER, authority=AUTHORITY
        )
        return ProofTable(figures=figure_entries(PROOF_FIGURES), cautions=cautions)

    def get_sweeps(self) -> SweepList:
        """The sweep files of the workspace."""
        stamps = self._desk.sweeps.stamps()
        return SweepList(
            sweeps=[SweepEntry(name=name, size_bytes=each.size) for name, each in stamps.items()]
        )

    def get_designs(self) -> DesignList:
        """The design files of the workspace."""
        return DesignList(
            workspace=self._desk.name,
            designs=list(map(design_entry, self._desk.designs())),
            newest=self._desk.newest(),
        )

    def get_design(self, name: NameInAddress) -> DesignText:
        """A design file as it stands."""
        return design_text(self._desk.open(name))

    def put_design(self, name: NameInAddress, request: SaveRequest) -> Response:
        """Save a draft, comments kept, nobody's edit lost."""
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        outcome = self._desk.save(name, draft, text=request.text)
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

    def post_predict(self, request: PredictBody) -> Response:
        """Predict a draft once; a page uses the live socket instead."""
        began = time.perf_counter()
        found = self._desk.predict(draft_of(request), request.detail_band)
        body = to_text(prediction_body(found, elapsed=time.perf_counter() - began))
        return Response(body, media_type="application/json")


def problems(descriptions: Mapping[int, str]) -> dict[int | str, dict[str, Any]]:
    """What an address may answer beside what is asked for, for its description."""
    return {status: {"model": Problem, "description": text} for status, text in descriptions.items()}
