# SPDX-License-Identifier: BSD-3-Clause
"""The match as a document for programs, `ringwright.match/1`."""

from typing import Any

from ringwright.antenna.design import Coupling, CouplingKind, CouplingShape
from ringwright.choose.knobs import loop_size, wire_length
from ringwright.choose.match import CouplingMatch
from ringwright.choose.match_notes import match_notes
from ringwright.choose.search import Sensitivity
from ringwright.choose.trials import BandMatch, Trial

SCHEMA = "ringwright.match/1"


def match_document(found: CouplingMatch) -> dict[str, Any]:
    """SI units in the keys' names; None for what this kind of coupling does not have."""
    return {
        "schema": SCHEMA,
        "design": found.design.name,
        "kind": found.design.coupling.kind.value,
        "varied": list(found.varied),
        "best": trial_document(found.best),
        "now": trial_document(found.now),
        "one_fifth": None if found.rule is None else trial_document(found.rule),
        "sensitivity": [_sensitivity(each) for each in found.sensitivity],
        "trade": [
            {"band": target.band, "frequency_hz": target.frequency} | trial_document(own)
            for target, own in zip(found.design.targets, found.own_best, strict=True)
        ],
        "curve": [
            _sizes(trial.coupling)
            | {"swr_worst": trial.swr_worst, "swr_min": [band.swr_min for band in trial.bands]}
            for trial in found.curve
        ],
        "notes": [{"code": note.code, "text": note.text} for note in match_notes(found)],
        "tried": found.tried,
    }


def trial_document(trial: Trial) -> dict[str, Any]:
    """One coupling with what it gives."""
    return _sizes(trial.coupling) | {
        "swr_worst": trial.swr_worst,
        "worst_band": trial.worst.target.band,
        "bands": [_band(band) for band in trial.bands],
    }


def _sizes(coupling: Coupling) -> dict[str, Any]:
    is_loop = coupling.kind is CouplingKind.LOOP
    along, across = loop_size(coupling) if is_loop else (None, None)
    has_place = coupling.kind is not CouplingKind.TRANSFORMER
    return {
        "diameter_m": coupling.diameter,
        "squash": (coupling.squash if coupling.shape is CouplingShape.OVAL else 1.0) if is_loop else None,
        "clearance_m": coupling.clearance if has_place else None,
        "at": coupling.place.value if is_loop else None,
        "wire_m": wire_length(coupling),
        "along_m": along,
        "across_m": across,
        "tap_at_m": coupling.tap_at,
        "turns": None if coupling.core is None else coupling.core.primary_turns,
    }


def _band(band: BandMatch) -> dict[str, Any]:
    return {
        "band": band.target.band,
        "frequency_hz": band.target.frequency,
        "swr_min": band.swr_min,
        "capacitance_f": band.capacitance,
        "is_over_coupled": band.is_over_coupled,
    }


def _sensitivity(each: Sensitivity) -> dict[str, Any]:
    counts = each.name == "turns"
    return {
        "key": each.name,
        "step_m": None if counts else each.step,
        "step_turns": round(each.step) if counts else None,
        "swr_worst_less": each.swr_less,
        "swr_worst_more": each.swr_more,
    }
