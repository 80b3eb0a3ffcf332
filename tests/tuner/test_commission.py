# SPDX-License-Identifier: BSD-3-Clause
"""A new drive is brought up on a simulated twin: what is found is what it has, and what is not seen goes no further."""

import json
import re
from dataclasses import replace

import pytest

from ringwright.tuner.commission import Assistant, Findings, StepName, with_findings
from ringwright.tuner.commission.assistant import _choice
from ringwright.tuner.commission.hands import NotSeenError
from ringwright.tuner.commission.plan import expected
from ringwright.tuner.commission.power_steps import dip_centre
from ringwright.tuner.messages import Status
from tests.tuner.sessions import Bench

GOOD = {
    "Is the transmitter off": "yes",
    "Which way did": "that way",
    "Transmitter off, nobody near": "yes",
    "Is the capacitor still clear": "yes",
    "How is the play": "by RF",
    "Ready?": "yes",
    "Does the mark move": "no",
}


class Bringing(Bench):
    """A person with answers, by the words that a question holds."""

    def __init__(self, found=None, **answers):
        super().__init__(seed=1)
        self.found: list[Findings] = []
        travel = self.parts.law.last
        self.assistant = Assistant(self.session, found or Findings(travel=travel), on_found=self.found.append)
        self.session.accompany(self.assistant)
        self.answers = GOOD | answers
        self.watts = None

    @property
    def shown(self):
        return [each for each in self.said if each["type"] == "commission"]

    def say(self):
        question = self.assistant.question
        if question is None:
            return
        if question.unit:
            shown = re.search(r"own meter shows ([0-9.]+) W", question.words)
            assert shown
            self.assistant.answer(self.watts or shown[1])
        else:
            answer = next(answer for words, answer in self.answers.items() if words in question.words)
            self.assistant.answer(answer(self) if callable(answer) else answer)
        self.run(0.05)

    def step(self, at_most=400.0):
        """Do the next step to its end; whether it was done."""
        before = len(self.found)
        self.assistant.begin()
        self.run(0.05)
        end = self.clock.now() + at_most
        while self.assistant._work is not None:
            assert self.clock.now() < end, self.assistant.document()
            self.say()
            self.run(0.05)
        return len(self.found) > before


@pytest.fixture(scope="module")
def brought_up():
    bringing = Bringing()
    steps = {}
    for name in StepName:
        steps[name] = bringing.step()
        assert steps[name], bringing.assistant.refusal
    return bringing


def test_a_good_drive_goes_through_all_steps_and_nothing_unsafe_is_done(brought_up):
    assert brought_up.assistant.is_done
    assert brought_up.twin.world.monitor.acts == {}
    assert [found.done[-1] for found in brought_up.found] == [*StepName]
    assert len(brought_up.session.table.points) >= 2 * len(brought_up.parts.ring.bands)
    json.dumps(brought_up.assistant.document(), allow_nan=False)


def test_the_play_found_is_the_twins(brought_up):
    train = brought_up.twin.world.facts.train
    true = train.backlash + 2.0 * train.windup
    assert true <= brought_up.assistant.found.slack <= 1.5 * true + 8  # never less than there is
    assert brought_up.session.state.ring.slack == brought_up.assistant.found.slack


def test_the_ends_are_the_twins(brought_up):
    found = brought_up.assistant.found
    assert (found.low_end, found.high_end) == (0, brought_up.parts.law.last)


def test_what_was_done_is_not_done_again_and_a_step_may_be():
    found = Findings(travel=128000, done=(StepName.BOARD, StepName.DIRECTION), speed=3200)
    bringing = Bringing(found=found)
    bringing.assistant.begin()
    bringing.run(0.1)
    assert bringing.assistant.document()["step"] == "ends"
    bringing.assistant.begin(StepName.DIRECTION)
    bringing.run(0.1)
    assert bringing.assistant.document()["step"] == "direction"
    assert bringing.assistant.found.done == (StepName.BOARD,)


@pytest.mark.parametrize(
    ("steps", "answers", "fault", "words"),
    [
        (1, {"Which way did": "it did not move"}, None, "nothing turns"),
        (1, {"Which way did": "the other way"}, None, "Swap the two wires"),  # a twin keeps no settings
        (2, {"Is the capacitor still clear": "no"}, None, "less travel than the design says"),
        (2, {}, lambda twin: setattr(twin.world.train, "to_lose", 300), "steps were lost"),
        (0, {}, lambda twin: twin.world.operator.invited(4.0), "transmitter off"),
        (0, {}, lambda twin: twin.pull(is_pulled=True), "lost"),
    ],
)
def test_what_is_not_seen_goes_no_further(steps, answers, fault, words):
    bringing = Bringing(**answers)
    bringing.run(1.0)
    for _ in range(steps):
        assert bringing.step()
    if fault is not None and steps:
        bringing.answers["Is the capacitor still clear"] = lambda one: fault(one.twin) or "yes"
    elif fault is not None:
        fault(bringing.twin)
        bringing.run(5.0)
    assert not bringing.step()
    assert words in str(bringing.assistant.refusal)
    assert bringing.assistant._work is None
    assert bringing.twin.world.monitor.acts == {}
    assert bringing.session.state.goal is None


