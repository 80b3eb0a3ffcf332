# SPDX-License-Identifier: BSD-3-Clause
"""The line to a board, as a session sees it: simulated, serial or through a broker, all held to the same tests."""

from collections.abc import Callable
from typing import Protocol


class Link(Protocol):
    """Carries lines both ways. Nothing here waits: what needs time happens behind it.

    A line that cannot be carried is lost without a word, as on a radio; whether the board lives is told by what it
    says. `received` returns each line once, in the order it came, without line ends, and an empty list if none came;
    bytes that are no text arrive as lines that no parser takes.
    """

    @property
    def is_open(self) -> bool:
        """Whether lines can be sent now; a link that broke says False until `reopen` succeeds."""
        ...

    def send(self, line: str) -> None:
        """Send one line, given without its line end."""
        ...

    def received(self) -> list[str]:
        """Lines that came since the last call."""
        ...

    def reopen(self) -> None:
        """Try to open the link again; raises LinkError with one sentence if that cannot be done now."""
        ...

    def notify(self, call: Callable[[], None]) -> None:
        """Call this, from whatever thread, when lines came, or the link opened or broke."""
        ...

    def close(self) -> None:
        """Give the link back; may be called twice."""
        ...
