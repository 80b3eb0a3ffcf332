# SPDX-License-Identifier: BSD-3-Clause
"""What the brain must never do, whatever happens in whatever order: each rule over random histories.

The histories are drawn without regard to sense: statuses of any content in any order, orders of persons, silence, a
link that breaks. The judge beside the brain keeps its own book of what was seen, from the events alone.
"""

import math
from dataclasses import dataclass, field, replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from ringwright.tuner.brain import (
    Asked,
    Band,
    CallKeyUp,
    ClearLock,
    FindReference,
    Follow,
    GoTo,
    Invite,
    Jog,
    Keep,
    LinkFound,
    LinkLost,
    Listen,
    LoudestNow,
    Nudge,
    NudgeOver,
    Phase,
    PressStop,
    Release,
    Ring,
    Rise,
    Send,
    StatusSeen,
    Tell,
    Tick,
    Tune,
    Tuned,
    Why,
    Word,
    begin,
    step,
)
from ringwright.tuner.brain.events import AcknowledgementSeen
from ringwright.tuner.journal import Kept
from ringwright.tuner.messages import Acknowledgement, HostLine, Inhibit, Limit, Move, Reference, Status, Stop
from tests.tuner.brain.straight_curve import StraightCurve

LIMIT = 60.0
RING = Ring(
    bands=(
        Band(name="40 m", low=7.0e6, high=7.2e6, power_limit=LIMIT, half_width=4e3, best_swr=1.2),
        Band(name="30 m", low=10.1e6, high=10.15e6, power_limit=20.0, half_width=6e3, best_swr=1.1),
    ),
    low_end=0,
    high_end=5000,
    has_end_stop=True,
    steps_per_turn=None,
    slack=30,
    speed=500.0,
)
CURVE = StraightCurve(at_zero=6.9e6, per_step=1000.0, spread=20.0)
STALE = 0.5

WAITS = st.sampled_from([0.01, 0.05, 0.1, 0.1, 0.3, 0.6, 1.2])
ASKS = st.one_of(
    st.sampled_from([7.05e6, 7.1e6, 7.19e6, 10.12e6, 14.1e6]).flatmap(
        lambda hertz: st.sampled_from([Tune(hertz), GoTo(hertz), Listen(hertz)])
    ),
    st.sampled_from([5.0, 20.0, LIMIT, 100.0, 0.0, -1.0, math.inf]).map(Rise),
    st.sampled_from([500.0, -500.0, 50e3, -2e6, 9e6]).map(Nudge),
    st.tuples(st.sampled_from([0, 2500, 5000, -3000, 9000]), st.sampled_from([None, 50])).map(
        lambda way: Jog(*way)
    ),
    st.sampled_from(
        [NudgeOver(), Follow(True), LoudestNow(), FindReference(), PressStop(), Release(), ClearLock()]
    ),
)
STATUSES = st.fixed_dictionaries(
    {},
    optional={
        "at": st.one_of(st.integers(0, 5000), st.sampled_from(["goal", "goal", "goal", -20, 5100])),
        "is_sure": st.sampled_from([True, True, True, False]),
        "is_moving": st.booleans(),
        "forward_power": st.sampled_from([0.0, 0.0, 3.5, 4.0, 4.9, 5.1, 28.0, 59.0, 100.0]),
        "reflection": st.sampled_from([0.0, 0.01, 0.05, 0.3, 0.9, 1.0]),
        "boots": st.sampled_from([0, 0, 0, 0, 1]),
        "is_old": st.sampled_from([False, False, False, True]),
        "late": st.sampled_from([0.0, 0.0, 0.0, 0.05, 0.7, 3.0]),
        "temperature_c": st.sampled_from([None, 20.0, 45.0]),
        "noise_db": st.sampled_from([None, -100.0, -80.0]),
    },
)
HAPPENINGS = st.lists(
    st.tuples(
        WAITS,
        st.one_of(
            STATUSES,
            STATUSES,
            STATUSES,
            ASKS,
            st.sampled_from(["tick", "tick", "lost", "found", "answer", "answer"]),
        ),
    ),
    max_size=25,
)


