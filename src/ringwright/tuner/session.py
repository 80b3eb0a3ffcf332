# SPDX-License-Identifier: BSD-3-Clause
"""Brain, link and clock together, turn by turn: in a thread for a page or a terminal, or by hand for a test.

Nothing is asked of the brain from any other thread: requests wait in a queue that the next turn empties. STOP does not
wait in it: it is a level that the next turn looks at first, and the turn comes at once.
"""

import logging
import queue
import threading
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from ringwright.errors import LinkMessageError, LinkVersionError, TuningTableError
from ringwright.tuner.brain import (
    AcknowledgementSeen,
    Ask,
    Asked,
    CallKeyUp,
    Command,
    CurveLearnt,
    Event,
    GoTo,
    Invite,
    Keep,
    Learnt,
    LinkFound,
    LinkLost,
    Listen,
    Nudge,
    NudgeOver,
    PressStop,
    Ring,
    Search,
    Send,
    StatusSeen,
    Tell,
    Tick,
    Tune,
    Word,
    begin,
    step,
)
from ringwright.tuner.messages import Acknowledgement, AskSettings, HostLine, SetSetting, Status
from ringwright.tuner.messages_text import parse_board_line
from ringwright.tuner.parts import Parts
from ringwright.tuner.session_companion import Companion
from ringwright.tuner.session_control import Control
from ringwright.tuner.session_ended import BEGINNINGS, ENDINGS, Ended, righted_by
from ringwright.tuner.session_learning import point_of
from ringwright.tuner.session_line import Line
from ringwright.tuner.session_told import Listener, Teller
from ringwright.tuner.session_view import (
    control_document,
    is_moving,
    search_document,
    state_document,
    told_document,
)
from ringwright.tuner.session_way import Ways
from ringwright.tuner.table import TuningTable

TURN = 0.025
"""Seconds from turn to turn."""
SHOW_EVERY = 0.1
"""Seconds between two pictures of how things stand."""


_log = logging.getLogger(__name__)


