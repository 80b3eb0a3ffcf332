# SPDX-License-Identifier: BSD-3-Clause
"""A session's link and its journal: opened anew where it broke; no order to move before its line is safe."""

from collections.abc import Callable

from ringwright.errors import LinkError, StorageError
from ringwright.tuner.device import Link
from ringwright.tuner.journal import Kept, Remembered, journal_line, read_journal
from ringwright.tuner.messages import HostLine, Move, Reference
from ringwright.tuner.messages_text import host_text
from ringwright.tuner.parts import JournalFile

REOPEN_EVERY = 1.0


class Line:
    """`note` is told in words what a person should know, each thing once until it changes."""

    def __init__(self, link: Link, journal: JournalFile, *, note: Callable[[str], None]) -> None:
        self._link, self._journal, self._note = link, journal, note
        self.remembered: Remembered = read_journal(journal.read())
        self._number = self.remembered.number
        self._tried_at = float("-inf")
        self._was_open = True
        self._said = ""
        self._is_safe = True

    def look(self, now: float) -> bool | None:
        """Whether the link is open now, if that has changed since the last look."""
        link = self._link
        if not link.is_open and now - self._tried_at >= REOPEN_EVERY:
            self._tried_at = now
            try:
                link.reopen()
            except LinkError as exc:
                self.say(str(exc))
        is_open = link.is_open
        if is_open == self._was_open:
            return None
        self._was_open = is_open
        if is_open:
            self._said = ""
        return is_open

    def keep(self, kept: Kept) -> bool:
        """Into the journal; whether it is safe there. Where it is not, nothing moves until a later line is."""
        try:
            self._journal.append(journal_line(kept, self._number + 1))
        except StorageError as exc:
            self._is_safe = False
            self.say(f"{exc}. The drive is stopped; make room, then release STOP.")
            return False
        self._number += 1
        self._is_safe = True
        return True

    def send(self, line: HostLine) -> None:
        """Send an order, unless it would move a drive whose position cannot be kept."""
        if self._is_safe or not isinstance(line.order, Move | Reference):
            self._link.send(host_text(line))

    def say(self, words: str) -> None:
        """Tell in words, unless that was the last thing told."""
        if words != self._said:
            self._said = words
            self._note(words)
