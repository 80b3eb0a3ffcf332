# SPDX-License-Identifier: BSD-3-Clause
"""Fuzz some readers, or all: `python -m scripts.fuzz_readers [READER ...] [--seconds 600] [--at-once 2]`.

Each runs in a process of its own, from seeds written anew into a temporary folder. A reader's process ends at its first
find. At the end there is one line for each: runs, edges of our code that were seen, inputs that were worth keeping, and
the find or none. Ends with 1 if there was one; its input then lies in the folder that is named.
"""

import argparse
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

from scripts.fuzz_readers.catalogue import HOMES

ROOT = Path(__file__).parents[2]
MEMORY = Path("/dev/shm")  # noqa: S108 -- a folder of its own is made in it
"""A disk of memory, where there is one, for readers that need files."""
MOST_MEMORY = 2000
"""Megabytes of a process, above which its reader takes too much: the libraries alone take a few hundred."""
LONGEST_READ = 30
"""Seconds for one input: some ten thousand times the usual, since the machine may be busy."""
TELL_EVERY = 60.0
_PULSE = re.compile(r"#(?P<runs>\d+)\s+\w+\s+cov: (?P<edges>\d+) ft: \d+ corp: (?P<kept>\d+)")
_KEPT_LINES = 40
_TO_START = 300
"""Seconds after its time in which a process must have ended: imports, the last input."""


@dataclass(slots=True)
class Told:
    """What a reader's process said so far; `find` is empty where there was none."""

    name: str
    runs: int = 0
    edges: int = 0
    kept: int = 0
    first_kept: int = 0
    seconds: float = 0.0
    find: str = ""

    @property
    def line(self) -> str:
        """For whoever watches, and at the end."""
        return (
            f"{self.name:<13} {self.seconds:5.0f} s {self.runs:>9} runs {self.edges:>6} edges "
            f"{self.kept - self.first_kept:>5} new inputs  {self.find or 'no find'}"
        )


def fuzzed(name: str, folder: Path, *, seconds: int, seed: int) -> Told:
    """One reader for so long; a seed other than 0 makes the same changes in the same order."""
    told, began, last = Told(name), time.monotonic(), time.monotonic()
    corpus = folder / name
    corpus.mkdir()
    command = [
        sys.executable, "-m", "scripts.fuzz_readers.one", name, str(corpus), f"-max_total_time={seconds}",
        f"-seed={seed}",
        f"-rss_limit_mb={MOST_MEMORY}", f"-timeout={LONGEST_READ}", f"-artifact_prefix={folder}/{name}-",
    ]  # fmt: skip
    lines: list[str] = []
    scratch = tempfile.mkdtemp(prefix="fuzz-", dir=MEMORY if MEMORY.is_dir() else None)
    with subprocess.Popen(
        command,
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        env=os.environ | {"TMPDIR": scratch, "PYTHONHASHSEED": "0"},
    ) as process:
        assert process.stdout is not None
        for text in process.stdout:
            hear(told, text)
            if not _PULSE.match(text):
                lines = [*lines[-_KEPT_LINES:], text.rstrip()]
            told.seconds = time.monotonic() - began
            if time.monotonic() - last > TELL_EVERY:
                last = time.monotonic()
                print(told.line, flush=True)
        process.wait(timeout=_TO_START)
    shutil.rmtree(scratch, ignore_errors=True)  # the fuzzer ends its process before it could tidy up
    told.seconds = time.monotonic() - began
    if process.returncode != 0:
        told.find = found_in(lines, process.returncode)
        (folder / f"{name}.log").write_text("\n".join(lines), encoding="utf-8")
    return told


def hear(told: Told, text: str) -> None:
    pulse = _PULSE.match(text)
    if pulse is not None:
        told.runs, told.edges, told.kept = int(pulse["runs"]), int(pulse["edges"]), int(pulse["kept"])
        told.first_kept = told.first_kept or told.kept


def found_in(lines: Sequence[str], code: int) -> str:
    """What it was, from the last words of a process."""
    words = [line for line in lines if re.match(r"[\w.]+(Error|Exception|Warning|Interrupt)\b", line)]
    if words:
        return words[-1][:200]
    limits = [line for line in lines if "ERROR: libFuzzer" in line]
    return (
        limits[-1].partition("ERROR: ")[2] if limits else f"ended with {code}: {lines[-1] if lines else ''}"
    )


def main() -> int:
    parser = argparse.ArgumentParser(prog="make fuzz", description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("reader", nargs="*", help=f"any of {', '.join(HOMES)}; all where none is named")
    parser.add_argument("--seconds", type=int, default=600, help="for each reader (600)")
    parser.add_argument(
        "--seed", type=int, default=0, help="the same changes in the same order; 0: others each time (0)"
    )
    parser.add_argument("--at-once", type=int, default=2, help="processes (2)")
    asked = parser.parse_args()
    unknown = [name for name in asked.reader if name not in HOMES]
    if unknown:
        parser.error(f"there is no reader {', '.join(unknown)}; there are {', '.join(HOMES)}")
    if find_spec("atheris") is None:
        parser.error("atheris is not installed; it is published for Linux and Python before 3.14")
    folder = Path(tempfile.mkdtemp(prefix="fuzz-"))
    with ThreadPoolExecutor(asked.at_once) as pool:
        running = [
            pool.submit(fuzzed, name, folder, seconds=asked.seconds, seed=asked.seed)
            for name in asked.reader or HOMES
        ]
        ended = []
        for each in running:
            ended.append(each.result())
            print(ended[-1].line, flush=True)
    print("\n" + "\n".join(told.line for told in ended))
    finds = [told for told in ended if told.find]
    if not finds:
        shutil.rmtree(folder, ignore_errors=True)
    else:
        print(f"inputs and last words of {', '.join(told.name for told in finds)} are in {folder}")
    return 1 if finds else 0


if __name__ == "__main__":
    sys.exit(main())
