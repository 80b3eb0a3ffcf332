# SPDX-License-Identifier: BSD-3-Clause
"""The steps in their order, and in words what each expects."""

from enum import StrEnum


class StepName(StrEnum):
    """A step of bringing a drive up."""

    BOARD = "board"
    DIRECTION = "direction"
    ENDS = "ends"
    PLAY = "play"
    METER = "meter"
    TABLE = "table"


TITLES = {
    StepName.BOARD: "Find the board",
    StepName.DIRECTION: "Turn the right way",
    StepName.ENDS: "Find the ends",
    StepName.PLAY: "Measure the play",
    StepName.METER: "Calibrate the meter",
    StepName.TABLE: "Learn the first table",
}
_MORE = {
    "vacuum": "the shaft screws that way",
    "trombone": "the tubes slide further into each other",
    "coax stub": "the stub gets longer",
}
_PLATES = "the plates go further in"
_EXPECTED = {
    StepName.BOARD: "Transmitter off. The board answers, reads no power, and the drive stands.",
    StepName.DIRECTION: (
        "Transmitter off, the capacitor in sight. The drive makes one short move, upwards if it can: counting up, the "
        "capacitor must go towards more capacitance: {more}."
    ),
    StepName.ENDS: (
        "Transmitter off, nobody near the drive. It seeks its low end stop, goes to the high end of its travel and "
        "comes back: the end stop must be where it was, with no step lost."
    ),
    StepName.PLAY: (
        "By RF: tuned at low power, the dip is passed slowly up and down; between the two places where it is met lies "
        "the play. By hand: you say when the capacitor begins to follow."
    ),
    StepName.METER: "A carrier of a few watts, read on a meter you trust, beside what the board reads of it.",
    StepName.TABLE: "Two frequencies of each band are tuned to at low power; at each the dip must be found.",
}


def expected(step: StepName, *, kind: str) -> str:
    """What a step expects to see, with this kind of capacitor."""
    return _EXPECTED[step].format(more=_MORE.get(kind, _PLATES))
