# SPDX-License-Identifier: BSD-3-Clause
"""The firmware as a folder to copy to a board: the start program, two copies' worth of places, a settings file."""

import shutil
from collections.abc import Iterator
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
SETTINGS = "settings.json"
BENCH = "bench_board.py"


def _source() -> Path:
    return Path(str(files("ringwright.tuner")))


def write_firmware(folder: Path, *, copy: str = "a") -> list[Path]:
    """Write what is to be copied to the board; a settings file that is there already stays as it is.

    Copy "a" is for a board that is new: it comes with the start program. Copy "b", or "a" again, for one that has a
    firmware comes with a file that puts it on trial. Returns the files written, relative to the folder.
    """
    if copy not in COPIES:
        raise OutOfRangeError(f"copy must be a or b, got {copy!r}")
    written = list(_write_logic(folder / copy))
    source = _source() / "firmware"
    written += [_copied(source / name, folder / name) for name in START]
    if not (folder / SETTINGS).exists():
        written.append(_copied(source / SETTINGS, folder / SETTINGS))
    trial = folder / "trial"
    trial.write_text(f"{copy}0", encoding="ascii")
    return [path.relative_to(folder) for path in [*written, trial]]


def write_bench(folder: Path) -> Path:
    """Write the firmware for MicroPython's unix port, with everything but the lines simulated; the program to run."""
    list(_write_logic(folder))
    return _copied(_source() / "firmware" / BENCH, folder / BENCH)


def _write_logic(folder: Path) -> Iterator[Path]:
    tuner = Path("ringwright") / "tuner"
    for name in LOGIC:
        yield _copied(_source() / name, folder / tuner / name)
    for name in AROUND:
        yield _copied(_source() / "firmware" / name, folder / tuner / "firmware" / name)


def _copied(source: Path, target: Path) -> Path:
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, target)
    return target
