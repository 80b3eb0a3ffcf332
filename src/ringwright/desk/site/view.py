# SPDX-License-Identifier: BSD-3-Clause
"""What a person looks at on the site: which band, which limits, which cuts."""

from dataclasses import dataclass
from enum import StrEnum

from ringwright.safety.limits import LIMITS, Tier

PLAN_HEIGHT = 1.5
"""Where the plan cuts unless something else is said [m]: the chest of someone who stands on the ground."""
CUT_ELEVATION = 20.0  # [deg], the low angle that distance is worked at


class Section(StrEnum):
    """The upright plane through the ring's centre that is drawn: along the ring's axis, or the ring's own plane."""

    AXIS = "axis"
    PLANE = "plane"


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteView:
    """`limits` are the limits and tiers whose zones are drawn, None for the usual ones; `elevation_deg` is that of the
    cut round the horizon.

    `plan_height` [m] above the earth. `is_metal_gone`: all of it as if the metal nearby were not there.
    `noise_bearing_deg`: true bearing of a source of noise that the null is to meet, None without one.
    """

    band: int = 0
    limits: tuple[tuple[str, Tier], ...] | None = None
    section: Section = Section.AXIS
    plan_height: float = PLAN_HEIGHT
    elevation_deg: float = CUT_ELEVATION
    is_metal_gone: bool = False
    noise_bearing_deg: float | None = None
    is_in_space: bool = False


def usual_limits(region: int) -> tuple[tuple[str, Tier], ...]:
    """Limits to draw before a person chooses: for the public, those most in use in an ITU region.

    Common practice, no source: which limits bind a person is said by their licence and local codes.
    """
    names = {"fcc-1.1310"} if region == 2 else {"icnirp-2020-whole-body", "icnirp-2010-instantaneous"}
    return tuple((row.name, row.tier) for row in LIMITS if row.name in names and row.tier is Tier.PUBLIC)
