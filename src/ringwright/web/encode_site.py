# SPDX-License-Identifier: BSD-3-Clause
"""From the parts of a site's picture to the messages a client reads: rounded to what a screen can show."""

import math
from dataclasses import asdict
from functools import singledispatch
from typing import Any

import numpy as np

from ringwright.antenna.design import SiteMesh, SiteWire
from ringwright.antenna.figures import to_json
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.antenna.reception import Reception
from ringwright.desk.site import Section, SiteView
from ringwright.desk.site.lobes import Lobes
from ringwright.desk.site.parts import (
    Comparison,
    Dipole,
    Distances,
    Drawn,
    Outlines,
    Scene,
    SitePart,
    Space,
)
from ringwright.physics.graph import FloatArray
from ringwright.safety import cautions
from ringwright.safety.keepout import PersonRow
from ringwright.safety.keepout_document import keepout_document
from ringwright.safety.limits import Tier
from ringwright.web.messages.site import SiteCautions
from ringwright.web.messages.site import SiteView as SiteViewMessage

MILLIMETRES = 3  # digits after the point of a metre
HUNDREDTHS = 2


def view_of(message: SiteViewMessage) -> SiteView:
    """The desk's view of a message's."""
    limits = message.limits
    return SiteView(
        band=message.band,
        limits=None if limits is None else tuple((each.limit, Tier(each.tier)) for each in limits),
        section=Section(message.section),
        plan_height=message.plan_height_m,
        elevation_deg=message.elevation_deg,
        is_metal_gone=message.is_metal_gone,
        noise_bearing_deg=message.noise_bearing_deg,
        is_in_space=message.is_in_space,
    )


def site_cautions() -> SiteCautions:
    """The program's cautions by what they warn of."""
    return SiteCautions(
        high_voltage=cautions.HIGH_VOLTAGE,
        implants=cautions.IMPLANTS,
        nearby_metal=cautions.NEARBY_METAL,
        distances=cautions.DISTANCES,
        near_field=cautions.NEAR_FIELD,
        authority=cautions.AUTHORITY,
    )


def part_body(part: SitePart) -> dict[str, Any]:
    """The fields of a part's message, less `seq`."""
    return {"band": part.band, "step": part.step, "steps": part.steps} | _fields(part)


@singledispatch
def _fields(part: SitePart) -> dict[str, Any]:
    raise TypeError(f"no message is made of {type(part).__name__}")


@_fields.register
def _(part: Scene) -> dict[str, Any]:
    earth = part.earth
    return {
        "type": "site_scene",
        "frequency_hz": part.frequency,
        "average_power_w": part.average_power,
        "earth": earth
        and {
            "name": earth.name,
            "conductivity_s_per_m": earth.conductivity,
            "permittivity": earth.permittivity,
            "is_perfect": earth.perfect,
            "source": part.earth_source,
        },
        "metal": [_metal(number, piece) for number, piece in enumerate(part.metal, start=1)],
        "is_metal_gone": part.is_metal_gone,
        "limits": [
            {
                "limit": limit.name,
                "tier": limit.tier.value,
                "is_chosen": (limit.name, limit.tier) in part.chosen,
                "averaging_minutes": limit.averaging_minutes,
                "source": limit.source,
            }
            for limit in part.limits
        ],
        "section": _cut(part.section),
        "plan": _cut(part.plan),
        "people": _people(part),
        "lobes": _lobes(part.lobes),
    }


@_fields.register
def _(part: Outlines) -> dict[str, Any]:
    return {"type": "site_outlines", "section": _cut(part.section), "plan": _cut(part.plan)}


@_fields.register
def _(part: Distances) -> dict[str, Any]:
    document = keepout_document("", (part.keep_out,))
    return {"type": "site_distances", "by_limit": document["bands"][0]["by_limit"]}


@_fields.register
def _(part: Comparison) -> dict[str, Any]:
    return {
        "type": "site_comparison",
        "dipole": _dipole(part.dipole) if isinstance(part.dipole, Dipole) else None,
        "why_no_dipole": part.dipole if isinstance(part.dipole, str) else None,
        "with_metal": _band(part.with_metal),
        "without_metal": part.without_metal and _band(part.without_metal),
        "quietest_with_cable_db": part.quietest_db[0],
        "quietest_without_cable_db": part.quietest_db[1],
        "receptions": [
            {"band": number, "places": list(map(_reception, places))}
            for number, places in enumerate(part.receptions)
        ],
    }


