# SPDX-License-Identifier: BSD-3-Clause
"""The firmware as texts by the place where they go: a folder to copy to a board, or a bench for MicroPython."""

import json
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path

from ringwright.errors import OutOfRangeError

COPIES = ("a", "b")
LOGIC = (
    "board.py",
    "board_journal.py",
    "board_motion.py",
    "board_orders.py",
    "board_ramp.py",
    "board_settings.py",
    "line_check.py",
)
"""Of the tuner: the board's logic, the same files that the twin runs."""
AROUND = (
    "broker.py",
    "copies.py",
    "flash_files.py",
    "loop.py",
    "pins.py",
    "run.py",
    "setup.py",
    "stream_lines.py",
)
"""Of the firmware: what stands between the logic and the board."""
START = ("main.py", "copies.py")
"""What chooses between the copies: at the top of the board's flash, and left alone by updates."""
SETTINGS = "settings.json"
TRIAL = "trial"
BENCH = "bench_board.py"


def firmware(copy: str, drive: Mapping[str, int] | None = None) -> dict[str, str]:
    """All that a board needs, with this copy of the firmware on trial: its places, with /, and texts.

    `drive`: what is known of the drive, in place of what the settings are shipped with.
    """
    if copy not in COPIES:
        raise OutOfRangeError(f"copy must be a or b, got {copy!r}")
    texts = {name: _text("firmware", name) for name in (*START, SETTINGS)}
    if drive is not None:
        texts[SETTINGS] = _with_drive(texts[SETTINGS], drive)
    return texts | _logic(copy + "/") | {TRIAL: copy + "0"}


def _with_drive(text: str, drive: Mapping[str, int]) -> str:
    settings = json.loads(text)
    settings["drive"] |= drive
    return json.dumps(settings, indent=2) + "\n"


def write_bench(folder: Path) -> Path:
    """Write the firmware for MicroPython's unix port, with everything but the lines simulated; the program to run."""
    _write(folder, _logic("") | {BENCH: _text("firmware", BENCH)})
    return folder / BENCH


def _logic(top: str) -> dict[str, str]:
    tuner = f"{top}ringwright/tuner/"
    around = {f"{tuner}firmware/{name}": _text("firmware", name) for name in AROUND}
    return {f"{tuner}{name}": _text(name) for name in LOGIC} | around


def _text(*place: str) -> str:
    return files("ringwright.tuner").joinpath(*place).read_text(encoding="utf-8")


def _write(folder: Path, texts: Mapping[str, str]) -> None:
    for place, text in texts.items():
        (folder / place).parent.mkdir(parents=True, exist_ok=True)
        (folder / place).write_text(text, encoding="utf-8")
