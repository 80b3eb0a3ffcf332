# SPDX-License-Identifier: BSD-3-Clause
"""From the desk's plain values to the messages a client reads: rounded to what a screen can show."""

import json
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

import numpy as np

from ringwright.antenna.figures import Figure, to_json
from ringwright.desk.desk import Answer
from ringwright.desk.drafts import OpenDesign
from ringwright.desk.picture import Curves, Drawing
from ringwright.errors import (
    CalibrationError,
    DesignError,
    DesignFileError,
    LocatorError,
    NameRefusedError,
    NoSuchDesignError,
    NoSuchEntryError,
    RecordEntryError,
    RecordFileError,
    ReportFileError,
    ReportsError,
    RingwrightError,
    StaleDraftError,
    StorageError,
    TunerBusyError,
    TuningTableError,
    WorkspaceError,
)
from ringwright.physics.graph import FloatArray
from ringwright.web.messages.base import Problem
from ringwright.web.messages.designs import DesignEntry, DesignText, FigureEntry

LENGTH_DIGITS = 4  # tenths of a millimetre
RANGE_DIGITS = 6  # of a frequency, tens of hertz
_CODES: tuple[tuple[type[RingwrightError], str], ...] = (
    (NoSuchDesignError, "missing"),
    (NameRefusedError, "refused"),
    (StaleDraftError, "stale"),
    (NoSuchEntryError, "missing"),
    (RecordEntryError, "refused"),
    (RecordFileError, "refused"),
    (WorkspaceError, "refused"),
    (CalibrationError, "refused"),
    (StorageError, "storage"),
    (TunerBusyError, "refused"),
    (TuningTableError, "refused"),
    (ReportFileError, "refused"),
    (LocatorError, "refused"),
    (ReportsError, "refused"),
)


def to_text(message: dict[str, Any]) -> str:
    """One JSON object, as short as it can be written."""
    return json.dumps(message, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def prediction_body(answer: Answer, *, elapsed: float) -> dict[str, Any]:
    """The fields of a `PredictionBody`; `elapsed` [s] is what the server took for it."""
    return {
        "prediction": _short_ranges(to_json(answer.prediction)),
        "bands": [_curves(curves) for curves in answer.curves],
        "drawing": _drawing(answer.drawing, answer.detail_band),
        "defaults": [asdict(default) for default in answer.defaults],
        "elapsed_ms": round(elapsed * 1e3, 1),
        "solves": answer.solves,
    }


def _short_ranges(document: dict[str, Any]) -> dict[str, Any]:
    """The ends of ranges in `RANGE_DIGITS`: a page shows two or three, and there are sixty a band."""
    for band in document["bands"]:
        band["range"] = {
            key: [float(f"{end:.{RANGE_DIGITS}g}") for end in ends] for key, ends in band["range"].items()
        }
    return document


def problem_of(error: RingwrightError) -> Problem:
    """The sentence for the person, the key it is about, and a code for programs."""
    code = next((code for kind, code in _CODES if isinstance(error, kind)), "design")
    key = error.key if isinstance(error, DesignError) else None
    text = error.reason if isinstance(error, DesignFileError) else str(error)
    return Problem(code=code, key=key, text=text)


def own_fault() -> Problem:
    """For a mistake of the program's own, which nobody can put right by another value."""
    text = "This design brought the program to a stop; change something, and please report it."
    return Problem(code="internal", key=None, text=text)


def design_text(design: OpenDesign) -> DesignText:
    return DesignText(
        name=design.name,
        etag=design.etag,
        text=design.text,
        values=design.values,
        problem=None if design.problem is None else problem_of(design.problem),
    )


def design_entry(design: OpenDesign | DesignFileError) -> DesignEntry:
    if isinstance(design, DesignFileError):
        name = design.source.removesuffix(".toml")
        return DesignEntry(name=name, etag=None, title=None, problem=problem_of(design))
    problem = None if design.problem is None else problem_of(design.problem)
    return DesignEntry(name=design.name, etag=design.etag, title=design.title, problem=problem)


def figure_entries(figures: Mapping[str, Figure]) -> list[FigureEntry]:
    """A table of figures, in its order."""
    return [
        FigureEntry(
            key=figure.key,
            label=figure.label,
            unit=figure.scale.unit,
            shown_unit=figure.scale.shown_unit,
            factor=figure.scale.factor,
            digits=figure.digits,
            definition=figure.definition,
            formula=figure.formula,
            inputs=list(figure.inputs),
            source=figure.source,
            validity=figure.validity,
            limit=figure.limit,
        )
        for figure in figures.values()
    ]


def _curves(curves: Curves) -> dict[str, Any]:
    return {
        "band": curves.band,
        "edges_hz": curves.edges,
        "frequency_hz": _rounded(curves.frequency, 0),
        "swr": _rounded(curves.swr, 3),
        "reflection_re": _rounded(curves.reflection.real, 4),
        "reflection_im": _rounded(curves.reflection.imag, 4),
    }


def _drawing(drawing: Drawing, detail_band: int) -> dict[str, Any]:
    return {
        "detail_band": detail_band,
        "ring": {
            "points_m": _rounded(drawing.ring, LENGTH_DIGITS),
            "radius_m": drawing.ring_radius,
            "current_rms_a": _rounded(drawing.current, 3),
        },
        "coupling": {
            "points_m": _rounded(drawing.coupling, LENGTH_DIGITS),
            "radius_m": drawing.coupling_radius,
            "is_closed": drawing.coupling_is_closed,
        },
        "core": None
        if drawing.core_turns is None
        else {"primary_turns": drawing.core_turns[0], "passes": drawing.core_turns[1]},
        "gap_m": _rounded(drawing.ring[0], LENGTH_DIGITS),
        "feed_m": _rounded(drawing.feed, LENGTH_DIGITS),
        "centre_m": _rounded(drawing.centre, LENGTH_DIGITS),
        "across": _rounded(drawing.across, 6),
        "up": _rounded(drawing.up, 6),
        "axis": _rounded(drawing.axis, 6),
        "gap_voltage_peak_v": drawing.gap_voltage_peak,
    }


def _rounded(values: FloatArray, digits: int) -> Any:
    return np.round(values, digits).tolist()
