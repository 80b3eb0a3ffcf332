# SPDX-License-Identifier: BSD-3-Clause
"""What the terminal can show, and text made to fit it."""

import os
import re
import shutil
import sys
import textwrap
from collections.abc import Mapping
from dataclasses import dataclass

import click

WIDEST = 100
"""Columns; longer lines are hard to read."""

_NO_BREAK = "\N{NO-BREAK SPACE}"
_NUMBER_AND_UNIT = re.compile(r"(?<=\d) (?=(?:%|[A-Za-zµΩ]{1,4}\b))")
_IN_ASCII = str.maketrans({
    "Ω": "ohm", "µ": "u", "·": "|", "▲": "!", "–": "-", "’": "'", "°": " deg",
    "█": "#", "▓": "%", "▒": "=", "◆": "x", "░": "-", "▪": "o", "▚": "/",
})  # fmt: skip
_NEEDED = "Ωµ·▲█▓▒◆░▪▚"

# The xterm palette's nearest to each Okabe-Ito colour, where 24-bit colour is not announced.
_PALETTE = {
    "#D55E00": 166, "#009E73": 36, "#56B4E9": 74, "#F0E442": 227, "#0072B2": 25, "#CC79A7": 175, "#E69F00": 178,
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminal:
    """Where the answer goes. Nothing is told by colour alone."""

    width: int = 80
    has_colour: bool = False
    has_true_colour: bool = False
    encoding: str = "utf-8"

    @classmethod
    def of_stdout(cls, environment: Mapping[str, str] = os.environ) -> "Terminal":
        """As far as standard output and the environment tell (NO_COLOR, TERM, COLORTERM, COLUMNS)."""
        has_colour = (
            sys.stdout.isatty() and not environment.get("NO_COLOR") and environment.get("TERM") != "dumb"
        )
        return cls(
            width=max(40, min(shutil.get_terminal_size((80, 24)).columns, WIDEST)),
            has_colour=has_colour,
            has_true_colour=environment.get("COLORTERM") in ("truecolor", "24bit"),
            encoding=sys.stdout.encoding or "ascii",
        )

    def say(self, text: str = "") -> None:
        """Print a line or more, in characters the terminal has."""
        click.echo(self.fit(text), color=self.has_colour)

    def fit(self, text: str) -> str:
        """The text in the terminal's characters; a plain word or sign for what it lacks."""
        try:
            _NEEDED.encode(self.encoding)
        except UnicodeEncodeError:
            text = text.translate(_IN_ASCII)
        return text.encode(self.encoding, "replace").decode(self.encoding)

    def coloured(self, text: str, colour: str) -> str:
        """Text in one of the Okabe-Ito colours, or as it is."""
        if not self.has_colour:
            return text
        red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
        return click.style(text, fg=(red, green, blue) if self.has_true_colour else _PALETTE[colour])

    def strong(self, text: str) -> str:
        """A heading, a warning."""
        return click.style(text, bold=True) if self.has_colour else text

    def wrapped(self, text: str, *, first: str = "", rest: str | None = None) -> str:
        """Text in lines of the terminal's width; `first` and `rest` start them."""
        following = " " * len(first) if rest is None else rest
        filled = textwrap.fill(
            _NUMBER_AND_UNIT.sub(_NO_BREAK, text),
            self.width,
            initial_indent=first,
            subsequent_indent=following,
            break_long_words=False,
            break_on_hyphens=False,
        )
        return filled.replace(_NO_BREAK, " ")
