# SPDX-License-Identifier: BSD-3-Clause
"""All that the brain remembers between two events."""

from dataclasses import dataclass

from ringwright.tuner.brain.dip import Dip, Reading
from ringwright.tuner.brain.events import GoTo, Tune
from ringwright.tuner.brain.fit import Fit
from ringwright.tuner.brain.ring import Band, Ring
from ringwright.tuner.brain.words import Phase, Why
from ringwright.tuner.curve import TuningCurve
from ringwright.tuner.journal import Kept
from ringwright.tuner.messages import Status


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """What is known of the board and of the line to it.

    `seen_at`: when the reading of `status` was taken, as well as that is known. `clock_lead`: least difference met
    between the host's time and the board's, so that the age of a status that was long on the way is known.
    `is_limited`: the board has acknowledged the tuning limit, asked for by the order `limit_seq`. `round_trip` [s]:
    from an order to its acknowledgement, a running mean; `period` [s]: from reading to reading.
    """

    is_open: bool = True
    next_seq: int
    beat_at: float | None = None
    beat_seq: int = -1
    status: Status | None = None
    seen_at: float = float("-inf")
    heard_at: float = float("-inf")
    clock_lead: float = float("inf")
    is_limited: bool = False
    limit_seq: int = -1
    set_at: float = float("-inf")
    inhibit_at: float = float("-inf")
    stop_at: float = float("-inf")
    moved_at: float = float("-inf")
    move_seq: int = -1
    round_trip: float = 0.15
    period: float = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """Where the drive is wanted: by way of `via` (below, to come from there) to `to`, then at `speed` [steps/s].

    `sent_at`: when that was last said, None if it must be said anew. `since`: when the drive last got on, at `last_at`.
    """

    via: int | None
    to: int
    speed: int | None = None
    sent_at: float | None = None
    since: float
    last_at: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """Which way the drive came to where it stands, which decides what its count means.

    From `engaged_from` on, going up, backlash and windup are taken up. `rested_at`: where a drive that was engaged came
    to rest; the rotor sticks there until the shaft is wound up anew. `length`: steps over which the last reading went,
    `before` the same of the one before.
    """

    engaged_from: float
    rested_at: int | None = None
    was_moving: bool = False
    length: int = 0
    before: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """A search for the dip at `frequency`, between `low` and `high` [steps], with the readings so far.

    `expected`, `sigma` [steps]: where the curve has it. `turn_offset`: whole turns between the counts and the curve.
    `carrier` [s]: how long forward power was seen. `rounds`: how often it came from below. `used`: how many
    of the readings the last fit rests on. `aside` [steps]: from the best place to where it is to rest for once, to
    tell by two places which is better; `has_compared`: that was done.
    """

    frequency: float
    band: Band
    low: int
    high: int
    expected: float
    sigma: float
    turn_offset: int
    temperature_c: float | None
    readings: tuple[Reading, ...] = ()
    used: int = 0
    fit: Fit | None = None
    dip: Dip | None = None
    carrier: float = 0.0
    rounds: int = 1
    widened: int = 0
    confirmations: int = 0
    contradictions: int = 0
    target: int | None = None
    aside: int = 0
    has_compared: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuned:
    """The dip was met: where the drive stands and what was read there."""

    frequency: float
    band: Band
    position: int
    swr: float
    temperature_c: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Watch:
    """Power is on: `reflection` as it was, the count of good readings at the power last invited, `since` the first."""

    reflection: float | None = None
    good: int = 0
    since: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Nudging:
    """A nudge by `change` [Hz] that began at the count `start`: as far again from time to time while it `is_held`.

    `stepped_at`: when it last went further. `is_over`: the drive was told to stand, and has yet to come to rest.
    """

    start: int
    change: float
    stepped_at: float
    is_held: bool = True
    is_over: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """Frozen: `step` makes the next one.

    `doubt`: why the position cannot be trusted, None if it can. `is_stopped`: STOP holds. `lock`: latched until a
    person clears it. `invited`: power [W] that the operator was last told to use, None if none. `aim`: power [W] a rise
    goes to. `is_barred`: the contact stays open until the carrier is gone. `pending`: what is done once the position is
    sure. `nudged_at`: when a nudge was last said or let go; `nudging`: how far it is. `loudest`: frequency [Hz] and
    count of the loudest noise; `loudness` [dB]. `asserted`: the count that the board is being told that it stands at.
    `met`: frequency [Hz] of the last dip that the count
    agrees with, where there is no end stop. `is_from_stop`: the end stop was found, and no dip met since; `is_proved`:
    no dip since then was elsewhere than the table had it. `keyed_at`: when a carrier was last seen. `referencing_at`:
    when the search for the end stop was ordered.
    """

    ring: Ring
    curve: TuningCurve
    phase: Phase
    contact: Contact
    kept: Kept | None
    doubt: Why | None
    course: Course | None = None
    is_stopped: bool = False
    lock: Why | None = None
    goal: Goal | None = None
    search: Search | None = None
    tuned: Tuned | None = None
    invited: float | None = None
    aim: float | None = None
    watch: Watch = Watch()
    is_barred: bool = False
    is_following: bool = False
    pending: Tune | GoTo | None = None
    phase_since: float = 0.0
    loudest: tuple[float, int] | None = None
    loudness: float | None = None
    nudged_at: float | None = None
    nudging: Nudging | None = None
    referencing_at: float | None = None
    asserted: int | None = None
    met: float | None = None
    is_from_stop: bool = False
    is_proved: bool = True
    keyed_at: float = float("-inf")

    @property
    def is_sure(self) -> bool:
        """Whether the counted position can be trusted."""
        status = self.contact.status
        return self.doubt is None and self.asserted is None and status is not None and status.is_sure


def begin(
    ring: Ring,
    curve: TuningCurve,
    *,
    first_seq: int,
    now: float,
    kept: Kept | None,
    is_whole: bool,
    met: float | None = None,
) -> State:
    """The brain at its start. `first_seq`: the wall clock's milliseconds; `kept`, `is_whole`: from the journal.

    With a journal that ends on the way, or is damaged, the position is in doubt until a reference says better. Without
    one, the board's own word counts. `met`: the frequency [Hz] that the curve learnt last, with the count that the
    board has kept since.
    """
    is_clean = is_whole and (kept is None or (kept.is_sure and kept.to is None))
    return State(
        ring=ring,
        curve=curve,
        phase=Phase.AWAY,
        contact=Contact(next_seq=first_seq),
        kept=kept,
        met=met,
        doubt=None if is_clean else Why.POWER_CUT,
        is_proved=kept is None or kept.is_proved,
        phase_since=now,
    )