@dataclass
class Judge:
    """Plays a history to a brain and checks each command against its own book."""

    now: float = 100.0
    seq: int = 0
    boots: int = 1
    status: Status | None = None
    taken_at: float = -math.inf
    lead: float = math.inf
    stopped: bool = False
    locked: bool = False
    is_open: bool = True
    last_orders: list[HostLine] = field(default_factory=list)

    def __post_init__(self):
        self.state = begin(
            RING, CURVE, first_seq=1000, now=self.now, kept=Kept(2500, True, None, 1), is_whole=True
        )

    def play(self, history):
        self.meet()
        for wait, what in history:
            self.now += wait
            self.happens(self.event(what))

    def meet(self):
        """A board that is there and does what it is told, so that histories begin where things happen."""
        for _ in range(3):
            self.now += 0.1
            self.happens(self.event({"at": 2500, "is_sure": True, "late": 0.0}))
            self.happens(self.event("answer"))

    def event(self, what):
        match what:
            case "tick":
                return Tick()
            case "lost":
                self.is_open = False
                return LinkLost()
            case "found":
                self.is_open = True
                return LinkFound()
            case "answer":
                seq = next((o.seq for o in reversed(self.last_orders) if isinstance(o.order, Limit)), 0)
                return AcknowledgementSeen(Acknowledgement(seq=self.seq, answers=seq, is_done=True, why=None))
            case dict():
                return StatusSeen(self.make_status(what))
            case PressStop():
                self.stopped = True
            case Release():
                self.stopped = False
            case ClearLock():
                self.locked = False
        return Asked(what)

    def make_status(self, what):
        goal = self.state.goal
        at = what.get("at", 2500 if self.status is None else self.status.at)
        if at == "goal":
            at = 2500 if goal is None else (goal.to if goal.via is None else goal.via)
        forward = what.get("forward_power", 0.0)
        if not what.get("is_old", False):
            self.seq += 1
        is_restart = what.get("boots", 0) == 1
        self.boots += is_restart
        status = Status(
            seq=self.seq,
            at=at,
            is_sure=what.get("is_sure", True),
            is_moving=what.get("is_moving", False),
            to=None,
            over=(at, at),
            forward_power=forward,
            reflected_power=forward * what.get("reflection", 0.01),
            temperature_c=what.get("temperature_c"),
            noise_db=what.get("noise_db"),
            is_inhibited=False,
            boots=self.boots,
            milliseconds=round(1000.0 * (self.now - what.get("late", 0.0))),
            ends=(0, 5000),
            stopped_by=None,
        )
        if self.status is None or (status.boots, status.seq) > (self.status.boots, self.status.seq):
            is_new = self.status is None or status.boots != self.status.boots
            lead = self.now - status.milliseconds / 1000.0
            self.lead = lead if is_new else min(lead, self.lead)
            self.taken_at = self.now - (lead - self.lead)
            self.status = status
        return status

    def happens(self, event):
        before = self.state
        self.state, commands = step(self.state, event, self.now)
        for command in commands:
            if isinstance(command, Send):
                self.last_orders.append(command.line)
        self.judge(before, commands)

    def judge(self, before, commands):
        kept = before.kept
        seqs = [c.line.seq for c in commands if isinstance(c, Send)]
        assert seqs == sorted(set(seqs))
        assert not seqs or seqs[0] >= before.contact.next_seq
        for command in commands:
            match command:
                case Keep(entry):
                    kept = entry
                case Send(line):
                    self.judge_order(line.order, kept)
                case Invite(power):
                    self.judge_invitation(power, commands)
                case Tell(Word.ARC):
                    self.locked = True
                    assert any(isinstance(c, CallKeyUp) and c.why is Why.ARC for c in commands)
                    assert any(isinstance(c, Send) and c.line.order == Inhibit(True) for c in commands)
        if self.locked:
            assert self.state.lock is not None
        if self.stopped or self.locked:
            assert self.state.goal is None
            assert self.state.phase in {Phase.STOPPED, Phase.LOCKED, Phase.AWAY}

    def judge_order(self, order, kept):
        if isinstance(order, Move | Reference):
            status = self.status
            assert status is not None, "moved without a word from the board"
            assert status.forward_power <= RING.tuning_limit, "moved above the tuning limit"
            assert self.now - self.taken_at <= STALE + 0.01, "moved on a stale reading"
            assert self.is_open, "moved on a broken link"
            assert not self.stopped, "moved while STOP is held"
            assert not self.locked, "moved while locked"
            assert kept is not None
            assert kept.to is not None, "moved before the journal had it"
        if isinstance(order, Move):
            assert 0 <= order.to <= 5000, "past a soft end"
            assert order.speed is None or order.speed >= 1

    def judge_invitation(self, power, commands):
        status = self.status
        assert status is not None
        assert self.now - self.taken_at <= STALE + 0.01, "invited on a stale reading"
        assert not self.stopped
        assert not self.locked
        assert self.is_open
        assert power > 0.0
        if power > RING.tuning_power:
            tuned = self.state.tuned
            assert tuned is not None, "invited into a ring that is not tuned"
            assert power <= tuned.band.power_limit, "invited more than the band's limit"
            assert tuned.band.holds(tuned.frequency)
            assert status.at == tuned.position, "invited at another place"
            assert not status.is_moving, "invited while the drive turns"
            assert status.is_sure, "invited at a doubted position"
            assert self.state.doubt is None
            reflection = status.reflected_power / max(status.forward_power, 1e-9)
            assert status.forward_power < 1.0 or reflection < 0.12, "invited at a bad SWR"


