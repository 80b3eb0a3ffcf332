# SPDX-License-Identifier: BSD-3-Clause
"""All that the brain remembers between two events."""

from dataclasses import dataclass

from ringwright.tuner.brain.dip import Dip, Reading
from ringwright.tuner.brain.ring import Band, Ring
from ringwright.tuner.brain.words import Phase, Why
from ringwright.tuner.curve import TuningCurve
from ringwright.tuner.journal import Kept
from ringwright.tuner.messages import Status


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """What is known of the board and of the line to it.

    `seen_at`: when `status` came. `clock_lead`: least difference met between the host's time and the board's, so that
    the age of a status that was long on the way is known. `is_limited`: the board shows the soft ends it was given and
    has acknowledged the tuning limit.
    """

    is_open: bool = True
    next_seq: int
    said_at: float | None = None
    status: Status | None = None
    seen_at: float = float("-inf")
    clock_lead: float | None = None
    is_limited: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """Where the drive is wanted: by way of `via` (to come from below) to `to`; `sent_at`: when that was last said."""

    via: int | None
    to: int
    sent_at: float | None
    since: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """A search for the dip at `frequency`: between `low` and `high` [steps], with the readings so far.

    `carrier` [s] is how long forward power was seen, `rounds` how often it began anew below.
    """

    frequency: float
    band: Band
    low: int
    high: int
    expected: float
    sigma: float
    readings: tuple[Reading, ...] = ()
    dip: Dip | None = None
    carrier: float = 0.0
    rounds: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuned:
    """The dip was met: where the drive stands and what was read there."""

    frequency: float
    band: Band
    position: int
    swr: float
    temperature_c: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """Frozen: `step` makes the next one.

    `doubt`: why the position cannot be trusted, None if it can. `is_stopped`: STOP holds. `lock`: latched until a
    person clears it. `engaged_from`: least count from which, going up, backlash and windup are taken up. `invited`:
    power [W] that the operator was last told to use, None if none. `aim`: power [W] a rise goes to.
    """

    ring: Ring
    curve: TuningCurve
    phase: Phase
    contact: Contact
    kept: Kept | None
    doubt: Why | None
    is_stopped: bool = False
    lock: Why | None = None
    engaged_from: float | None = None
    goal: Goal | None = None
    search: Search | None = None
    tuned: Tuned | None = None
    invited: float | None = None
    aim: float | None = None
    is_following: bool = False
    phase_since: float = 0.0
    loudest: tuple[float, int] | None = None
    last_swr: float | None = None
    nudged_at: float | None = None

    @property
    def is_sure(self) -> bool:
        """Whether the counted position can be trusted."""
        status = self.contact.status
        return self.doubt is None and status is not None and status.is_sure


def begin(
    ring: Ring, curve: TuningCurve, *, first_seq: int, now: float, kept: Kept | None, is_whole: bool
) -> State:
    """The brain at its start. `first_seq`: the wall clock's milliseconds; `kept`, `is_whole`: from the journal.

    With a journal that ends on the way, or is damaged, the position is in doubt until a reference says better. Without
    one, the board's own word counts.
    """
    is_clean = is_whole and (kept is None or (kept.is_sure and kept.to is None))
    return State(
        ring=ring,
        curve=curve,
        phase=Phase.AWAY,
        contact=Contact(next_seq=first_seq),
        kept=kept,
        doubt=None if is_clean else Why.POWER_CUT,
        phase_since=now,
    )
