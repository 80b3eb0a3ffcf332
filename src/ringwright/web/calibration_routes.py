# SPDX-License-Identifier: BSD-3-Clause
"""The address `/api/v1/calibrations`: layers of what was measured."""

from fastapi import APIRouter

from ringwright.antenna.calibration import Calibration
from ringwright.desk.calibrations import CALIBRATIONS
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.proof.accepted import Accepted, accepted_document
from ringwright.web.encode_proof import delivered
from ringwright.web.messages.calibration import (
    BandNarrowed,
    CalibrationEntry,
    CalibrationKept,
    CalibrationList,
    CalibrationSent,
    InputMoved,
)
from ringwright.web.routes import PROBLEMS, problems

_MISSING = {404: "There is no such design."}
_STALE = {412: "The text under this etag is no longer known: send it."}
_DISK = {507: "The disk refuses; nothing is half written."}


class CalibrationApi:
    """Its addresses, for one desk."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def router(self) -> APIRouter:
        """The addresses with what they may answer beside what is asked for."""
        router = APIRouter(prefix="/api/v1", responses=problems(PROBLEMS))
        router.add_api_route("/calibrations", self.get_calibrations)
        router.add_api_route(
            "/calibrations",
            self.post_calibration,
            methods=["POST"],
            responses=problems(_MISSING | _STALE | _DISK),
        )
        return router

    def get_calibrations(self) -> CalibrationList:
        """The layers of the workspace."""
        return CalibrationList(calibrations=list(map(_entry, self._desk.calibrations.known())))

    def post_calibration(self, request: CalibrationSent) -> CalibrationKept:
        """Take sweeps for the truth: what they teach becomes a layer of that name."""
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        return _kept(self._desk.accept(draft, list(map(delivered, request.sweeps)), request.name))


def _entry(layer: Calibration) -> CalibrationEntry:
    return CalibrationEntry(
        name=layer.name,
        design=layer.design,
        accepted=layer.accepted.isoformat(timespec="seconds"),
        sweeps=[sweep.file for sweep in layer.sweeps],
    )


def _kept(found: Accepted) -> CalibrationKept:
    document = accepted_document(found)
    return CalibrationKept(
        name=found.layer.name,
        file=f"{CALIBRATIONS}/{found.layer.name}.toml",
        chance=found.chance,
        inputs=[InputMoved(key=key, **moved) for key, moved in document["inputs"].items()],
        bands=[BandNarrowed.model_validate(band) for band in document["bands"]],
    )
