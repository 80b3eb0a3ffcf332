# SPDX-License-Identifier: BSD-3-Clause
"""What can happen to the brain. All times come beside the event, as `now`."""

from dataclasses import dataclass

from ringwright.tuner.curve import TuningCurve
from ringwright.tuner.messages import Acknowledgement, Status


@dataclass(frozen=True, slots=True)
class StatusSeen:
    """A status came from the board."""

    status: Status


@dataclass(frozen=True, slots=True)
class AcknowledgementSeen:
    """The board answered an order."""

    acknowledgement: Acknowledgement


@dataclass(frozen=True, slots=True)
class LinkLost:
    """The link says that it is broken. Silence needs no event: the brain hears it by the clock."""


@dataclass(frozen=True, slots=True)
class LinkFound:
    """The link is open (again)."""


@dataclass(frozen=True, slots=True)
class Tick:
    """Time went on. At least every 0.1 s."""


@dataclass(frozen=True, slots=True)
class CurveLearnt:
    """The tuning table changed."""

    curve: TuningCurve


@dataclass(frozen=True, slots=True)
class Tune:
    """Find the dip at this frequency [Hz], with a carrier of low power when it is there."""

    frequency: float


@dataclass(frozen=True, slots=True)
class GoTo:
    """Go where the table says that this frequency [Hz] is; needs no carrier."""

    frequency: float


@dataclass(frozen=True, slots=True)
class Nudge:
    """The button for a nudge is down: by `change` [Hz], and as far again every half second while it is down.

    Said again at least every 0.3 s; the drive stands still 0.5 s after the last one.
    """

    change: float


@dataclass(frozen=True, slots=True)
class NudgeOver:
    """The button for a nudge was let go: what was begun is gone to its end, within 3 s."""


@dataclass(frozen=True, slots=True)
class Jog:
    """Go straight to a count, at most at a speed [steps/s], as long as this is said again, as with a nudge."""

    to: int
    speed: int | None = None


@dataclass(frozen=True, slots=True)
class Rise:
    """Take a tuned ring to a power [W], step by step."""

    power: float


@dataclass(frozen=True, slots=True)
class Follow:
    """Follow the drift by the table's temperature while nobody transmits, or leave the drive alone."""

    is_on: bool


@dataclass(frozen=True, slots=True)
class Listen:
    """Turn slowly past where the table says that this frequency [Hz] is, and note where the noise is loudest."""

    frequency: float


@dataclass(frozen=True, slots=True)
class LoudestNow:
    """The operator hears the loudest noise now."""


@dataclass(frozen=True, slots=True)
class FindReference:
    """Seek the end stop."""


@dataclass(frozen=True, slots=True)
class PressStop:
    """STOP is pressed, by anybody, on any page or key. A level: holds until Release."""


@dataclass(frozen=True, slots=True)
class Release:
    """Nobody presses STOP any more."""


@dataclass(frozen=True, slots=True)
class ClearLock:
    """A person looked after a suspected arc and clears the lock."""


Ask = (
    Tune
    | GoTo
    | Nudge
    | NudgeOver
    | Jog
    | Rise
    | Follow
    | Listen
    | LoudestNow
    | FindReference
    | PressStop
    | Release
    | ClearLock
)


@dataclass(frozen=True, slots=True)
class Asked:
    """A person, or a program for one, asks for something."""

    ask: Ask


Event = StatusSeen | AcknowledgementSeen | LinkLost | LinkFound | Tick | CurveLearnt | Asked
