# SPDX-License-Identifier: BSD-3-Clause
"""What the terminal is asked, and what it is given."""

import io
import sys

import pytest

from ringwright.cli.terminal import Terminal


class Screen(io.StringIO):
    encoding = "utf-8"

    def isatty(self):
        return True


@pytest.mark.parametrize(
    ("environment", "has_colour"),
    [({}, True), ({"NO_COLOR": "1"}, False), ({"NO_COLOR": ""}, True), ({"TERM": "dumb"}, False)],
)
def test_colour_is_for_screens_that_do_not_object(environment, has_colour, monkeypatch):
    screen = Screen()
    monkeypatch.setattr(sys, "stdout", screen)  # not in a fixture: capture puts its own there for each phase
    # NO_COLOR counts when it is set and not empty (no-color.org).
    terminal = Terminal.of_stdout(environment)
    assert terminal.has_colour is has_colour
    terminal.say(terminal.strong(terminal.coloured("ring", "#56B4E9")))
    assert ("\x1b[" in screen.getvalue()) is has_colour


def test_a_file_gets_no_colour(monkeypatch):
    monkeypatch.setattr(sys, "stdout", io.StringIO())
    assert not Terminal.of_stdout({}).has_colour


@pytest.mark.parametrize(("columns", "width"), [("80", 80), ("400", 100), ("7", 40), ("junk", 80)])
def test_lines_are_as_wide_as_the_terminal_but_stay_readable(columns, width, monkeypatch):
    monkeypatch.setenv("COLUMNS", columns)
    assert Terminal.of_stdout({}).width == width


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp437", "cp1252", "utf-8", "koi8-r"])
def test_text_fits_any_encoding(encoding):
    text = "▲ 3 mΩ · 2 µH █▓▒◆░▪▚ Mühle 漢"
    fitted = Terminal(encoding=encoding).fit(text)
    assert fitted.encode(encoding).decode(encoding) == fitted
    if encoding == "ascii":
        assert fitted.startswith("! 3 mohm | 2 uH #%=x-o")


def test_a_number_keeps_its_unit_on_the_line():
    terminal = Terminal(width=40)
    for pad in range(40):
        for line in terminal.wrapped("x" * pad + " at 25 W and 3.5 kV, 7 mΩ or 12.5 % of it").splitlines():
            assert not line.rstrip().endswith(("25", "3.5", "7", "12.5"))
            assert len(line) <= 40
