# SPDX-License-Identifier: BSD-3-Clause
"""Bytes as they come, cut into lines; and lines that wait until somebody looks."""

import threading
from collections import deque
from collections.abc import Callable

from ringwright.tuner.messages import LONGEST_LINE

MOST_BYTES = 4 * LONGEST_LINE
"""Of one line, whose characters may take four bytes each; what is longer is no line."""
MOST_LINES = 500
"""That wait: some seconds of a busy board. Of more, the oldest are lost."""


class LineCutter:
    """Cuts a stream of bytes at its line ends. Whatever comes, no more is kept than one line may be long."""

    def __init__(self) -> None:
        self._rest = b""
        self._is_lost = False

    def cut(self, data: bytes) -> list[str]:
        """The lines that end in these bytes; bytes that are no text become characters that no parser takes."""
        *whole, self._rest = (self._rest + data).split(b"\n")
        if self._is_lost and whole:
            del whole[0]  # the end of a line whose beginning was given up
            self._is_lost = False
        if len(self._rest) > MOST_BYTES:
            self._rest, self._is_lost = b"", True
        elif self._is_lost:
            self._rest = b""
        lines = (line.rstrip(b"\r") for line in whole if len(line) <= MOST_BYTES)
        return [line.decode("utf-8", "replace") for line in lines if line]


class Inbox:
    """Lines from one thread for another, who is told when there is something to see."""

    def __init__(self) -> None:
        self._lines: deque[str] = deque(maxlen=MOST_LINES)
        self._lock = threading.Lock()
        self._call: Callable[[], None] = _nobody

    def notify(self, call: Callable[[], None]) -> None:
        """Call this when there is something."""
        self._call = call

    def put(self, lines: list[str]) -> None:
        """More lines."""
        if lines:
            with self._lock:
                self._lines.extend(lines)
            self._call()

    def changed(self) -> None:
        """Something else is to be seen."""
        self._call()

    def take(self) -> list[str]:
        """Each line once, in the order in which they came."""
        with self._lock:
            lines = [*self._lines]
            self._lines.clear()
        return lines


def _nobody() -> None:
    pass
