# SPDX-License-Identifier: BSD-3-Clause
"""What two designs promise at the angles their paths need, beside what the reports found."""

from dataclasses import dataclass

import numpy as np

from ringwright.air.comparison import Comparison
from ringwright.air.pairs import Pairs, Places
from ringwright.air.report_bands import BAND_NAMES
from ringwright.air.reports import Reports
from ringwright.air.summary import Paths
from ringwright.air.take_off import F2_HEIGHT, F2_HEIGHTS, take_off
from ringwright.antenna.design import Design
from ringwright.antenna.directions import gain_dbi
from ringwright.antenna.far_side import FarSide, far_side
from ringwright.antenna.prediction import Prediction
from ringwright.errors import ReportsError
from ringwright.physics.checks import FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Promise:
    """A design with its far field on each of its bands."""

    design: Design
    far: dict[str, FarSide]

    @classmethod
    def of(cls, design: Design, prediction: Prediction) -> "Promise":
        """From its prediction."""
        far = {
            band.band: far_side(band.point, earth=design.site.earth)
            for band in prediction.bands
            if band.band is not None
        }
        return cls(design=design, far=far)

    def gain(self, band: str, elevation: FloatArray, *, bearing: FloatArray) -> FloatArray:
        """Power gain [dBi] at elevations and true bearings [deg]."""
        azimuth = self.design.site.x_bearing - np.deg2rad(bearing)
        return gain_dbi(self.far[band], self.design.power, elevation=np.deg2rad(elevation), azimuth=azimuth)


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """Promised difference A minus B [dB], the median over the pairs, with the ends that other heights of the layer
    give; take-off angles [deg] of the middle half of the pairs; whether the 95 % interval that was found meets it."""

    difference: float
    low: float
    high: float
    elevation_low: float
    elevation_high: float
    pairs: int
    is_met: bool | None


def expected(
    first: Promise, second: Promise, *, reports: Reports, of: Paths, pairs: Pairs, comparison: Comparison
) -> Expected:
    """Set the promise of two designs beside a comparison of their reports.

    Raises
    ------
    ReportsError
        If no pair tells its place on a band that both designs predict.
    """
    bands = [name for name in first.far if name in second.far]
    codes = [BAND_NAMES.index(name) for name in bands]
    at = pairs.first[np.isin(reports.band[pairs.first], codes) & np.isfinite(of.distance[pairs.first])]
    if not len(at):
        raise ReportsError(
            "no pair can be set beside the designs; it takes receivers' locators and a band that both designs name"
        )
    promised = [
        _median_difference(first, second, reports=reports, of=of, at=at, height=height)
        for height in (F2_HEIGHT, *F2_HEIGHTS)
    ]
    angle = take_off(of.distance[at])
    found = comparison.found
    low, high = min(promised), max(promised)
    return Expected(
        difference=promised[0],
        low=low,
        high=high,
        elevation_low=float(np.nanquantile(angle, 0.25)),
        elevation_high=float(np.nanquantile(angle, 0.75)),
        pairs=len(at),
        is_met=None if found is None else found.low <= high and found.high >= low,
    )


def _median_difference(
    first: Promise,
    second: Promise,
    *,
    reports: Reports,
    of: Paths,
    at: Places,
    height: float,
) -> float:
    elevation, bearing = take_off(of.distance[at], height), of.bearing[at]
    parts = []
    for code in np.unique(reports.band[at]):
        mine = (reports.band[at] == code) & np.isfinite(elevation)
        name = BAND_NAMES[code]
        a, b = (each.gain(name, elevation[mine], bearing=bearing[mine]) for each in (first, second))
        parts.append(a - b)
    return float(np.median(np.concatenate(parts)))
