# SPDX-License-Identifier: BSD-3-Clause
"""What the browser opens: a folder that is served, by a thread of the tests or by the program itself."""

import subprocess
import sys
from pathlib import Path
from urllib.parse import urlsplit

from ringwright.antenna.scenario import shipped_text

SOON = 60.0
"""Seconds: a bound against hanging on a busy machine, not a wait."""
PROGRAM = "from ringwright.cli import main; main()"


def lay(folder: Path, **designs: str) -> None:
    """Put shipped designs into a workspace, each under its name there."""
    (folder / "designs").mkdir(parents=True, exist_ok=True)
    for name, file in designs.items():
        (folder / "designs" / f"{name}.toml").write_text(shipped_text(file), encoding="utf-8")


def put(path: Path, text: str) -> None:
    """Write a file at one stroke, as editors do: nobody who looks meanwhile sees half of it."""
    fresh = path.with_suffix(".fresh")
    fresh.write_text(text, encoding="utf-8")
    fresh.replace(path)


class Serving:
    """A folder and where it is served."""

    def __init__(self, folder: Path, address: str = "") -> None:
        self.folder = folder
        self.address = address

    def file(self, name: str) -> Path:
        return self.folder / "designs" / f"{name}.toml"


class Program(Serving):
    """`ringwright serve` in a process of its own. `address` stays the same over a restart."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self._process: subprocess.Popen[str] | None = None

    def start(self) -> None:
        port = str(urlsplit(self.address).port or 0)
        self._process = subprocess.Popen(
            [sys.executable, "-c", PROGRAM, "serve", str(self.folder), "--port", port],
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self._process.stdout is not None
        told = self._process.stdout.readline().strip().rstrip("/")
        assert told, "the server ended before it said its address; its own words are above"
        self.address = told

    def stop(self) -> None:
        assert self._process is not None
        assert self._process.stdout is not None
        self._process.terminate()
        self._process.wait(timeout=SOON)
        self._process.stdout.close()
