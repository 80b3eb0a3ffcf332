# SPDX-License-Identifier: BSD-3-Clause
"""Who goes along with a session, in its thread: the assistant that brings a drive up."""

from typing import Protocol

from ringwright.tuner.messages import BoardLine


class Companion(Protocol):
    """Goes along with a session, in its thread."""

    def heard(self, said: BoardLine) -> None:
        """The board said something; the brain knows it already."""
        ...

    def turn(self, now: float) -> None:
        """Once in every turn."""
        ...