class Session:
    """One drive and its brain. `on_table` is handed each table that was learnt, `on_ended` each search that ended."""

    def __init__(
        self,
        parts: Parts,
        table: TuningTable,
        *,
        on_table: Callable[[TuningTable], None] = lambda _: None,
        on_ended: Callable[[Ended], None] = lambda _: None,
    ) -> None:
        self.parts, self.table, self.curve = parts, table, table.curve()
        self._on_table, self._on_ended = on_table, on_ended
        now = parts.clock.now()
        self.teller = Teller(parts.clock)
        self._line = Line(parts.link, parts.journal, note=self.teller.note)
        remembered = self._line.remembered
        self.state = begin(
            parts.ring,
            self.curve,
            first_seq=parts.clock.wall_milliseconds(),
            now=now,
            kept=remembered.kept,
            is_whole=remembered.is_whole,
            met=None if table.newest is None else table.newest.frequency,
        )
        self.control = Control()
        self._asked: queue.SimpleQueue[Callable[[], None]] = queue.SimpleQueue()
        self._lock = threading.Lock()
        self._is_stop_pressed, self._wake, self._end = False, threading.Event(), threading.Event()
        self._thread: threading.Thread | None = None
        self._ticked_at = self._shown_at = float("-inf")
        self._search: Search | None = None
        self._shown: Search | None = None
        self._moved = self._righted = 0.0
        self._is_searching = False
        self._companion: Companion | None = None
        self._ways = Ways(note=self.teller.note)

    # From any thread.

    def start(self) -> "Session":
        """Let it run in a thread of its own, and at once when something comes from the board."""
        self.parts.link.notify(self._wake.set)
        self._thread = threading.Thread(target=self._run, daemon=True, name="ringwright tuner")
        self._thread.start()
        return self

    def close(self) -> None:
        """Let the drive stand still, and end; whoever was asked to transmit is told to stop."""
        self.stop()
        if self._thread is not None:
            self._end.set()
            self._wake.set()
            self._thread.join()
        if self._is_stop_pressed:
            self.turn()  # the thread's last turn may have been under way when STOP was pressed
        if self.teller.is_called_to_key:
            self._call_up()
        self.parts.link.close()
        self.parts.journal.close()

    def stop(self) -> None:
        """STOP. Anybody may, nobody has to hold control."""
        self._is_stop_pressed = True
        self._wake.set()

    def ask(self, ask: Ask, *, viewer: int) -> None:
        """Ask for something; refused in words where another holds control."""
        if isinstance(ask, PressStop):
            self.stop()
            return
        self.later(lambda: self._try(ask, viewer))

    def join(self, name: str) -> int:
        """One more looks on; the number by which it asks."""
        with self._lock:
            return self.control.join(name, now=self.parts.clock.now())

    def is_known(self, viewer: int) -> bool:
        """Whether somebody looks on by this number, or held control by it a moment ago."""
        with self._lock:
            return viewer in self.control.seen

    def leave(self, viewer: int) -> None:
        """It looks on no more."""
        with self._lock:
            self.control.leave(viewer)

    def sign(self, viewer: int) -> None:
        """A page is there; one that holds control says so at least every second."""
        with self._lock:
            self.control.sign(viewer, now=self.parts.clock.now())

    def take(self, viewer: int) -> None:
        """Control goes to this viewer."""
        with self._lock:
            self.control.take(viewer, now=self.parts.clock.now())
        self.later(lambda: self.teller.show(self._control_document()))

    def call_up(self) -> None:
        """Whoever transmits is to stop."""
        self.later(self._call_up)

    def set_table(self, table: TuningTable) -> None:
        """The table was edited."""
        self.later(lambda: self._put_table(table))

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Hand each document to a listener, from the session's thread; what ends that."""
        return self.teller.listen(listener)

    def beginning(self) -> list[dict[str, Any]]:
        """What one who comes now should know first."""
        state = self._state_document()
        search = self._search
        return [
            state,
            self._control_document(),
            *([] if search is None else [search_document(search, moved=self._moved)]),
        ]

    def later(self, act: Callable[[], None]) -> None:
        """Let something happen in the next turn, in the session's thread."""
        self._asked.put(act)
        self._wake.set()

    # For a companion, in its turns.

    def accompany(self, companion: Companion | None) -> None:
        """From the next turn on this one goes along; None: nobody."""
        self.later(lambda: setattr(self, "_companion", companion))

    def do(self, ask: Ask) -> None:
        """Ask for something here and now, whoever holds control."""
        if isinstance(ask, Tune | GoTo | Listen):
            self.parts.surroundings.set_frequency(ask.frequency)
        self._happens(Asked(ask))

    def order(self, order: AskSettings | SetSetting) -> int:
        """Send the board an order that moves nothing; its number."""
        contact = self.state.contact
        seq = contact.next_seq
        self.state = replace(self.state, contact=replace(contact, next_seq=seq + 1))
        self._line.send(HostLine(seq, order))
        return seq

    def set_ring(self, ring: Ring) -> None:
        """More is known of the ring and its drive."""
        self.state = replace(self.state, ring=ring)

    # One turn.

    def turn(self) -> None:
        """Let happen what has happened since the last turn."""
        now = self.parts.clock.now()
        if self._is_stop_pressed:
            self._is_stop_pressed = False
            self._happens(Asked(PressStop()))
        self._see_link(now)
        for line in self.parts.link.received():
            self._receive(line)
        for words in [] if self.parts.twin is None else self.parts.twin.news():
            self.teller.note(words)
        while not self._asked.empty():
            self._asked.get()()
        if self._companion is not None:
            self._companion.turn(now)
        if now - self._ticked_at >= TURN:
            self._ticked_at = now
            self._happens(Tick())
            self._ways.look(self.state)
        self._watch_control(now)
        if now - self._shown_at >= SHOW_EVERY:
            self._shown_at = now
            self._show()

    def _run(self) -> None:
        while not self._end.is_set():
            self._wake.wait(TURN)
            self._wake.clear()
            try:
                self.turn()
            except Exception as exc:  # noqa: BLE001 -- logged and told; without heartbeats the board stops by itself
                _log.exception("the tuner's turn failed")
                self.teller.note(
                    f"The program failed ({exc}); the drive stops by itself. Let it go and connect it again."
                )
                return

    def _see_link(self, now: float) -> None:
        is_open = self._line.look(now)
        if is_open is not None:
            self._happens(LinkFound() if is_open else LinkLost())

    def _receive(self, line: str) -> None:
        try:
            said = parse_board_line(line)
        except LinkVersionError as exc:
            self._line.say(str(exc))
            return
        except LinkMessageError:
            return  # as if it had been lost
        match said:
            case Status():
                self._happens(StatusSeen(said))
            case Acknowledgement():
                self._happens(AcknowledgementSeen(said))
        if self._companion is not None:
            self._companion.heard(said)

    def _try(self, ask: Ask, viewer: int) -> None:
        now = self.parts.clock.now()
        with self._lock:
            had, may = self.control.holder, self.control.may(viewer, now=now)
            holder = self.control.holder_name
        if had != self.control.holder:
            self.teller.show(self._control_document())
        if not may:
            if not isinstance(ask, NudgeOver | Nudge):
                self.teller.note(f"Not done: {holder} holds control; take it over first.")
            return
        self.do(ask)

    def _watch_control(self, now: float) -> None:
        """A page that held control and is gone: STOP if anything turns; nobody holds control then."""
        with self._lock:
            is_gone = self.control.is_gone(now=now)
            name = self.control.holder_name
            if is_gone:
                self.control.drop()
        if is_gone:
            if is_moving(self.state):
                self.teller.note(f"{name} held control and is gone: STOP.")
                self._happens(Asked(PressStop()))
            self.teller.show(self._control_document())

    def _happens(self, event: Event) -> None:
        before = self.state.search
        self.state, commands = step(self.state, event, self.parts.clock.now())
        self._search = self.state.search or self._search
        self._righted = sum(righted_by(command) for command in commands)
        for command in commands:
            self._do(command, before)

    def _do(self, command: Command, searched: Search | None) -> None:
        match command:
            case Send(line):
                self._line.send(line)
            case Keep(kept):
                if not self._line.keep(kept) and not self.state.is_stopped:
                    self.stop()
            case Invite(power):
                self.parts.surroundings.invited(power)
            case CallKeyUp():
                self._call_up()
            case Learnt():
                self._learn(command)
            case Tell():
                self._hear(command, searched)

    def _call_up(self) -> None:
        self.parts.surroundings.called_up()
        self._hear(Tell(Word.KEY_UP, ()), None)

    def _hear(self, told: Tell, searched: Search | None) -> None:
        self.teller.tell(told_document(told, at=self.teller.elapsed()))
        self._follow_count(told)
        if told.word in BEGINNINGS:
            self._is_searching, self._moved = True, 0.0
        elif told.word in ENDINGS and self._is_searching:
            self._is_searching = False
            self._search_ended(self.state.search or searched, told)

    def _follow_count(self, told: Tell) -> None:
        """The dip has put the count right: what was read before stands where it now counts."""
        if righted_by(told):
            self._moved, self._shown = righted_by(told), None

    def _search_ended(self, search: Search | None, told: Tell) -> None:
        if search is not None:
            at = datetime.fromtimestamp(self.parts.clock.wall_milliseconds() / 1000.0, UTC)
            self._on_ended(Ended(at=at, search=search, told=told, moved=self._righted))

    # The table.

    def _learn(self, learnt: Learnt) -> None:
        at = datetime.fromtimestamp(self.parts.clock.wall_milliseconds() // 1000, UTC)
        point = point_of(learnt, self.curve, at=at)
        try:
            table = self.table.overruled(point) if learnt.overrules else self.table.learnt(point)
        except TuningTableError as exc:
            self.teller.note(f"Not learnt: {exc}")
            return
        gone = len(self.table.points) + 1 - len(table.points)
        if learnt.overrules and gone:
            self.teller.note(
                f"The end stop says that steps were lost before: {gone} newest "
                f"{'pair' if gone == 1 else 'pairs'} of the table contradicted it and went."
            )
        self._put_table(table)
        self._on_table(table)

    def _put_table(self, table: TuningTable) -> None:
        self.table, self.curve = table, table.curve()
        self._happens(CurveLearnt(self.curve))
        self.teller.show({"type": "table", "pairs": len(table.points), "site": table.site})

    # What is told.

    def _show(self) -> None:
        self.teller.show(self._state_document())
        search = self.state.search
        if search is not None and search is not self._shown:
            self._shown = search
            self.teller.show(search_document(search, moved=self._moved))

    def _state_document(self) -> dict[str, Any]:
        return state_document(self.state, self.curve, now=self.parts.clock.now(), at=self.teller.elapsed())

    def _control_document(self) -> dict[str, Any]:
        with self._lock:
            return control_document(self.control)
