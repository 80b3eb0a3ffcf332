# SPDX-License-Identifier: BSD-3-Clause
"""What a session tells, and who listens."""

from collections import deque
from collections.abc import Callable
from typing import Any

from ringwright.tuner.brain import Word
from ringwright.tuner.clock import Clock

KEPT_EVENTS = 200
"""Of what was told, for one who comes later."""

_KEYING = {Word.KEY_LOW, Word.RAISE, Word.KEY_UP}

Listener = Callable[[dict[str, Any]], None]


class Teller:
    """Hands each document to all who listen, from the session's thread.

    `is_called_to_key`: somebody was told to transmit, and not to stop since.
    """

    def __init__(self, clock: Clock) -> None:
        self._clock, self._began = clock, clock.now()
        self._listeners: frozenset[Listener] = frozenset()
        self.told: deque[dict[str, Any]] = deque(maxlen=KEPT_EVENTS)
        self.is_called_to_key = False

    def listen(self, listener: Listener) -> Callable[[], None]:
        """One more listens; what ends that."""
        self._listeners |= {listener}

        def end() -> None:
            self._listeners -= {listener}

        return end

    def elapsed(self) -> float:
        """Seconds since the session began."""
        return round(self._clock.now() - self._began, 3)

    def show(self, document: dict[str, Any]) -> None:
        """Something that the next of its kind replaces."""
        for listener in self._listeners:
            listener(document)

    def tell(self, told: dict[str, Any]) -> None:
        """Something that was told, which one who comes later hears, too."""
        self.told.append(told)
        if told["word"] in _KEYING:
            self.is_called_to_key = told["word"] != Word.KEY_UP
        self.show(told)

    def note(self, words: str) -> None:
        """Something in words that no program needs to know."""
        self.tell({"type": "told", "at_s": self.elapsed(), "word": "note", "words": words, "values": {}})
