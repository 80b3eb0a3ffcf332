# SPDX-License-Identifier: BSD-3-Clause
"""What a session hands on of a search that ended."""

from dataclasses import dataclass
from datetime import datetime

from ringwright.tuner.brain import Command, Search, Tell, Word

BEGINNINGS = {Word.KEY_LOW, Word.SEARCH_BEGAN}
"""With what a search begins that will be kept."""
ENDINGS = {Word.TUNED, Word.NOT_FOUND, Word.STOPPED, Word.LINK_LOST, Word.STUCK, Word.METER_SILENT, Word.ARC}


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """A search that ended: what it had, and how the brain put it.

    `moved` [steps]: by how much the count was put right with it; all its positions are of the count before.
    """

    at: datetime
    search: Search
    told: Tell
    moved: float = 0.0


def righted_by(command: Command) -> float:
    """By how many steps the count is put right with what is told, 0 if it is not."""
    if not isinstance(command, Tell) or command.word is not Word.STEPS_LOST or not command.value("corrected"):
        return 0.0
    steps = command.value("steps")
    assert isinstance(steps, int | float)
    return -float(steps)
