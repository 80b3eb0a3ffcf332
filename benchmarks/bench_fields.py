# SPDX-License-Identifier: BSD-3-Clause
"""Near fields, keep-out distances and the outlines of the zone, over earth."""

from collections.abc import Callable

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.antenna.scenario import FIRST_RING, TERRACE_OCTAGON, shipped_design
from ringwright.antenna.site_fields import site_field
from ringwright.desk.site.view import PLAN_HEIGHT, Section
from ringwright.desk.site.zones import FINE, RatioAt, plan_cut, section_cut, zones
from ringwright.physics.graph import FloatArray
from ringwright.physics.near_field import near_field
from ringwright.safety.exposure import Yardstick
from ringwright.safety.keepout import keep_out
from ringwright.safety.limits import ExposureLimit


def _predicted(name: str) -> tuple[Design, Prediction]:
    design = shipped_design(name)
    return design, predict(design)


def _somewhere(count: int) -> FloatArray:
    points = np.random.default_rng(60).normal(size=(count, 3)) * 3.0
    points[:, 2] = abs(points[:, 2])
    return points


def bench_free_space() -> Callable[[], object]:
    """Near field at 1000 points of a ring in free space."""
    _, prediction = _predicted(FIRST_RING)
    point, places = prediction.bands[1].point, _somewhere(1000)
    field_at = near_field(point.wires.graph, point.current, point.target.frequency)
    return lambda: field_at(places)


def bench_over_earth() -> Callable[[], object]:
    """Near field at 1000 points of a ring over earth."""
    design, prediction = _predicted(FIRST_RING)
    field_at, places = site_field(design, prediction.bands[1].point), _somewhere(1000)
    return lambda: field_at(places)


def bench_distances() -> Callable[[], object]:
    """Keep-out distances of three bands, all limits, ring over earth."""
    design, prediction = _predicted(FIRST_RING)
    return lambda: keep_out(design, prediction)


def bench_distances_with_railing() -> Callable[[], object]:
    """Keep-out distances of three bands, all limits, ring over earth beside a railing."""
    design, prediction = _predicted(TERRACE_OCTAGON)
    return lambda: keep_out(design, prediction)


def bench_contours() -> Callable[[], object]:
    """Keep-out contours of three bands, all limits, side view and plan, ring over earth."""
    design, prediction = _predicted(FIRST_RING)

    def draw() -> None:
        for band in prediction.bands:
            ratio_at, limits = _ratios(design, band)
            for cut in (
                section_cut(band.point.wires, Section.AXIS, 0.0),
                plan_cut(band.point.wires, PLAN_HEIGHT, 0.0),
            ):
                zones(cut, ratio_at, limits, cells=FINE)

    return draw


def _ratios(design: Design, band: BandPrediction) -> tuple[RatioAt, tuple[ExposureLimit, ...]]:
    yardstick, field_at = Yardstick.of(design, band.frequency), site_field(design, band.point)
    return lambda points: yardstick.shares(field_at, points).max(axis=2), yardstick.rows
