# SPDX-License-Identifier: BSD-3-Clause
"""A search as a document for programs, `ringwright.search/1`. What cannot be had is None."""

import math
from typing import Any

from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.candidate import Candidate, CandidateBand, name_of, text_of
from ringwright.choose.rings.found import Found
from ringwright.choose.rings.misses import CONSTRAINTS

SCHEMA = "ringwright.search/1"


def search_document(found: Found) -> dict[str, Any]:
    """SI units in the keys' names; best first."""
    brief = found.brief
    return {
        "schema": SCHEMA,
        "brief": brief.name,
        "considered": found.considered,
        "solved": found.solved,
        "screened": found.screened,
        "passing": found.passing,
        "solutions": found.solutions,
        "solutions_kept": found.kept,
        "verified": found.verified,
        "weights": dict(brief.weights),
        "currency": brief.limits.currency,
        "defaults_used": list(brief.defaults_used),
        "refused": [
            {
                "reason": each.reason,
                "count": each.count,
                "relax": each.relax,
                "key": each.key,
                "screened": each.screened,
            }
            for each in found.refused
        ],
        "nearest": None
        if found.nearest is None
        else {
            "design": name_of(brief, found.nearest.place),
            "text": found.nearest.text,
            "relax": [
                {"key": key, "text": CONSTRAINTS[key].relaxed(found.nearest.misses[key], brief.units)}
                for key in CONSTRAINTS
                if key in found.nearest.misses
            ],
        },
        "front": [candidate_document(brief, each) for each in found.front],
    }


def candidate_document(brief: Brief, candidate: Candidate) -> dict[str, Any]:
    """One ring."""
    return {
        "design": name_of(brief, candidate.place),
        "design_toml": text_of(brief, candidate.place, candidate.coupling),
        "score": candidate.score(brief.weights),
        "sky_db": candidate.sky_db,
        "diameter_m": candidate.diameter,
        "mass_kg": candidate.mass,
        "cost": candidate.cost,
        "coupling_diameter_m": candidate.coupling,
        "points": candidate.points(brief.weights),
        "verified": candidate.is_verified,
        "bands": [_band(each) for each in candidate.bands],
    }


def _band(band: CandidateBand) -> dict[str, Any]:
    return {
        "band": band.band,
        "frequency_hz": band.frequency,
        "efficiency_sky_pct": 100.0 * band.sky,
        "swr_min": band.swr_min,
        "capacitance_f": band.capacitance,
        "bandwidth_half_power_hz": band.bandwidth,
        "capacitor_voltage_peak_v": band.voltage_peak,
        "voltage_margin_db": _finite(band.voltage_margin_db),
        "people_margin_db": _finite(band.people_margin_db),
    }


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None
