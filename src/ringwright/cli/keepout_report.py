# SPDX-License-Identifier: BSD-3-Clause
"""What the station file's page needs, put together: distances, cuts, provenance."""

import hashlib
from collections.abc import Iterator
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.antenna.site_fields import site_field
from ringwright.cli.files import write_text
from ringwright.desk.site.view import PLAN_HEIGHT, Section, usual_limits
from ringwright.desk.site.zones import FINE, Cut, plan_cut, section_cut, zones
from ringwright.physics.graph import FloatArray
from ringwright.safety.exposure import Yardstick
from ringwright.safety.keepout import BandKeepOut
from ringwright.sheet.keepout_page import Provenance, keepout_page
from ringwright.sheet.site_drawing import Dot, SiteDrawing

A_STEP = 0.5  # [m]


def write_report(
    path: Path, design_file: Path, design: Design, *, prediction: Prediction, found: tuple[BandKeepOut, ...]
) -> None:
    """Write the page of a design to `path`."""
    bands = [
        (distances, tuple(_drawings(design, band, distances)))
        for band, distances in zip(prediction.bands, found, strict=True)
    ]
    provenance = Provenance(
        version=version("ringwright"),
        design_file=design_file.name,
        digest=hashlib.sha256(design_file.read_bytes()).hexdigest(),
        written=datetime.now(UTC),
    )
    write_text(path, keepout_page(design, bands, provenance=provenance))


def _drawings(design: Design, band: BandPrediction, distances: BandKeepOut) -> Iterator[SiteDrawing]:
    wires, floor = band.point.wires, None if design.site.earth is None else 0.0
    ruler = _usual(design, Yardstick.of(design, band.frequency))
    field_at = site_field(design, band.point)

    def ratio_at(points: FloatArray) -> FloatArray:
        return np.asarray(ruler.shares(field_at, points).max(axis=2))

    failing = {row.name for row in distances.people if not row.passes}
    for title, cut in (
        ("Side view, cut along the ring's axis through its centre", section_cut(wires, Section.AXIS, floor)),
        (f"Plan, cut {PLAN_HEIGHT:g} m above the earth", plan_cut(wires, PLAN_HEIGHT, floor)),
    ):
        ends = wires.graph.nodes[wires.graph.segments]
        yield SiteDrawing(
            title=title,
            zones=tuple(
                (f"{zone.limit.name}, {zone.limit.tier.value}", zone.rings)
                for zone in zones(cut, ratio_at, ruler.rows, cells=FINE)
            ),
            conductors=tuple(_on(cut, segment) for segment in ends),
            people=tuple(
                Dot(
                    name=f"{person.name}{_aside(cut, np.array(person.at))}",
                    at=_on(cut, np.array(person.at)),
                    passes=person.name not in failing,
                )
                for person in design.site.people
            ),
            floor=None if cut.floor is None or cut.up[2] == 0.0 else cut.lowest,
        )


def _on(cut: Cut, points: FloatArray) -> FloatArray:
    """Places (..., 3) [m] as seen straight on the cut (..., 2) [m]."""
    return np.asarray((points - cut.origin) @ np.stack([cut.right, cut.up], axis=1))


def _aside(cut: Cut, place: FloatArray) -> str:
    """How far a place lies beside the cut, where that is more than a step: seen straight on it may look within."""
    off = abs(float((place - cut.origin) @ np.cross(cut.right, cut.up)))
    return f", {off:.1f} m off this cut" if off > A_STEP else ""


def _usual(design: Design, yardstick: Yardstick) -> Yardstick:
    """The limits that are drawn: those most in use for the public where the station is."""
    usual = usual_limits(design.region)
    chosen = [number for number, row in enumerate(yardstick.rows) if (row.name, row.tier) in usual]
    return Yardstick(rows=tuple(yardstick.rows[number] for number in chosen), levels=yardstick.levels[chosen])