@settings(max_examples=150)
@given(HAPPENINGS)
@example([(0.1, Tune(7.1e6)), (0.1, {"at": "goal"}), (0.1, {"at": "goal"}), (0.1, {"forward_power": 4.0})])
@example([(0.1, Tune(7.1e6)), *[(0.4, {"forward_power": 5.1})] * 6])
@example([(0.1, GoTo(7.1e6)), *[(0.4, {"late": 0.7})] * 6])
@example([(0.1, Nudge(9e6)), (0.1, {})])
@example([(0.1, Nudge(-9e6)), (0.1, {})])
def test_no_history_whatever_makes_the_brain_break_a_rule(history):
    Judge().play(history)


def tuned_judge():
    """A brain that has just met the dip."""
    judge = Judge()
    judge.meet()
    band = RING.bands[0]
    tuned = Tuned(frequency=7.1e6, band=band, position=2500, swr=1.2, temperature_c=20.0)
    judge.state = replace(judge.state, phase=Phase.TUNED, tuned=tuned)
    return judge


@settings(max_examples=150)
@given(HAPPENINGS)
@example([(0.1, Rise(LIMIT))] + [(0.1, {"forward_power": 4.9})] * 4 + [(0.1, {"forward_power": 28.0})] * 4)
def test_no_history_of_a_tuned_ring_makes_the_brain_break_a_rule(history):
    judge = tuned_judge()
    for wait, what in history:
        judge.now += wait
        judge.happens(judge.event(what))


PHASES = st.sampled_from(list(Phase))


@given(HAPPENINGS, st.sampled_from([{"is_moving": True, "at": 2600}, "tick"]))
def test_stop_from_anywhere_stops_a_drive_that_moves_and_holds_until_released(history, then):
    judge = Judge()
    judge.play(history)
    judge.event("found")
    judge.now += 0.05
    judge.happens(StatusSeen(judge.make_status({"is_moving": True, "at": 2600})))
    judge.stopped = True
    before = len(judge.last_orders)
    judge.happens(Asked(PressStop()))
    assert any(isinstance(line.order, Stop) for line in judge.last_orders[before:])
    for _ in range(4):  # the board has not heard it: it is said again, as long as it moves
        judge.now += 0.15
        before = len(judge.last_orders)
        judge.happens(StatusSeen(judge.make_status({"is_moving": True, "at": 2600})))
        if judge.state.contact.is_open:
            assert any(isinstance(line.order, Stop) for line in judge.last_orders[before:])
    judge.happens(judge.event(then))
    judge.now += 0.05
    judge.happens(Asked(Tune(7.1e6)))
    assert judge.state.is_stopped
    assert judge.state.goal is None


