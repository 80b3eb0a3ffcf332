# SPDX-License-Identifier: BSD-3-Clause
"""A build as a document for programs, `ringwright.build/1`: SI units in the keys' names, nothing rounded."""

import math
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from ringwright.antenna.figures import to_json
from ringwright.safety.mechanics import Mechanics
from ringwright.safety.mechanics.cutting import Piece
from ringwright.sheet.build import Build
from ringwright.sheet.cautions import build_cautions, grave_notices, pack_list
from ringwright.sheet.order import order_of_tests
from ringwright.sheet.shopping import Line, totals

SCHEMA = "ringwright.build/1"


def build_document(build: Build) -> dict[str, Any]:
    """Plain dicts and lists; None for what cannot be had."""
    design, mechanics = build.design, build.mechanics
    lines = build.lines
    return {
        "schema": SCHEMA,
        "design": design.name,
        "cuts": _cuts(mechanics),
        "mass": _suffixed(asdict(mechanics.mass), "_kg"),
        "bends": [
            {
                "what": bend.what,
                "radius_m": bend.radius,
                "by_hand_m": bend.by_hand,
                "with_a_bender_m": bend.with_a_bender,
                "verdict": bend.verdict,
            }
            for bend in mechanics.bends
        ],
        "sag": _sag(mechanics),
        "stand": _stand(mechanics),
        "wind": _wind(mechanics),
        "standing": _standing(mechanics),
        "warmth": [
            {
                "band": each.band,
                "frequency_hz": each.frequency,
                "heat_w": each.heat,
                "final_rise_k": each.final_rise,
                "drift_hz": each.drift,
                "drift_allowed_hz": each.drift_allowed,
                "time_to_drift_s": each.time_to_drift,
            }
            for each in mechanics.warmth
        ],
        "clearance": _clearance(mechanics),
        "parts": [_line(line) for line in lines],
        "total": totals(lines),
        "tests": [
            asdict(test) | {"expect": list(test.expect)}
            for test in order_of_tests(design, build.prediction, mechanics)
        ],
        "pack": list(pack_list(design, mechanics, build.measures)),
        "cautions": list(build_cautions(design, mechanics)),
        "notices": list(grave_notices(build.prediction)),
        "bands": to_json(build.prediction)["bands"],
    }


def _cuts(mechanics: Mechanics) -> dict[str, Any]:
    cuts = mechanics.cuts
    return {
        "gap_m": cuts.gap,
        "needed_m": cuts.needed,
        "stock_m": cuts.stock,
        "lengths": cuts.lengths,
        "pieces": _pieces(cuts.pieces),
        "coupling": _pieces(cuts.coupling),
        "corners": [
            {"turns_by_deg": math.degrees(turning), "count": count} for turning, count in cuts.corners
        ],
    }


def _pieces(pieces: Sequence[Piece]) -> list[dict[str, Any]]:
    return [
        {
            "name": piece.name,
            "count": piece.count,
            "axis_m": piece.axis,
            "cut_m": piece.cut,
            "angles_deg": [math.degrees(angle) for angle in piece.angles],
            "note": piece.note,
        }
        for piece in pieces
    ]


def _suffixed(values: dict[str, float], suffix: str) -> dict[str, float]:
    return {key + suffix: value for key, value in values.items()}


def _sag(mechanics: Mechanics) -> dict[str, Any] | None:
    sag = mechanics.sag
    if sag is None:
        return None
    return {
        "by_weight_m": sag.by_weight,
        "by_wind_m": sag.by_wind,
        "stress_weight_pa": None if sag.by_weight is None else sag.stress_weight,
        "stress_wind_pa": None if sag.by_wind is None else sag.stress_wind,
        "yields_at_pa": sag.yields_at,
    }


def _stand(mechanics: Mechanics) -> dict[str, Any]:
    stand = mechanics.stand
    return {
        "kind": stand.kind.value,
        "feet": stand.feet,
        "foot_circle_m": stand.foot_circle,
        "floor_m": stand.floor,
        "mast_diameter_m": stand.mast_diameter,
        "is_assumed": mechanics.stand_assumed,
    }


def _wind(mechanics: Mechanics) -> dict[str, Any]:
    wind = mechanics.wind
    return {
        "speed_m_per_s": wind.speed,
        "pressure_pa": wind.pressure,
        "face_on_n": wind.face_on,
        "edge_on_n": wind.edge_on,
        "box_n": wind.box,
        "mast_n": wind.mast,
        "force_n": wind.force,
        "moment_nm": wind.moment,
    }


def _standing(mechanics: Mechanics) -> dict[str, Any] | None:
    standing = mechanics.standing
    if standing is None:
        return None
    return {
        "arm_m": standing.arm,
        "righting_nm": standing.righting,
        "tips_at_m_per_s": standing.tips_at,
        "slides_at_m_per_s": standing.slides_at,
        "ballast_needed_kg": standing.ballast_needed,
        "holds": standing.holds,
    }


def _clearance(mechanics: Mechanics) -> dict[str, Any]:
    clear = mechanics.clearance
    return {
        "voltage_v": clear.voltage,
        "air_m": clear.air,
        "creepage_dry_m": clear.creepage_dry,
        "creepage_damp_m": clear.creepage_damp,
        "wall_m": clear.wall,
        "box_m": list(clear.box),
        "box_is_stated": clear.box_stated,
    }


def _line(line: Line) -> dict[str, Any]:
    price, cost = line.price, line.cost
    return {
        "line": line.key or None,
        "name": line.name,
        "count": line.count,
        "price": None if price is None else price.amount,
        "cost": None if cost is None else cost.amount,
        "currency": None if price is None else price.currency,
    }
