# SPDX-License-Identifier: BSD-3-Clause
"""Where a ring fires and hears: band by band as values, and as the document `ringwright.directions/1`."""

from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.directions import (
    FLOOR_DBI,
    NULL_DEPTH_DB,
    Null,
    azimuth_cut,
    dipole_far_side,
    elevation_cut,
    nulls,
    quietest,
    sphere,
    true_bearing,
)
from ringwright.antenna.far_side import FarSide, far_side
from ringwright.antenna.pattern import LOW_ANGLE, Pattern, find_pattern
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.antenna.reception import Reception, receptions
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.graph import FloatArray

SCHEMA = "ringwright.directions/1"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BandDirections:
    """One band: the ring's far side, its dips and its weakest direction at `low_deg` elevation; a dipole's far side and
    pattern in its place."""

    band: BandPrediction
    far: FarSide
    low_deg: float
    nulls: tuple[Null, ...]
    quietest: Null
    dipole_far: FarSide
    dipole: Pattern
    receptions: tuple[Reception, ...]

    @property
    def ahead_db(self) -> float:
        """Gain of the ring over that of the dipole [dB], each at its best."""
        return self.band.pattern.gain_max_dbi - self.dipole.gain_max_dbi

    @property
    def ahead_20deg_db(self) -> float:
        """The same at 20 degrees elevation [dB]."""
        return self.band.pattern.gain_20deg_dbi - self.dipole.gain_20deg_dbi


def directions(design: Design, prediction: Prediction) -> tuple[BandDirections, ...]:
    """Directions on every band of a predicted design.

    Nulls are sought at 20 degrees elevation, in free space at 0, where the ring's axis points.

    Raises
    ------
    OutOfRangeError
        If a dipole at the ring's place is outside what the method holds for.
    """
    memory = SolutionMemory()
    low_deg = 0.0 if design.site.earth is None else float(np.rad2deg(LOW_ANGLE))

    def of(band: BandPrediction) -> BandDirections:
        far = far_side(band.point, earth=design.site.earth)
        other = dipole_far_side(design, band.point, memory)
        return BandDirections(
            band=band,
            far=far,
            low_deg=low_deg,
            nulls=tuple(nulls(design, far, low_deg)),
            quietest=quietest(design, far, low_deg),
            dipole_far=other,
            dipole=find_pattern(other.field_at, design.power, lowest_elevation=other.lowest_elevation),
            receptions=receptions(design, band),
        )

    return tuple(of(band) for band in prediction.bands)


def directions_document(design: Design, found: tuple[BandDirections, ...]) -> dict[str, Any]:
    """Directions as plain values; gains are those of the prediction, not below `floor_dbi`."""
    return {
        "schema": SCHEMA,
        "design": design.name,
        "power_w": design.power,
        "x_bearing_deg": float(np.rad2deg(design.site.x_bearing)),
        "null_depth_db": NULL_DEPTH_DB,
        "floor_dbi": FLOOR_DBI,
        "bands": [_band(design, each) for each in found],
    }


def _band(design: Design, each: BandDirections) -> dict[str, Any]:
    best = each.band.pattern
    angle, over = elevation_cut(each.far, design.power, best.azimuth_deg)
    azimuth, around = azimuth_cut(each.far, design.power, each.low_deg)
    up, round_, gain = sphere(each.far, design.power)
    return {
        "band": each.band.band,
        "frequency_hz": each.band.frequency,
        "pattern": _pattern(design, best),
        "nulls": [asdict(null) for null in each.nulls],
        "quietest": asdict(each.quietest),
        "elevation_cut": {
            "azimuth_deg": best.azimuth_deg,
            "bearing_deg": true_bearing(design, best.azimuth_deg),
            "from_horizon_deg": angle.tolist(),
            "gain_dbi": over.tolist(),
        },
        "azimuth_cut": {
            "elevation_deg": each.low_deg,
            "azimuth_deg": azimuth.tolist(),
            "bearing_deg": _bearings(design, azimuth),
            "gain_dbi": around.tolist(),
        },
        "sphere": {
            "elevation_deg": up.tolist(),
            "azimuth_deg": round_.tolist(),
            "gain_dbi": gain.tolist(),
        },
        "dipole": _pattern(design, each.dipole)
        | {
            "height_m": float(each.band.point.wires.centre[2]),
            "ahead_db": each.ahead_db,
            "ahead_20deg_db": each.ahead_20deg_db,
        },
        "reception": [
            {
                "place": heard.place.value,
                "external_noise_figure_db": heard.external_noise_figure_db,
                "loss_db": heard.loss_db,
                "least_efficiency_pct": 100.0 * heard.least_efficiency,
                "costs_nothing": heard.costs_nothing,
            }
            for heard in each.receptions
        ],
    }


def _pattern(design: Design, pattern: Pattern) -> dict[str, float]:
    return {
        "gain_max_dbi": pattern.gain_max_dbi,
        "elevation_deg": pattern.elevation_deg,
        "azimuth_deg": pattern.azimuth_deg,
        "bearing_deg": true_bearing(design, pattern.azimuth_deg),
        "gain_20deg_dbi": pattern.gain_20deg_dbi,
    }


def _bearings(design: Design, azimuth_deg: FloatArray) -> list[float]:
    return [true_bearing(design, float(each)) for each in azimuth_deg]
