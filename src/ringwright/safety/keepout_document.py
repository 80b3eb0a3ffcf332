# SPDX-License-Identifier: BSD-3-Clause
"""The keep-out document: SI with the unit in each key, one row per limit and tier, never merged."""

from typing import Any

from ringwright.safety.cautions import CAUTIONS
from ringwright.safety.keepout import BandKeepOut, LimitRow, PersonRow

SCHEMA = "ringwright.keepout/1"


def keepout_document(design: str, bands: tuple[BandKeepOut, ...]) -> dict[str, Any]:
    """One JSON-ready document of a design, by its name, and its keep-out distances."""
    return {
        "schema": SCHEMA,
        "design": design,
        "cautions": list(CAUTIONS),
        "bands": [_band(band) for band in bands],
    }


def _band(band: BandKeepOut) -> dict[str, Any]:
    return {
        "band": band.band,
        "frequency_hz": band.frequency,
        "average_power_w": band.average_power,
        "unfavourable_factor": band.unfavourable_factor,
        "by_limit": [_limit(row) for row in band.by_limit],
        "people": [_person(row) for row in band.people],
    }


def _limit(row: LimitRow) -> dict[str, Any]:
    return {
        "limit": row.limit.name,
        "tier": row.limit.tier.value,
        "distance_axis_m": row.distance_axis,
        "distance_plane_m": row.distance_plane,
        "distance_above_m": row.distance_above,
        "distance_below_m": row.distance_below,
        "distance_max_m": row.distance_max,
        "distance_advised_m": row.distance_advised,
        "governed_by": row.governed_by,
        "farthest_at_m": row.farthest_at,
        "advised_at_m": row.advised_at,
        "advised_beside": row.advised_beside,
        "e_limit_v_per_m": row.level[0],
        "h_limit_a_per_m": row.level[1],
        "averaging_minutes": row.limit.averaging_minutes,
        "source": row.limit.source,
        "far_field_formula_m": row.far_field_formula,
    }


def _person(row: PersonRow) -> dict[str, Any]:
    return {
        "name": row.name,
        "kind": row.kind.value,
        "limit": row.limit.name,
        "tier": row.limit.tier.value,
        "margin_db": row.margin_db,
        "margin_unfavourable_db": row.margin_unfavourable_db,
        "passes": row.passes,
        "power_allowed_w": row.power_allowed,
        "power_allowed_unfavourable_w": row.power_allowed_unfavourable,
    }
