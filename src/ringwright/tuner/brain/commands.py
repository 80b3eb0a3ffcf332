# SPDX-License-Identifier: BSD-3-Clause
"""What the brain wants done, in the order in which it must be done."""

from dataclasses import dataclass

from ringwright.tuner.brain.words import Why, Word
from ringwright.tuner.journal import Kept
from ringwright.tuner.messages import HostLine


@dataclass(frozen=True, slots=True)
class Send:
    """Send this line to the board."""

    line: HostLine


@dataclass(frozen=True, slots=True)
class Keep:
    """Write this into the position journal, safely on the disk, before any later command of the same step."""

    kept: Kept


@dataclass(frozen=True, slots=True)
class Tell:
    """Tell the person something; `values` are pairs of a name and a number (SI, or steps) or a text."""

    word: Word
    values: tuple[tuple[str, float | str], ...] = ()

    def value(self, name: str) -> float | str:
        """The value of a name; KeyError if it is not told."""
        return dict(self.values)[name]


@dataclass(frozen=True, slots=True)
class Invite:
    """The operator may transmit with this power [W] now, not more. At or below the tuning power it is for searching."""

    power: float


@dataclass(frozen=True, slots=True)
class CallKeyUp:
    """The operator must stop transmitting at once. The transmit inhibit is set by an order beside it."""

    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Learnt:
    """A pair for the tuning table: the dip was met and confirmed here, coming from below.

    `sigma` [steps] is the standard deviation of the position of the dip's centre, `swr` what was read there.
    `overrules`: the count comes fresh from the end stop, so that pairs which contradict this one are wrong.
    """

    frequency: float
    position: float
    sigma: float
    temperature_c: float | None
    swr: float
    readings: int
    carrier: float
    overrules: bool = False


Command = Send | Keep | Tell | Invite | CallKeyUp | Learnt
