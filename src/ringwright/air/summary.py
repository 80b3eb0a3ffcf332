# SPDX-License-Identifier: BSD-3-Clause
"""Reports seen from one's own place: distance, bearing and light of each, and what every band did."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ringwright.air.geodesy import distance_and_bearing
from ringwright.air.locator import Place
from ringwright.air.report_bands import BAND_NAMES
from ringwright.air.reports import Mask, Reports
from ringwright.air.sun import Light, light, sun_elevation
from ringwright.physics.checks import FloatArray

LIGHTS = (Light.DAY, Light.GREY_LINE, Light.NIGHT)
"""In the order in which they are shown."""
LIGHT_WORDS = {Light.DAY: "day", Light.GREY_LINE: "grey line", Light.NIGHT: "night"}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Paths:
    """From `home` to each report's receiver: distance [m] and true bearing [deg]; NaN where its place is not told."""

    home: Place
    distance: FloatArray
    bearing: FloatArray

    def only(self, kept: Mask) -> "Paths":
        """Those of a mask."""
        return Paths(home=self.home, distance=self.distance[kept], bearing=self.bearing[kept])


@dataclass(frozen=True, slots=True, kw_only=True)
class BandSummary:
    """A band: its reports, how far they came [m] and how loud [dB]; None where that is not told."""

    band: str
    count: int
    distance_max: float | None
    distance_median: float | None
    snr_median: float | None


def paths(reports: Reports, home: Place) -> Paths:
    """Distances and bearings, worked out once for each place."""
    distance, bearing = (np.append(of, np.nan) for of in distance_and_bearing(home, reports.places))
    return Paths(home=home, distance=distance[reports.place], bearing=bearing[reports.place])


def band_summaries(reports: Reports, of: Paths | None) -> tuple[BandSummary, ...]:
    """Every band there are reports of, by frequency."""
    return tuple(_summary(reports, of, code=int(code)) for code in np.unique(reports.band))


def lights(reports: Reports, home: Place) -> tuple[NDArray[np.int8], NDArray[np.int8]]:
    """`Light` at home and at each receiver, as its number; -1 where the receiver's place is not told."""
    north = np.array([place.latitude for place in reports.places] + [0.0])[reports.place]
    east = np.array([place.longitude for place in reports.places] + [0.0])[reports.place]
    here = light(sun_elevation(reports.time, np.asarray(home.latitude), longitude=np.asarray(home.longitude)))
    there = light(sun_elevation(reports.time, north, longitude=east))
    return here, np.where(reports.place < 0, -1, there).astype(np.int8)


@dataclass(frozen=True, slots=True, kw_only=True)
class LightTable:
    """Reports by the light at one's own place (rows) and at theirs (columns), in the order of `LIGHTS`; how many tell
    no place, by the light here."""

    both: tuple[tuple[int, ...], ...]
    placeless: tuple[int, ...]

    @property
    def here(self) -> tuple[int, ...]:
        """By the light at one's own place alone."""
        return tuple(sum(row) + rest for row, rest in zip(self.both, self.placeless, strict=True))

    @property
    def there(self) -> tuple[int, ...]:
        """By the light at theirs alone, of those that tell their place."""
        return tuple(map(sum, zip(*self.both, strict=True)))


def light_table(reports: Reports, home: Place) -> LightTable:
    """How many reports came in which light at either end."""
    here, there = lights(reports, home)
    counts = np.zeros((len(Light), len(Light) + 1), dtype=np.int64)
    np.add.at(counts, (here, there), 1)  # -1, the last, is what tells no place
    order = [each.value for each in LIGHTS]
    return LightTable(
        both=tuple(tuple(int(counts[row, column]) for column in order) for row in order),
        placeless=tuple(int(counts[row, -1]) for row in order),
    )


def _summary(reports: Reports, of: Paths | None, *, code: int) -> BandSummary:
    mine = reports.band == code
    distance = np.empty(0) if of is None else of.distance[mine]
    distance, snr = distance[np.isfinite(distance)], reports.snr[mine]
    snr = snr[np.isfinite(snr)]
    return BandSummary(
        band=BAND_NAMES[code],
        count=int(mine.sum()),
        distance_max=float(distance.max()) if len(distance) else None,
        distance_median=float(np.median(distance)) if len(distance) else None,
        snr_median=float(np.median(snr)) if len(snr) else None,
    )
