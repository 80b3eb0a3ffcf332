# SPDX-License-Identifier: BSD-3-Clause
"""The very folder that `tune board` writes, started from its main.py by MicroPython, with pins that are files."""

import json
import shutil
import subprocess
import time
from typing import Any

import pytest

from ringwright.tuner.firmware_files import firmware
from tests.conftest import SEARCH_PATH
from tests.tuner.lines import sealed_line

pytestmark = pytest.mark.needs("micropython")
LONGEST = 60.0
MACHINE = """
import os
import sys

LEVEL, COUNT = {}, {}


class Pin:
    OUT, IN, PULL_UP = 1, 2, 3

    def __init__(self, number, mode=None, pull=None, value=None):
        self.number = number
        if value is not None:
            self.value(value)

    def value(self, to=None):
        if to is None:
            return 0
        if to and not LEVEL.get(self.number):
            COUNT[self.number] = COUNT.get(self.number, 0) + 1
        LEVEL[self.number] = to
        with open("pins.txt", "w") as file:
            file.write(str([LEVEL, COUNT]))


class ADC:
    def __init__(self, pin):
        self.number = pin

    def read_u16(self):
        return 0


class WDT:
    def __init__(self, timeout):
        self.timeout = timeout

    def feed(self):
        pass


def reset():
    sys.exit(7)
"""
MACHINE = MACHINE.replace(
    "def __init__(self, number, mode, pull=None", "def __init__(self, number, mode=None, pull=None"
)


class Flash:
    """A folder as the flash of a board; `starts` is switching it on."""

    def __init__(self, folder):
        self.folder = folder
        self.copy_here("a")
        (folder / "machine.py").write_text(MACHINE)
        self.process: Any = None
        self.seq = 0

    def copy_here(self, copy, **changed):
        """As the reader copies it, with short waits; `changed` are texts put in place of others."""
        for place, text in (firmware(copy) | changed).items():
            quick = text.replace("WAIT_S = 3\n", "WAIT_S = 0\n")
            quick = quick.replace("PROVEN_MS = 30_000", "PROVEN_MS = 300")
            (self.folder / place).parent.mkdir(parents=True, exist_ok=True)
            (self.folder / place).write_text(quick, encoding="utf-8")

    def starts(self):
        program = shutil.which("micropython", path=SEARCH_PATH)
        assert program is not None
        self.process = subprocess.Popen(
            [program, "main.py"], cwd=self.folder, stdin=subprocess.PIPE, stdout=subprocess.PIPE
        )
        return self

    def ends(self):
        self.process.kill()
        self.process.wait()
        self.process.stdin.close()
        self.process.stdout.close()

    def says(self, do, **fields):
        self.seq += 1
        self.process.stdin.write((sealed_line(seq=self.seq, do=do, **fields) + "\n").encode())
        self.process.stdin.flush()

    def until(self, is_it):
        """The first line of the board that is so."""
        end = time.monotonic() + LONGEST
        while time.monotonic() < end:
            line = self.process.stdout.readline()
            assert line, "it ended"
            if line.startswith(b"{") and is_it(said := json.loads(line)):
                return said
        raise AssertionError("it never came")

    def asks(self, do, **fields):
        self.says(do, **fields)
        return self.until(lambda said: said.get("answers") == self.seq)

    def goes(self, to):
        """As a program does it: says again what is not so, however slow the machine is."""
        end = time.monotonic() + LONGEST
        while time.monotonic() < end:
            self.says("heartbeat")
            self.asks("move", to=to, speed=None)
            if self.until(lambda said: "at" in said and not said["moving"])["at"] == to:
                return
        raise AssertionError("it did not arrive")

    def copy_in_use(self):
        self.says("settings")
        return self.until(lambda said: "settings" in said)["settings"]["copy"]

    def text(self, name: str) -> Any:
        path = self.folder / name
        return path.read_text() if path.exists() else None

    def is_proven(self, copy):
        end = time.monotonic() + LONGEST
        while self.text("use") != copy or self.text("trial") is not None:
            assert time.monotonic() < end, (self.text("use"), self.text("trial"))
            self.asks("hello")
        return True


@pytest.fixture
def flash(tmp_path):
    flash = Flash(tmp_path)
    yield flash
    if flash.process is not None:
        flash.ends()


def test_the_folder_as_it_is_copied_runs_moves_the_pins_and_proves_itself(flash):
    flash.starts()
    assert flash.copy_in_use() == "a"
    assert flash.until(lambda said: "at" in said)["inhibit"] is True
    flash.asks("ends", low=0, high=1000)
    flash.goes(20)
    flash.asks("inhibit", on=False)
    flash.until(lambda said: said.get("inhibit") is False)
    levels, counts = eval(flash.text("pins.txt"))
    assert (levels[4], levels[5], counts[2]) == (0, 1, 20)  # driver on, may transmit, twenty pulses
    assert flash.is_proven("a")


def test_an_update_that_cannot_run_gives_way_to_the_copy_before(flash):
    flash.starts()
    assert flash.is_proven("a")
    flash.asks("set", key="speed", value=321)
    flash.ends()
    flash.copy_here("b", **{"b/ringwright/tuner/board.py": "this is no program\n"})
    flash.starts()
    assert flash.copy_in_use() == "a"
    assert flash.text("trial") is None
    flash.ends()
    flash.copy_here("b")
    flash.starts()
    assert flash.copy_in_use() == "b"
    assert flash.is_proven("b")
    flash.says("settings")
    assert flash.until(lambda said: "settings" in said)["settings"]["speed"] == 321


def test_settings_that_do_not_fit_are_told_at_the_cable(flash):
    (flash.folder / "settings.json").write_text('{"pins": {"step": "two"}}')
    flash.starts()
    assert flash.process.stdout.readline() == b"settings.json: pins.step must be a pin number\n"
