# SPDX-License-Identifier: BSD-3-Clause
"""From what was found of sweeps to the messages a client reads: curves rounded to what a screen can show."""

import base64
from collections.abc import Sequence
from datetime import datetime
from typing import Any

import numpy as np

from ringwright.desk.proof_curves import ProofCurves, proof_curves
from ringwright.desk.proving import Delivered, Judged
from ringwright.desk.record_keeping import Proved, proved_of
from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.proof.document import sweep_document
from ringwright.records.sweep_files import checksum
from ringwright.web.messages.proof import SweepSent

MOST_COLUMNS = 40
"""Of a table that a person is asked about."""


def delivered(sent: SweepSent, *, measured_at: datetime | None = None) -> Delivered:
    """The desk's word for it."""
    is_readings = sent.kind == "readings"
    content = None if sent.kind == "folder" else _bytes_of(sent)
    return Delivered(
        name=sent.name,
        content=content,
        is_readings=is_readings,
        measured_at=measured_at,
        columns=tuple(sent.columns),
    )


def _bytes_of(sent: SweepSent) -> bytes:
    if sent.content is None or sent.kind == "readings":
        return sent.text.encode(errors="replace")
    return base64.b64decode(sent.content)


def judged_bodies(sent: Sequence[SweepSent], judged: Sequence[Judged]) -> list[dict[str, Any]]:
    """The fields of a `ProofSweep` each."""
    return [_judged(*each) for each in zip(sent, judged, strict=True)]


def _judged(sent: SweepSent, judged: Judged) -> dict[str, Any]:
    found = curves = None
    if judged.sweep is not None and judged.comparison is not None:
        found = sweep_document(judged.comparison)
        curves = _curves(proof_curves(judged.sweep, judged.comparison))
    kept = proved_of(delivered(sent), judged)
    sha256 = checksum(kept.content) if isinstance(kept, Proved) else None
    return {
        "name": judged.name,
        "problem": judged.problem,
        "headings": judged.headings[:MOST_COLUMNS],
        "sha256": sha256,
        "found": found,
        "curves": curves,
    }


def _curves(curves: ProofCurves) -> dict[str, Any]:
    low, high = curves.predicted_swr_range or (None, None)
    return {
        "measured": _trace(curves.points, curves.response, curves.swr),
        "fitted": _trace(curves.drawn, curves.fitted, curves.fitted_swr),
        "predicted": None
        if curves.predicted is None
        else _trace(curves.drawn, curves.predicted, curves.predicted_swr),
        "predicted_swr_low": _rounded(low, 3),
        "predicted_swr_high": _rounded(high, 3),
    }


def _trace(frequency: FloatArray, response: ComplexArray | None, swr: FloatArray | None) -> dict[str, Any]:
    return {
        "frequency_hz": _rounded(frequency, 0),
        "re": None if response is None else _rounded(response.real, 4),
        "im": None if response is None else _rounded(response.imag, 4),
        "swr": _rounded(swr, 3),
    }


def _rounded(values: FloatArray | None, digits: int) -> Any:
    return None if values is None else np.round(values, digits).tolist()
