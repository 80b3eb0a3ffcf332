# SPDX-License-Identifier: BSD-3-Clause
"""Exposure limits as their sources print them: field strengths against frequency, for two tiers of people.

All levels are rms values of the unperturbed field, E and H apart: below 30 MHz and close to an antenna each must pass
by itself, and no power density stands for them. An averaged limit compares with the mean square over its averaging
time; an instantaneous one with the rms of the carrier at peak envelope power, without any duty.

Where a source lets the field be averaged over the body's space, the largest value is taken here instead, which errs
to the safe side. Laws differ by country and change: the reader's licence conditions and local codes decide.
"""

from dataclasses import dataclass
from enum import StrEnum

from ringwright.errors import OutOfRangeError


class Tier(StrEnum):
    """Whom a limit protects: anyone, or people who are trained or informed and know of their exposure."""

    PUBLIC = "public"
    OCCUPATIONAL = "occupational"


@dataclass(frozen=True, slots=True)
class Level:
    """One printed row: E = `electric` / f^`electric_power`, H likewise, f in MHz, for `low` < f <= `high` [Hz]."""

    low: float
    high: float
    electric: float
    electric_power: float
    magnetic: float
    magnetic_power: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ExposureLimit:
    """One limit for one tier. `averaging_minutes` None: instantaneous, a peak that no duty lowers."""

    name: str
    tier: Tier
    averaging_minutes: float | None
    source: str
    levels: tuple[Level, ...]

    @property
    def is_averaged(self) -> bool:
        return self.averaging_minutes is not None

    def covers(self, frequency: float) -> bool:
        """Whether the limit has a level at a frequency [Hz]."""
        return any(level.low < frequency <= level.high for level in self.levels)

    def at(self, frequency: float) -> tuple[float, float]:
        """E [V/m rms] and H [A/m rms] at a frequency [Hz].

        Raises
        ------
        OutOfRangeError
            Where the limit does not reach.
        """
        megahertz = frequency / 1e6
        for level in self.levels:
            if level.low < frequency <= level.high:
                electric = level.electric / megahertz**level.electric_power
                return electric, level.magnetic / megahertz**level.magnetic_power
        raise OutOfRangeError(f"{self.name} has no level at {megahertz:.4g} MHz")


def _rows(*printed: tuple[float, float, float, float, float, float]) -> tuple[Level, ...]:
    """From rows with their frequencies in MHz, as the sources print them."""
    return tuple(Level(low * 1e6, high * 1e6, *rest) for low, high, *rest in printed)


_FCC = "47 CFR 1.1310(e)(1), Table 1; levels of 1996, as in force 2021"
_ICNIRP_2020 = "ICNIRP, Health Phys. 118(5), 2020, 483-524"
_ICNIRP_2010 = "ICNIRP, Health Phys. 99(6), 2010, 818-836"
_EU = "Council Recommendation 1999/519/EC of 12 July 1999, Annex III, Table 2"

LIMITS: tuple[ExposureLimit, ...] = (
    ExposureLimit(
        name="fcc-1.1310",
        tier=Tier.PUBLIC,
        averaging_minutes=30.0,
        source=f"{_FCC}, general population/uncontrolled",
        levels=_rows(
            (0.3, 1.34, 614.0, 0.0, 1.63, 0.0),
            (1.34, 30.0, 824.0, 1.0, 2.19, 1.0),
            (30.0, 300.0, 27.5, 0.0, 0.073, 0.0),
        ),
    ),
    ExposureLimit(
        name="fcc-1.1310",
        tier=Tier.OCCUPATIONAL,
        averaging_minutes=6.0,
        source=f"{_FCC}, occupational/controlled",
        levels=_rows(
            (0.3, 3.0, 614.0, 0.0, 1.63, 0.0),
            (3.0, 30.0, 1842.0, 1.0, 4.89, 1.0),
            (30.0, 300.0, 61.4, 0.0, 0.163, 0.0),
        ),
    ),
    ExposureLimit(
        name="icnirp-2020-whole-body",
        tier=Tier.PUBLIC,
        averaging_minutes=30.0,
        source=f"{_ICNIRP_2020}, Table 5 (above 30 MHz from memory)",
        levels=_rows((0.1, 30.0, 300.0, 0.7, 2.2, 1.0), (30.0, 400.0, 27.7, 0.0, 0.073, 0.0)),
    ),
    ExposureLimit(
        name="icnirp-2020-whole-body",
        tier=Tier.OCCUPATIONAL,
        averaging_minutes=30.0,
        source=f"{_ICNIRP_2020}, Table 5 (from memory; root 5 times the public levels)",
        levels=_rows((0.1, 30.0, 660.0, 0.7, 4.9, 1.0), (30.0, 400.0, 61.0, 0.0, 0.16, 0.0)),
    ),
    ExposureLimit(
        name="icnirp-2020-local",
        tier=Tier.PUBLIC,
        averaging_minutes=6.0,
        source=f"{_ICNIRP_2020}, Table 6",
        levels=_rows((0.1, 30.0, 671.0, 0.7, 4.9, 1.0), (30.0, 400.0, 62.0, 0.0, 0.163, 0.0)),
    ),
    ExposureLimit(
        name="icnirp-2020-local",
        tier=Tier.OCCUPATIONAL,
        averaging_minutes=6.0,
        source=f"{_ICNIRP_2020}, Table 6",
        levels=_rows((0.1, 30.0, 1504.0, 0.7, 10.8, 1.0), (30.0, 400.0, 139.0, 0.0, 0.36, 0.0)),
    ),
    # The same levels stand in Table 8 of the 2020 guidelines for 0.1 to 10 MHz.
    ExposureLimit(
        name="icnirp-2010-instantaneous",
        tier=Tier.PUBLIC,
        averaging_minutes=None,
        source=f"{_ICNIRP_2010}, Table 4",
        levels=_rows((0.003, 10.0, 83.0, 0.0, 21.0, 0.0)),
    ),
    ExposureLimit(
        name="icnirp-2010-instantaneous",
        tier=Tier.OCCUPATIONAL,
        averaging_minutes=None,
        source=f"{_ICNIRP_2010}, Table 3",
        levels=_rows((0.003, 10.0, 170.0, 0.0, 80.0, 0.0)),
    ),
    ExposureLimit(
        name="eu-1999-519",
        tier=Tier.PUBLIC,
        averaging_minutes=6.0,
        source=_EU,
        levels=_rows((1.0, 10.0, 87.0, 0.5, 0.73, 1.0), (10.0, 400.0, 28.0, 0.0, 0.073, 0.0)),
    ),
)
"""Every limit and tier, one row each, never merged."""