@given(HAPPENINGS)
def test_silence_is_told_within_a_second_and_ends_everything(history):
    judge = Judge()
    judge.play(history)
    for _ in range(12):
        judge.now += 0.1
        judge.happens(Tick())
    assert judge.state.phase is Phase.AWAY or not judge.state.contact.is_open
    assert judge.state.goal is None
    assert judge.state.invited is None


@pytest.mark.parametrize("power", [9.0, 28.0, 59.0])
def test_a_sudden_jump_of_swr_at_power_locks_until_a_person_clears_it(power):
    judge = tuned_judge()
    for _ in range(3):
        judge.now += 0.1
        judge.happens(judge.event({"at": 2500, "forward_power": power, "reflection": 0.01}))
    before = len(judge.last_orders)
    judge.now += 0.1
    judge.happens(judge.event({"at": 2500, "forward_power": power, "reflection": 0.4}))
    assert judge.state.lock is Why.ARC
    assert judge.state.phase is Phase.LOCKED
    assert any(line.order == Inhibit(True) for line in judge.last_orders[before:])
    for what in ({"at": 2500}, Tune(7.1e6), Rise(10.0), Release(), {"at": 2500, "boots": 1}):
        judge.now += 0.1
        judge.happens(judge.event(what))
        assert judge.state.lock is Why.ARC
    judge.happens(judge.event(ClearLock()))
    assert judge.state.lock is None


@given(st.floats(0.0, 0.09), st.floats(0.0, 0.09), st.floats(5.5, 59.0))
def test_readings_that_differ_by_noise_are_no_arc(one, other, power):
    judge = tuned_judge()
    for reflection in (one, other, one, other):
        judge.now += 0.1
        judge.happens(judge.event({"at": 2500, "forward_power": power, "reflection": reflection}))
    assert judge.state.lock is None


def test_a_rise_goes_by_five_and_thirty_watts_and_never_past_the_bands_limit():
    judge = tuned_judge()
    invited: list[float] = []
    judge.happens(Asked(Rise(LIMIT)))
    for _ in range(60):  # a second at each power
        power = judge.state.invited or 0.0
        if not invited or invited[-1] != power:
            invited.append(power)
        judge.now += 0.1
        judge.happens(judge.event({"at": 2500, "forward_power": 0.95 * power, "reflection": 0.01}))
    assert invited == [5.0, 30.0, LIMIT]
    assert judge.state.phase is Phase.AT_POWER


def test_a_rise_stops_where_the_swr_does_not_hold():
    judge = tuned_judge()
    judge.happens(Asked(Rise(LIMIT)))
    for reflection in (0.01, 0.06, 0.1, 0.14, 0.18, 0.2):
        judge.now += 0.1
        judge.happens(judge.event({"at": 2500, "forward_power": 4.9, "reflection": reflection}))
    assert judge.state.phase is Phase.TUNED
    assert judge.state.invited is None


def test_more_than_the_limit_of_the_band_is_called_back():
    judge = tuned_judge()
    judge.now += 0.1
    judge.happens(judge.event({"at": 2500, "forward_power": 100.0, "reflection": 0.01}))
    assert judge.state.is_barred


@pytest.mark.parametrize("asked", [Tune(14.1e6), GoTo(14.1e6), Rise(LIMIT + 1.0), Rise(math.nan)])
def test_what_the_design_does_not_allow_is_refused_in_a_word(asked):
    judge = tuned_judge()
    _, commands = step(judge.state, Asked(asked), judge.now)
    words = [c.word for c in commands if isinstance(c, Tell)]
    assert words == [Word.REFUSED]
    assert not any(isinstance(c, Invite) for c in commands)
