# SPDX-License-Identifier: BSD-3-Clause
"""The watt bar in the terminal: 100 % is the accepted power, every cell has an address."""

from ringwright.antenna.figures import FIGURES
from ringwright.antenna.figures.addresses import ADDRESS_MARKS, AddressMark
from ringwright.antenna.prediction import BandPrediction
from ringwright.cli.terminal import Terminal

_PATTERN = {
    "sky": "█", "earth": "▓", "ring": "▒", "joints": "◆", "capacitor": "░", "coupling": "▪", "metal": "▚",
}  # fmt: skip


def watt_bar(band: BandPrediction, terminal: Terminal, *, cells: int) -> str:
    """One line of so many cells; each address starts with its letter and goes on in its pattern.

    What no address accounts for stays empty.
    """
    drawn, position, total = [], 0, 0.0
    for mark, share in shares(band):
        total += share
        end = round(total * cells / 100.0)
        if end > position:
            text = mark.letter + _PATTERN[mark.name] * (end - position - 1)
            drawn.append(terminal.coloured(text, mark.colour))
            position = end
    return "".join(drawn) + " " * (cells - position)


def shares(band: BandPrediction) -> list[tuple[AddressMark, float]]:
    """Addresses that were computed, with their share of the accepted power [%]."""
    found = ((mark, FIGURES[f"watts_pct.{mark.name}"].of(band)) for mark in ADDRESS_MARKS)
    return [(mark, share) for mark, share in found if share is not None]


def key_of_letters() -> str:
    """What the letters stand for."""
    return "  ".join(f"{mark.letter} {mark.words}" for mark in ADDRESS_MARKS)
