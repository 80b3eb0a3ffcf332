# SPDX-License-Identifier: BSD-3-Clause
"""The wiring page names every pin, key and time as the firmware has them, and its settings are taken."""

import json
import re
from pathlib import Path

from ringwright.tuner.board_journal import RECORD
from ringwright.tuner.board_settings import DEFAULTS, MOST_POINTS, why_not
from ringwright.tuner.firmware.flash_files import SECTOR
from ringwright.tuner.firmware.setup import PIN_USES, trouble

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "how-to" / "wire-the-board.md").read_text(encoding="utf-8")
FIRMWARE = ROOT / "src" / "ringwright" / "tuner" / "firmware"
SHIPPED = json.loads((FIRMWARE / "settings.json").read_text(encoding="utf-8"))


def rows(heading):
    """First cells of the table below a heading row, and the rest."""
    table = PAGE[PAGE.index(heading) :].split("\n\n")[0].splitlines()[2:]
    return [[cell.strip() for cell in re.split(r"(?<!\\)\|", line.strip().strip("|"))] for line in table]


def test_every_pin_stands_in_the_table_with_its_number():
    listed = {row[1].strip("`"): int(row[0]) for row in rows("| pin | in") if row[1]}
    assert listed == SHIPPED["pins"]
    assert tuple(listed) == PIN_USES


def test_the_settings_of_the_page_are_taken_and_are_those_shipped():
    (block,) = re.findall(r"```json\n(.*?)```", PAGE, re.DOTALL)
    found = json.loads(block)
    assert trouble(found) is None
    assert {key: found[key] for key in SHIPPED if key not in {"wireless", "broker"}} == {
        key: value for key, value in SHIPPED.items() if key not in {"wireless", "broker"}
    }
    assert all(why_not(key, value) is None for key, value in found["drive"].items())
    assert set(found) == {key for row in rows("| key | meaning") for key in re.findall(r"`(\w+)`", row[0])}


def test_every_setting_of_the_drive_is_listed_with_its_default():
    listed: dict[str, str] = {}
    for names, _, default in rows("| in `drive` | meaning"):
        listed |= dict.fromkeys(re.findall(r"`(\w+)`", names), default)
    assert set(listed) == set(DEFAULTS)
    assert listed["speed"] == f"{DEFAULTS['speed']}, {DEFAULTS['acceleration']}"
    for key in ("seek_speed", "travel", "switch_slack"):
        assert listed[key] == str(DEFAULTS[key])
    assert listed["reversed"] == "`false`"
    assert listed["stop_at"] == "`null`"
    points = DEFAULTS["forward_points"]
    assert isinstance(points, list)
    zero, over = points
    assert listed["forward_points"].startswith(
        f"{zero[1]:g} W at {zero[0]:g} mV, {over[1]:g} W at {over[0]:g} mV"
    )
    assert f"up to {MOST_POINTS} pairs" in PAGE


def test_its_times_and_sizes_are_the_firmwares():
    assert f"two files of {SECTOR // RECORD} records" in PAGE
    run, pins, main = ((FIRMWARE / name).read_text() for name in ("run.py", "pins.py", "main.py"))
    assert "PROVEN_MS = 30_000" in run
    assert "run for 30 s" in PAGE
    assert "WATCHDOG_MS = 5000" in pins
    assert "restarts it after 5 s" in PAGE
    assert "WAIT_S = 3\n" in main
    assert "within three seconds" in PAGE
