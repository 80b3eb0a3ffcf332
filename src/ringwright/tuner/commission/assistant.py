# SPDX-License-Identifier: BSD-3-Clause
"""Goes from step to step with a person, in the session's thread; what was found is kept after each."""

from collections.abc import Callable
from typing import Any

from ringwright.tuner.commission.findings import Findings, with_findings
from ringwright.tuner.commission.first_steps import find_board, find_ends, turn_right_way
from ringwright.tuner.commission.hands import Hands, NotSeenError, Question, Step
from ringwright.tuner.commission.plan import TITLES, StepName, expected
from ringwright.tuner.commission.power_steps import calibrate_meter, learn_table, measure_play
from ringwright.tuner.messages import BoardLine
from ringwright.tuner.session import Session

_WORK: dict[StepName, Callable[[Hands, Findings], Step]] = {
    StepName.BOARD: find_board,
    StepName.DIRECTION: turn_right_way,
    StepName.ENDS: find_ends,
    StepName.PLAY: measure_play,
    StepName.METER: calibrate_meter,
    StepName.TABLE: learn_table,
}
SCHEMA = "commission"


class Assistant:
    """One run through the steps that are not done yet. `on_found` is handed the findings after each."""

    def __init__(
        self, session: Session, found: Findings, *, on_found: Callable[[Findings], None] = lambda _: None
    ) -> None:
        self._session, self._on_found = session, on_found
        self.found = found
        self._hands = Hands(session)
        self._work: Step | None = None
        self._step: StepName | None = None
        self.question: Question | None = None
        self.refusal: str | None = None
        self._answer: str | None = None

    # From any thread.

    def begin(self, step: StepName | None = None) -> None:
        """Do the next step, or one again with all after it."""
        self._session.later(lambda: self._begin(step))

    def answer(self, text: str) -> None:
        """What the person says; what fits no choice is refused in words."""
        self._session.later(lambda: self._take(text))

    def leave(self) -> None:
        """End; what was found stays."""
        self._session.later(self._leave)

    @property
    def is_done(self) -> bool:
        """Whether all steps are."""
        return self.found.next_step is None

    @property
    def waits(self) -> bool:
        """Whether nothing goes on until a person says something."""
        return self._work is None or self.question is not None

    def expects(self, step: StepName) -> str:
        """What a step expects to see."""
        return expected(step, kind=self._session.parts.design.capacitor.kind)

    def document(self) -> dict[str, Any]:
        """How things stand, for a page or a terminal."""
        question = self.question
        return {
            "type": SCHEMA,
            "step": None if self._step is None else self._step.value,
            "is_running": self._work is not None,
            "question": None if question is None else question.words,
            "choices": [] if question is None else list(question.choices),
            "unit": "" if question is None else question.unit,
            "refusal": self.refusal,
            "is_done": self.is_done,
            "steps": [
                {
                    "name": step.value,
                    "title": TITLES[step],
                    "expects": self.expects(step),
                    "is_done": step in self.found.done,
                    "found": self._in_words(step),
                }
                for step in StepName
            ],
        }

    # In the session's thread.

    def heard(self, said: BoardLine) -> None:
        """As a companion of the session."""
        self._hands.heard(said)

    def turn(self, now: float) -> None:
        """Let the step that is being done go on, if nobody has to answer first."""
        self._hands.now = now
        if self._work is None or (self.question is not None and self._answer is None):
            return
        answer, self._answer = self._answer, None
        try:
            asked = next(self._work) if answer is None else self._work.send(answer)
        except StopIteration as end:
            self._succeed(end.value)
        except NotSeenError as exc:
            self._fail(str(exc))
        else:
            if asked is not self.question:
                self.question = asked
                self._show()

    def _begin(self, step: StepName | None) -> None:
        if self._work is not None:
            self._stop_work()
        if step is not None:
            self.found = self.found.without(step)
        self._step, self.question, self.refusal = self.found.next_step, None, None
        self._hands.readings = None
        self._work = None if self._step is None else _WORK[self._step](self._hands, self.found)
        self._show()

    def _take(self, text: str) -> None:
        question = self.question
        if question is None:
            return
        if question.choices:
            chosen = _choice(text, question.choices)
            if chosen is None:
                self.refusal = (
                    f"Answer one of: {', '.join(question.choices)}; its number or first letters will do."
                )
                self._show()
                return
            text = chosen
        elif not _is_number(text):
            self.refusal = f"Type a number of {question.unit}, as in 4.2."
            self._show()
            return
        self._answer, self.refusal, self.question = text.replace(",", "."), None, None
        if question.choices:
            self._answer = text
        self._show()

    def _leave(self) -> None:
        if self._work is not None:
            self._stop_work()
        self._step = self.question = None
        self._show()

    def _succeed(self, found: Findings) -> None:
        assert self._step is not None
        self.found = found.with_done(self._step)
        self._work = self.question = None
        self._session.set_ring(with_findings(self._session.state.ring, self.found))
        self._on_found(self.found)
        self._session.teller.note(f"{TITLES[self._step]}: done. {self._in_words(self._step) or ''}".strip())
        self._step = self.found.next_step
        self._show()

    def _fail(self, words: str) -> None:
        self._stop_work()
        self.question, self.refusal = None, words
        self._session.teller.note(words)
        self._show()

    def _stop_work(self) -> None:
        assert self._work is not None
        self._work.close()
        self._work, self._hands.readings = None, None
        if self._hands.is_keyed:
            self._session.call_up()

    def _show(self) -> None:
        self._session.teller.show(self.document())

    def _in_words(self, step: StepName) -> str | None:
        found = self.found
        if step not in found.done:
            return None
        match step:
            case StepName.BOARD if found.speed is not None:
                return f"up to {found.speed} steps/s"
            case StepName.ENDS if found.high_end is not None:
                return f"steps {found.low_end} to {found.high_end}"
            case StepName.PLAY if found.slack is not None:
                return f"at most {found.slack} steps"
            case StepName.METER:
                return "as it reads, to 10 %" if found.meter is None else f"read times {found.meter:.2f}"
        return None


def _is_number(text: str) -> bool:
    try:
        return 0.0 < float(text.replace(",", ".")) < 1e5
    except ValueError:
        return False


def _choice(text: str, choices: tuple[str, ...]) -> str | None:
    """Which choice is meant by its words, its first letters or its number; None where that is not clear."""
    plain = text.strip().casefold()
    if plain.isdecimal() and 1 <= int(plain) <= len(choices):
        return choices[int(plain) - 1]
    meant = [choice for choice in choices if plain and choice.casefold().startswith(plain)]
    exact = [choice for choice in meant if choice.casefold() == plain]
    found = exact or meant
    return found[0] if len(found) == 1 else None
