# SPDX-License-Identifier: BSD-3-Clause
"""Bodies of `/api/v1/calibrations`: layers of what was measured, listed and made."""

from typing import Annotated

from pydantic import Field

from ringwright.web.messages.base import Base, CalibrationName, Edits, Message
from ringwright.web.messages.proof import MOST_SWEEPS, SweepSent


class CalibrationEntry(Message):
    """A layer in calibrations/: the name of its design, when it was accepted, and the names of its sweeps."""

    name: str
    design: str
    accepted: str
    sweeps: list[str]


class CalibrationList(Message):
    """The last accepted first; files that cannot be read are left out."""

    calibrations: list[CalibrationEntry]


class CalibrationSent(Message):
    """Take sweeps of the ring that a draft describes for the truth, as the layer `name`."""

    name: CalibrationName
    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    sweeps: Annotated[list[SweepSent], Field(min_length=1, max_length=MOST_SWEEPS)]


class InputMoved(Message):
    """An uncertain input: shift of its natural logarithm, and the standard deviations now and before."""

    key: str
    shift: float
    standard_deviation: float
    standard_deviation_before: float


class BandNarrowed(Message):
    """Ends of two ranges on a band, now and before."""

    band: str | None
    frequency_hz: float
    q_unloaded: tuple[float, float]
    q_unloaded_before: tuple[float, float]
    efficiency_sky_pct: tuple[float, float]
    efficiency_sky_pct_before: tuple[float, float]


class CalibrationKept(Message):
    """The layer that was written to `file` of the workspace.

    `chance`: share of the rings within the tolerances whose sweeps lie as far off.
    """

    name: str
    file: str
    chance: float
    inputs: list[InputMoved]
    bands: list[BandNarrowed]
