# SPDX-License-Identifier: BSD-3-Clause
"""One measured pair of a tuning table."""

import math
import unicodedata
from dataclasses import dataclass
from datetime import datetime

from ringwright.errors import TuningTableError
from ringwright.units import shown

REFERENCE_TEMPERATURE = 20.0
"""[degrees C] to which the curve is referred."""
COLDEST, HOTTEST = -90.0, 100.0
"""[degrees C] that an antenna in the open can have."""
LOWEST, HIGHEST = 1.8e6, 54e6
"""[Hz] that a prediction covers."""
FIRST_SITE = "home"
LONGEST_SITE = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """At `position` [steps] the ring resonated at `frequency`, one sigma `spread` [Hz]; `temperature` [degrees C].

    Raises
    ------
    TuningTableError
        If one of them cannot be.
    """

    position: int
    frequency: float
    at: datetime
    temperature: float | None = None
    site: str = FIRST_SITE
    spread: float = 100.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.frequency) and LOWEST <= self.frequency <= HIGHEST):
            raise TuningTableError(
                f"frequency: {self.frequency / 1e6:g} MHz is outside 1.8 to 54 MHz; write the resonance that was read"
            )
        if not (math.isfinite(self.spread) and 0.0 < self.spread <= 0.1 * self.frequency):
            raise TuningTableError(
                f"spread: {self.spread:g} Hz is none; write how far the frequency may be off, at most a tenth of it"
            )
        if self.temperature is not None and not COLDEST <= self.temperature <= HOTTEST:  # nan fails as well
            raise TuningTableError(
                f"temperature: {self.temperature:g} degrees C is no weather; write {COLDEST:g} to {HOTTEST:g} degrees C"
            )
        if self.at.tzinfo is None:
            raise TuningTableError(f"at: {self.at} has no time zone; add one, as in 2026-05-01T18:30+02:00")
        if site_name(self.site) != self.site:
            raise TuningTableError(f"site: {shown(self.site)} has blanks at its ends; leave them out")


def site_name(text: str) -> str:
    """The name of a site as it is kept.

    Raises
    ------
    TuningTableError
        If it is empty, too long or has characters that cannot be shown.
    """
    name = unicodedata.normalize("NFC", text).strip()
    if not name or not name.isprintable() or len(name) > LONGEST_SITE:
        raise TuningTableError(
            f"site: {shown(text)} is no name of a site; write one line of at most {LONGEST_SITE} characters"
        )
    return name
