# SPDX-License-Identifier: BSD-3-Clause
"""What a step can see and do: it is a generator that yields nothing to wait, or a question to be answered."""

from collections.abc import Callable, Generator
from dataclasses import dataclass
from typing import Any

from ringwright.tuner.brain import Ask, Jog, Phase, Ring
from ringwright.tuner.commission.findings import Findings
from ringwright.tuner.messages import (
    Acknowledgement,
    AskSettings,
    BoardLine,
    BoardSettings,
    SetSetting,
    Status,
)
from ringwright.tuner.session import Session

KEYED = 0.2
"""Watts above which a reading shows a carrier, well over what an idle detector reads."""
SAY_EVERY = 0.2
KEY_PATIENCE = 60.0
"""Seconds in which a carrier that was asked for must come."""
SET_PATIENCE = 3.0
MEET_PATIENCE = 5.0
"""Seconds in which a board that was just connected is heard."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """Put to a person. `choices`: what may be answered; none: a number with `unit`."""

    words: str
    choices: tuple[str, ...] = ()
    unit: str = ""


class NotSeenError(Exception):
    """What a step expects did not show; says what to do."""


Step = Generator[Question | None, str, Findings]
Wait = Generator[Question | None, str, None]


class Hands:
    """One drive in the hands of the assistant; all in the session's thread."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self.now = session.parts.clock.now()
        self.settings: dict[str, object] | None = None
        self.readings: list[Status] | None = None
        self._acknowledged: dict[int, Acknowledgement] = {}
        self._told: list[dict[str, Any]] = []
        self._was_asked = False
        session.listen(self._hear)

    def heard(self, said: BoardLine) -> None:
        """The board said something."""
        match said:
            case BoardSettings():
                self.settings = said.values
            case Acknowledgement():
                self._acknowledged = {said.answers: said}
            case Status() if self.readings is not None:
                self.readings.append(said)

    @property
    def status(self) -> Status | None:
        """The last one."""
        return self._session.state.contact.status

    @property
    def ring(self) -> Ring:
        """As the brain knows it."""
        return self._session.state.ring

    @property
    def session(self) -> Session:
        """The session whose drive this is."""
        return self._session

    @property
    def is_ready(self) -> bool:
        """Whether the board has taken all that it must know before it moves, and the drive stands."""
        state = self._session.state
        return (
            state.phase in {Phase.RESTING, Phase.TUNED}
            and state.contact.is_limited
            and state.asserted is None
            and self.status is not None
            and self.status.ends is not None
            and not self.status.is_moving
        )

    def wait(self, is_so: Callable[[], bool], *, seconds: float, otherwise: str) -> Wait:
        """Wait for something; STOP or a lost drive ends the step, too."""
        end = self.now + seconds
        while not is_so():
            self._expect_free()
            if self.now > end:
                raise NotSeenError(otherwise)
            yield None

    def rest(self, seconds: float) -> Wait:
        """Let time pass."""
        end = self.now + seconds
        while self.now < end:
            self._expect_free()
            yield None

    def do(self, ask: Ask, *, good: str, seconds: float, otherwise: str) -> Wait:
        """Ask the brain, and wait until it tells that this was done."""
        yield from self.wait(
            lambda: self.is_ready, seconds=20.0, otherwise="The drive does not come to rest; look at it."
        )
        self._told.clear()
        self._session.do(ask)
        bad = {"refused", "not found", "stuck", "meter silent", "arc", "steps lost beyond"}

        def is_over() -> bool:
            words = {told["word"] for told in self._told}
            if words & bad:
                said = next(told["words"] for told in self._told if told["word"] in bad)
                raise NotSeenError(f"{said} {otherwise}")
            return good in words

        yield from self.wait(is_over, seconds=seconds, otherwise=otherwise)

    def jog(self, to: int, *, speed: int | None = None, otherwise: str) -> Wait:
        """Go straight to a count, saying so again and again."""
        status = self.status
        assert status is not None
        way = abs(to - status.at)
        pace = self.ring.speed if speed is None else min(speed, self.ring.speed)
        end, said_at = self.now + 2.0 * way / pace + 10.0, float("-inf")
        while self.status is not None and (self.status.at != to or self.status.is_moving):
            self._expect_free()
            if self.now > end:
                raise NotSeenError(otherwise)
            if self.now - said_at >= SAY_EVERY:
                said_at = self.now
                self._session.do(Jog(to, speed))
            yield None

    def key(self, watts: float, frequency: float) -> Wait:
        """Have a person transmit, and wait until that shows."""
        state = self._session.state
        if self.now - state.contact.seen_at > 0.5:
            raise NotSeenError("The last reading is too old; look at the link.")
        self._session.teller.note(
            f"Key {watts:.0f} W on {frequency / 1e6:.4f} MHz now, and keep it on until you are told."
        )
        self._session.teller.is_called_to_key = True
        self._session.parts.surroundings.invited(watts)
        self._was_asked = True
        yield from self.wait(
            lambda: self.forward > KEYED,
            seconds=KEY_PATIENCE,
            otherwise="No carrier shows on the board's meter; look at its cables, and at the contact.",
        )

    def unkey(self) -> Wait:
        """Have the person stop."""
        self._session.call_up()
        yield from self.wait(
            lambda: self.forward < KEYED,
            seconds=KEY_PATIENCE,
            otherwise="There is still a carrier; stop transmitting.",
        )
        self._was_asked = False

    @property
    def forward(self) -> float:
        """Forward power [W] as last read."""
        return 0.0 if self.status is None else self.status.forward_power

    @property
    def is_keyed(self) -> bool:
        """Whether there is a carrier, or one was asked for."""
        return self.forward > KEYED or self._was_asked

    def set(self, key: str, value: object, *, otherwise: str) -> Wait:
        """Have the board remember a setting."""
        seq = self._session.order(SetSetting(key, value))
        yield from self.wait(lambda: seq in self._acknowledged, seconds=SET_PATIENCE, otherwise=otherwise)
        answer = self._acknowledged[seq]
        if not answer.is_done:
            raise NotSeenError(f"The board does not take it ({answer.why}). {otherwise}")
        yield from self.ask_settings()

    def ask_settings(self) -> Wait:
        """Have the board say what it knows of its drive."""
        self.settings, asked_at, end, seq = None, float("-inf"), self.now + SET_PATIENCE, -1
        while self.now < end:
            if self.now - asked_at >= SET_PATIENCE / 4.0:
                asked_at, seq = self.now, self._session.order(AskSettings())
            yield None
            answer = self._acknowledged.get(seq)
            if answer is not None and not answer.is_done:
                self.settings = {}  # one that keeps none, as the simulated one
            if self.settings is not None:
                return
        raise NotSeenError("The board does not say how it is set; update its firmware.")

    def meet(self) -> Wait:
        """Wait until the board is heard at all."""
        end = self.now + MEET_PATIENCE
        while self._session.state.phase is Phase.AWAY and self.now < end:
            yield None

    def _expect_free(self) -> None:
        phase = self._session.state.phase
        if phase is Phase.STOPPED:
            raise NotSeenError("STOP holds; release it, then do the step again.")
        if phase is Phase.LOCKED:
            raise NotSeenError(
                "The drive is locked; look at the capacitor, clear the lock, then do the step again."
            )
        if phase is Phase.AWAY:
            raise NotSeenError("The drive is lost; look at its cable, then do the step again.")

    def _hear(self, document: dict[str, Any]) -> None:
        if document["type"] == "told":
            self._told.append(document)
