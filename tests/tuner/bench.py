# SPDX-License-Identifier: BSD-3-Clause
"""The firmware under MicroPython's unix port as a board at the far end of a pseudo-terminal.

`with BenchBoard(tmp_path) as bench`; its `port` is what a serial link opens. Between the program's pipes and the
terminal stands a relay, so that a test can pull the cable, meddle with the octets, or reach in by hand.
"""

import contextlib
import json
import os
import queue
import select
import shutil
import subprocess
import sys
import threading
import tty
from collections.abc import Callable
from pathlib import Path
from typing import Any, Self

from ringwright.tuner.firmware_files import write_bench

Meddling = Callable[[bytes], bytes]

MICROPYTHON = Path(sys.executable).with_name("micropython")


class BenchBoard:
    """One board; `facts` as in `bench_board.FACTS`. `start` after `kill` is a supply that came back."""

    def __init__(self, folder: str | Path, **facts: object) -> None:
        self.folder = Path(folder)
        self.facts: dict[str, Any] = {"folder": str(self.folder / "flash")} | facts
        self._program = write_bench(self.folder)
        self._master, self._slave = os.openpty()
        tty.setraw(self._slave)
        os.set_blocking(self._master, False)  # what nobody reads is lost, and holds nothing up
        self.port = os.ttyname(self._slave)
        self.is_pulled = False
        self.to_board: Meddling = lambda octets: octets  # what becomes of octets on their way
        self.to_host: Meddling = lambda octets: octets
        self._truths: queue.SimpleQueue[dict[str, Any]] = queue.SimpleQueue()
        self.process: subprocess.Popen[bytes] | None = None
        self._is_open = True
        threading.Thread(target=self._down, daemon=True).start()

    def start(self) -> Self:
        """Switch the supply on."""
        facts = self.folder / "facts.json"
        facts.write_text(json.dumps(self.facts), encoding="utf-8")
        program = shutil.which("micropython") or str(MICROPYTHON)
        self.process = subprocess.Popen(
            [program, str(self._program), str(facts)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            bufsize=0,
        )
        threading.Thread(target=self._up, args=(self.process,), daemon=True).start()
        return self

    def kill(self) -> None:
        """Cut the supply at once."""
        if self.process is not None:
            self.process.kill()
            self.process.wait()
            _input(self.process).close()
            self.process = None

    def close(self) -> None:
        self.kill()
        self._is_open = False
        for end in (self._slave, self._master):
            with contextlib.suppress(OSError):
                os.close(end)

    def __enter__(self) -> Self:
        return self.start() if self.process is None else self

    def __exit__(self, *_: object) -> None:
        self.close()

    def by_hand(self, words: str) -> None:
        """A word of the experimenter's, as `bench_board` lists them."""
        assert self.process is not None
        _input(self.process).write(f"\n~{words}\n".encode())

    def carrier(self, watts: float) -> None:
        self.by_hand(f"carrier {watts}")

    def truth(self) -> dict[str, Any]:
        """How things really are."""
        self.by_hand("truth")
        return self._truths.get(timeout=30)

    def _down(self):
        """From the host to the board."""
        while self._is_open:
            select.select([self._master], [], [], 0.1)
            try:
                octets = os.read(self._master, 4096)
            except BlockingIOError:
                continue
            except OSError:
                return
            process = self.process
            if not self.is_pulled and process is not None:
                with contextlib.suppress(OSError, ValueError):
                    _input(process).write(self.to_board(octets))

    def _up(self, process):
        """From the board to the host, line by line; what the hand asked for goes to the hand."""
        for line in process.stdout:
            if line.startswith(b"~"):
                self._truths.put(json.loads(line[1:]))
            elif not self.is_pulled and self._is_open:
                with contextlib.suppress(OSError):
                    os.write(self._master, self.to_host(line))
        process.stdout.close()


def _input(process):
    assert process.stdin is not None
    return process.stdin
