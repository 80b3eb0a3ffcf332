# SPDX-License-Identifier: BSD-3-Clause
"""The firmware on a real board: opens what the settings name, and goes round for ever."""

import gc
import json
import select
import sys
import time

import micropython

from ringwright.tuner.board import Board
from ringwright.tuner.board_settings import Settings
from ringwright.tuner.firmware.broker import Broker
from ringwright.tuner.firmware.copies import confirm
from ringwright.tuner.firmware.flash_files import JournalFiles, SettingsFiles, make_folder
from ringwright.tuner.firmware.loop import GAP_MS, GrowingClock, Loop
from ringwright.tuner.firmware.pins import Pins
from ringwright.tuner.firmware.setup import trouble
from ringwright.tuner.firmware.stream_lines import StreamLines

KEPT = "kept"
"""Folder of journal and settings, outside the copies."""
PROVEN_MS = 30_000
"""After which a copy of the firmware that has heard an order counts as good."""
_TIDY_MS = 1000


def run(copy: str) -> None:
    """Until the supply fails."""
    found = _settings_file()
    wrong = trouble(found)
    while wrong is not None:
        print("settings.json:", wrong)
        time.sleep(2)
    make_folder(KEPT)
    settings = Settings(SettingsFiles(KEPT), found.get("drive", {}))
    pins = Pins(found["pins"], settings.values, driver_on=found.get("driver_on", 0))
    clock = GrowingClock(time.ticks_ms, time.ticks_diff)  # type: ignore[attr-defined]
    board = Board(JournalFiles(KEPT), clock.ms(), settings.values, settings=settings, gap_ms=GAP_MS)
    board.about["copy"] = copy
    poll = select.poll()
    links: list[object] = [StreamLines(sys.stdin.buffer, sys.stdout.buffer, poll)]
    if found.get("wireless") is not None:
        _join(found["wireless"])
        if found.get("broker") is not None:
            links.append(Broker(found["broker"], poll, boots=board.boots))
    loop = Loop(board, pins, links=links, clock=clock, reading_ms=found.get("reading_ms", 50))
    micropython.kbd_intr(-1)  # an octet 3 on the line is garbage, not a wish to end
    try:
        _go_round(loop, board, poll, clock=clock, copy=copy)
    finally:
        pins.safe()
        micropython.kbd_intr(3)


def _go_round(loop, board, poll, *, clock, copy: str) -> None:
    is_proven, tidied = False, 0
    while True:
        loop.turn()
        ms = clock.ms()
        if not board.moving and ms >= tidied + _TIDY_MS:
            tidied = ms
            gc.collect()  # at rest, so that it does not come in the middle of a move
            if not is_proven and ms >= PROVEN_MS and loop.orders:
                is_proven = True
                confirm(".", copy)
        poll.poll(1)


def _settings_file():
    try:
        with open("settings.json") as file:
            return json.load(file)
    except (OSError, ValueError):
        return None


def _join(wireless) -> None:
    """Ask for the network; the board's own network code joins it, again and again, while the loop goes round."""
    import network

    station = network.WLAN(network.STA_IF)
    station.active(True)
    station.connect(wireless["name"], wireless["password"])
