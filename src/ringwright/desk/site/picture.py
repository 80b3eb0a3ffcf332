# SPDX-License-Identifier: BSD-3-Clause
"""The site as it is drawn, in parts that come one after the other: what follows the hand first, the slow ones later.

Every part is complete in itself, so whoever takes them may stop between two.
"""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.directions import azimuth_cut, dipole_in_its_place
from ringwright.antenna.earths import EARTHS
from ringwright.antenna.far_side import FarSide, far_side
from ringwright.antenna.prediction import BandPrediction
from ringwright.antenna.reception import receptions
from ringwright.antenna.site_fields import NearFieldAt, site_field
from ringwright.desk.predictions import Predictions
from ringwright.desk.site.kept_distances import KeptDistances
from ringwright.desk.site.lobes import in_space, lobes
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
from ringwright.desk.site.view import SiteView, usual_limits
from ringwright.desk.site.zones import FINE, QUICK, Cut, plan_cut, section_cut, zones
from ringwright.errors import DesignError, OutOfRangeError
from ringwright.physics.graph import FloatArray
from ringwright.safety.exposure import Yardstick, average_power
from ringwright.safety.keepout import person_rows, unfavourable_factor
from ringwright.safety.limits import Tier

STATED = "stated in the design"


def without_metal(design: Design) -> Design:
    """The same design as if the metal nearby were gone."""
    return replace(design, site=replace(design.site, metal=()))


def site_parts(
    design: Design, view: SiteView, *, predictions: Predictions, aside: Predictions, distances: KeptDistances
) -> Iterator[SitePart]:
    """All parts of a site's picture.

    `predictions` has the design's own; what it is compared with is solved `aside`, so that it keeps nobody waiting.
    `distances` of a band come one by one, so that the next ones can wait for something more urgent.

    Raises
    ------
    DesignError, OutOfRangeError
        If the design cannot be solved.
    """
    prediction = predictions.known(design)
    bands = prediction.bands
    band = min(view.band, len(bands) - 1)
    bare = without_metal(design)
    seen = bare if view.is_metal_gone else design
    seen_prediction = prediction if seen == design else aside.known(seen)
    site = _Site(design=seen, band=seen_prediction.bands[band], view=view)
    others = [number for number in range(len(bands)) if number != band]
    steps = 4 + len(others) + view.is_in_space
    numbers = iter(range(1, steps + 1))

    def at(number: int = band) -> dict[str, int]:
        return {"band": number, "step": next(numbers), "steps": steps}

    yield _scene(site, design, at())
    if view.is_in_space:
        yield Space(sphere=in_space(seen, site.far), **at())
    section, plan = site.drawn(cells=FINE)
    yield Outlines(section=section, plan=plan, **at())
    yield Distances(keep_out=distances.of(seen, seen_prediction, band), **at())
    yield Comparison(
        dipole=_dipole(design, bands[band], aside),
        with_metal=bands[band],
        without_metal=aside.known(bare).bands[band] if design.site.metal else None,
        quietest_db=_quietest_with_and_without_cable(design, band, view, bands=bands, aside=aside),
        receptions=tuple(receptions(design, each) for each in bands),
        **at(),
    )
    for other in others:
        yield Distances(keep_out=distances.of(seen, seen_prediction, other), **at(other))


@dataclass(frozen=True, kw_only=True, eq=False)
class _Site:
    """One band of a design, looked at; `design` is without its metal where the view has it gone."""

    design: Design
    band: BandPrediction
    view: SiteView

    @cached_property
    def far(self) -> FarSide:
        return far_side(self.band.point, earth=self.design.site.earth)

    @cached_property
    def field_at(self) -> NearFieldAt:
        return site_field(self.design, self.band.point)

    @cached_property
    def yardstick(self) -> Yardstick:
        return Yardstick.of(self.design, self.band.frequency)

    @property
    def limits(self) -> tuple[tuple[str, Tier], ...]:
        """Limits and tiers whose zones are drawn."""
        return usual_limits(self.design.region) if self.view.limits is None else self.view.limits

    @cached_property
    def cuts(self) -> tuple[Cut, Cut]:
        wires, floor = self.band.point.wires, None if self.design.site.earth is None else 0.0
        return section_cut(wires, self.view.section, floor), plan_cut(wires, self.view.plan_height, floor)

    def drawn(self, *, cells: int) -> tuple[Drawn, Drawn]:
        """Section and plan with the zones of the limits that the view asks for."""
        wanted = self.limits
        chosen = [n for n, row in enumerate(self.yardstick.rows) if (row.name, row.tier) in wanted]
        limits = tuple(self.yardstick.rows[number] for number in chosen)
        ruler = Yardstick(rows=limits, levels=self.yardstick.levels[chosen])

        def ratio_at(points: FloatArray) -> FloatArray:
            return np.asarray(ruler.shares(self.field_at, points).max(axis=2))

        section, plan = (Drawn(cut=cut, zones=zones(cut, ratio_at, limits, cells=cells)) for cut in self.cuts)
        return section, plan


def _scene(site: _Site, design: Design, at: dict[str, int]) -> Scene:
    earth, view = design.site.earth, site.view
    section, plan = site.drawn(cells=QUICK)
    return Scene(
        frequency=site.band.frequency,
        average_power=average_power(design),
        earth=earth,
        earth_source=EARTHS[earth.name].source if earth and earth.name in EARTHS else STATED,
        metal=design.site.metal,
        is_metal_gone=view.is_metal_gone,
        people=design.site.people,
        limits=site.yardstick.rows,
        chosen=site.limits,
        section=section,
        plan=plan,
        margins=tuple(
            tuple(
                person_rows(
                    person,
                    site.yardstick,
                    field_at=site.field_at,
                    power=design.power,
                    unfavourable=unfavourable_factor(site.band),
                )
            )
            for person in design.site.people
        ),
        lobes=lobes(
            site.design,
            site.far,
            site.band.pattern,
            section=section.cut,
            elevation_deg=view.elevation_deg,
            noise=view.noise_bearing_deg,
        ),
        **at,
    )


def _quietest_with_and_without_cable(
    design: Design, band: int, view: SiteView, *, bands: tuple[BandPrediction, ...], aside: Predictions
) -> tuple[float | None, float | None]:
    """How far [dB] the weakest direction at the view's elevation lies below the strongest; None: it cannot be built."""

    def quietest(there: BandPrediction) -> float:
        far = far_side(there.point, earth=design.site.earth)
        return float(np.ptp(azimuth_cut(far, design.power, view.elevation_deg)[1]))

    line = design.feedline
    own, found = quietest(bands[band]), None
    with suppress(DesignError):
        other = replace(design, feedline=replace(line, runs_down=not line.runs_down))
        found = quietest(aside.known(other).bands[band])
    return (own, found) if line.runs_down else (found, own)


def _dipole(design: Design, band: BandPrediction, aside: Predictions) -> Dipole | str:
    """The dipole in the ring's place, or why there is none to compare with."""
    try:
        pattern = aside.use(lambda memory: dipole_in_its_place(design, band.point, memory))
    except OutOfRangeError as exc:
        return str(exc)
    return Dipole(
        pattern=pattern,
        ahead_db=band.pattern.gain_max_dbi - pattern.gain_max_dbi,
        ahead_20deg_db=band.pattern.gain_20deg_dbi - pattern.gain_20deg_dbi,
    )
