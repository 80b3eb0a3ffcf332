# SPDX-License-Identifier: BSD-3-Clause
"""The scenario in the terminal: what the two rings do, one after the other."""

from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_design
from ringwright.cli.answer import show_answer
from ringwright.cli.terminal import Terminal

_STORIES = (
    (
        TERRACE_OCTAGON,
        "Somebody with a terrace wants 60, 40 and 30 m from eight pieces of water tube and a surplus vacuum capacitor.",
    ),
    (
        RUCKSACK_BRAID,
        "Its small sister, braid over a hoop for the rucksack, is meant for 17 to 10 m.",
    ),
)


def show_scenario() -> None:
    """Print both predictions."""
    terminal = Terminal.of_stdout()
    for name, story in _STORIES:
        design = shipped_design(name)
        terminal.say(terminal.wrapped(story))
        terminal.say()
        show_answer(design, predict(design), terminal, is_imperial=False)
        terminal.say()
    terminal.say("Next: ringwright new FOLDER, and your own ring.")