@_fields.register
def _(part: Space) -> dict[str, Any]:
    sphere = part.sphere
    return {
        "type": "site_space",
        "elevation_deg": sphere.elevation.tolist(),
        "azimuth_deg": sphere.azimuth.tolist(),
        "gain_dbi": _rounded(sphere.gain, HUNDREDTHS),
    }


def _metal(number: int, piece: SiteWire | SiteMesh) -> dict[str, Any]:
    if isinstance(piece, SiteMesh):
        return {
            "shape": "mesh",
            "number": number,
            "kind": "mesh",
            "corner_m": piece.corner,
            "along_m": piece.along,
            "across_m": piece.across,
            "spacing_m": piece.spacing,
        }
    return {
        "shape": "wire",
        "number": number,
        "kind": piece.kind,
        "from_m": piece.start,
        "to_m": piece.end,
        "diameter_m": piece.diameter,
    }


def _cut(drawn: Drawn) -> dict[str, Any]:
    cut = drawn.cut
    return {
        "name": cut.name,
        "origin_m": _rounded(cut.origin, MILLIMETRES),
        "right": _rounded(cut.right, 6),
        "up": _rounded(cut.up, 6),
        "zones": [
            {
                "limit": zone.limit.name,
                "tier": zone.limit.tier.value,
                "rings_m": [_rounded(ring.ravel(), MILLIMETRES) for ring in zone.rings],
            }
            for zone in drawn.zones
        ],
    }


def _people(part: Scene) -> list[dict[str, Any]]:
    return [
        {
            "number": number,
            "name": person.name,
            "kind": person.kind.value,
            "at_m": person.at,
            "margins": [_margin(row) for row in margins],
        }
        for number, (person, margins) in enumerate(zip(part.people, part.margins, strict=True), start=1)
    ]


def _margin(row: PersonRow) -> dict[str, Any]:
    return {
        "limit": row.limit.name,
        "tier": row.limit.tier.value,
        "margin_db": _finite(row.margin_db),
        "margin_unfavourable_db": _finite(row.margin_unfavourable_db),
        "passes": row.passes,
        "power_allowed_w": _finite(row.power_allowed),
        "power_allowed_unfavourable_w": _finite(row.power_allowed_unfavourable),
    }


def _lobes(lobes: Lobes) -> dict[str, Any]:
    return {
        "over_angle_deg": _rounded(lobes.over_angle, 1),
        "over_dbi": _rounded(lobes.over, HUNDREDTHS),
        "elevation_deg": lobes.elevation_deg,
        "around_dbi": _rounded(lobes.around, HUNDREDTHS),
        "pattern": asdict(lobes.pattern) | {"bearing_deg": lobes.bearing_deg},
        "nulls": [asdict(each) for each in lobes.nulls],
        "quietest": asdict(lobes.quietest),
        "towards": lobes.towards and asdict(lobes.towards),
    }


def _reception(reception: Reception) -> dict[str, Any]:
    return {
        "place": reception.place.value,
        "external_noise_figure_db": reception.external_noise_figure_db,
        "loss_db": reception.loss_db,
        "least_efficiency_pct": 100.0 * reception.least_efficiency,
        "costs_nothing": reception.costs_nothing,
    }


def _dipole(dipole: Dipole) -> dict[str, Any]:
    return {
        "gain_max_dbi": dipole.pattern.gain_max_dbi,
        "elevation_deg": dipole.pattern.elevation_deg,
        "gain_20deg_dbi": dipole.pattern.gain_20deg_dbi,
        "ahead_db": dipole.ahead_db,
        "ahead_20deg_db": dipole.ahead_20deg_db,
    }


def _band(band: BandPrediction) -> dict[str, Any]:
    alone = Prediction(design="", defaults_used=(), warnings=(), bands=(band,))
    return dict(to_json(alone)["bands"][0])


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _rounded(values: FloatArray, digits: int) -> Any:
    return np.round(values, digits).tolist()