def test_stop_ends_a_step():
    bringing = Bringing(**{"Is the capacitor still clear": lambda one: one.session.stop() or "yes"})
    for _ in range(2):
        assert bringing.step()
    assert not bringing.step()
    assert "STOP holds" in str(bringing.assistant.refusal)


def test_an_answer_that_is_none_is_refused_in_words():
    bringing = Bringing()
    assert bringing.step()
    bringing.assistant.begin()
    bringing.run(0.1)
    bringing.assistant.answer("perhaps")
    bringing.run(0.1)
    assert bringing.assistant.refusal == "Answer one of: yes, not yet; its number or first letters will do."
    assert bringing.assistant.question is not None


CHOICES = ("that way", "the other way", "it did not move", "again")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("1", "that way"), (" The O", "the other way"), ("i", "it did not move"), ("AGAIN", "again"),
        ("4", "again"), ("t", None), ("", None), ("5", None), ("0", None), ("no", None),
    ],
)  # fmt: skip
def test_a_choice_is_meant_by_its_number_or_its_first_letters(typed, meant):
    assert _choice(typed, CHOICES) == meant


@pytest.mark.parametrize(
    ("kind", "words"),
    [("vacuum", "screws"), ("air", "plates"), ("butterfly", "plates"), ("trombone", "tubes")],
)
def test_what_is_to_be_seen_is_said_by_the_capacitors_kind(kind, words):
    said = expected(StepName.DIRECTION, kind=kind)
    assert words in said
    assert ("plates" in said) is (words == "plates")


def test_a_meter_that_is_a_quarter_off_is_not_taken_as_it_reads():
    done = (StepName.BOARD, StepName.DIRECTION, StepName.ENDS, StepName.PLAY)
    bringing = Bringing(found=Findings(travel=Bringing().parts.law.last, done=done))
    bringing.run(1.0)
    bringing.watts = "5.0"
    assert not bringing.step()
    refusal = str(bringing.assistant.refusal)
    # The twin's operator keys 4 W at most, and its diodes read a little less of it.
    assert re.search(r"The board reads 3\.\d W where your meter shows 5\.0 W, [23]\d % apart", refusal)
    assert any("The board reads 3." in str(each["question"]) for each in bringing.shown)
    assert bringing.words()[-2:] == ["key up", "note"]


def reading(place, share, *, forward=4.0):
    return Status(
        seq=1, at=int(place), is_sure=True, is_moving=True, to=None, over=(int(place) - 2, int(place) + 2),
        forward_power=forward, reflected_power=share * forward, temperature_c=None, noise_db=None,
        is_inhibited=False, boots=1, milliseconds=0, ends=None, stopped_by=None,
    )  # fmt: skip


def dip(centre, half_width=20.0, depth=0.9):
    return [reading(at, 0.95 - depth / (1.0 + ((at - centre) / half_width) ** 2)) for at in range(0, 400, 3)]


@pytest.mark.parametrize("centre", [120.0, 200.4, 301.0])
def test_the_middle_of_a_dip_is_found_to_a_part_of_a_step(centre):
    # The dip's shape is that of a resonance, 1 / (1 + x^2), symmetric: its centre of mass is its centre.
    assert dip_centre(dip(centre)) == pytest.approx(centre, abs=0.6)
    assert dip_centre(dip(centre)[::-1]) == pytest.approx(centre, abs=0.6)


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        (dip(5.0, depth=0.05), "No dip"),
        (dip(2.0), "at the end of the pass"),
        ([replace(each, forward_power=0.0) for each in dip(200.0)], "no carrier"),
    ],
)
def test_what_is_no_dip_is_none(readings, words):
    with pytest.raises(NotSeenError, match=words):
        dip_centre(readings)


def test_only_what_was_found_changes_the_ring():
    ring = Bench().parts.ring
    assert with_findings(ring, Findings(travel=128000)) == ring
    assert with_findings(ring, Findings(travel=128000, slack=99)).slack == 99
