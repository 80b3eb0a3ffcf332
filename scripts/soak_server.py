# SPDX-License-Identifier: BSD-3-Clause
"""Many people at one server, and what is left when they have gone: `python -m scripts.soak_server [--minutes 5]`.

Twenty pages watch a workspace and drag a ring's diameter, ten look at the drive, one of which tunes and nudges it; all
are closed and opened again all the while, some without a word. The server runs in a process of its own and counts what
it holds: memory, open files, threads, tasks. Ends with 1 if anything that should be gone is there still, or if memory
went on growing after the first third of the time.
"""

import argparse
import asyncio
import ctypes
import gc
import json
import os
import random
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Coroutine, Mapping
from contextlib import suppress
from pathlib import Path

import uvicorn
from websockets.asyncio.client import ClientConnection, connect
from websockets.exceptions import ConnectionClosed, InvalidHandshake
from websockets.typing import Origin

from ringwright.antenna.scenario import FIRST_RING, shipped_text
from ringwright.desk.desk import Desk
from ringwright.records.records import MADE_BY_NEW
from ringwright.web.address import listen
from ringwright.web.app import create_app
from ringwright.web.gate import Admission

WATCHING, AT_THE_DRIVE = 20, 10
MAY_GROW = 24e6
"""Bytes of memory from a third of the time on: caches that are full by then, and what an allocator keeps."""
SOON = 60.0
COUNTS = ("memory_bytes", "open_files", "threads", "tasks", "objects")
Act = Callable[[ClientConnection], Coroutine[None, None, None]]
_QUICK = """format = 1
name = "One band, nothing near"
bands = ["20m"]
[ring]
shape = "circle"
diameter = "0.9 m"
[ring.conductor]
diameter = "15 mm"
[capacitor]
minimum = "10 pF"
maximum = "150 pF"
[coupling]
diameter = "0.18 m"
[site]
earth = "free space"
"""
"""Solved in a tenth of a second: what is looked for comes with the number of answers, not with their size."""


def serve(workspace: Path) -> None:
    """The server's process: says its port, then what it holds for every line that comes."""
    with listen("127.0.0.1", 0) as listener:
        desk = Desk(workspace)
        server = uvicorn.Server(uvicorn.Config(create_app(desk, Admission()), log_level="error"))
        loop = asyncio.new_event_loop()

        def answer() -> None:
            for _ in sys.stdin:
                print(json.dumps(asyncio.run_coroutine_threadsafe(_counted(), loop).result(SOON)), flush=True)
            server.should_exit = True

        print(listener.getsockname()[1], flush=True)
        threading.Thread(target=answer, daemon=True).start()
        loop.run_until_complete(server.serve(sockets=[listener]))


async def _counted() -> dict[str, int]:
    """What this process holds; of the tasks all but this one."""
    gc.collect()
    with suppress(OSError, AttributeError):  # another C library has no such call
        ctypes.CDLL("libc.so.6").malloc_trim(0)  # what is free already is not held
    resident = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * os.sysconf(
        "SC_PAGE_SIZE"
    )
    return {
        "memory_bytes": resident,
        "open_files": len(os.listdir("/proc/self/fd")),  # noqa: PTH208
        "threads": threading.active_count(),
        "tasks": len(asyncio.all_tasks()) - 1,
        "objects": len(gc.get_objects()),
    }


class Crowd:
    """All the pages; `said` counts what the server answered, by type of message."""

    def __init__(self, port: int, seed: int) -> None:
        self.port, self.rng = port, random.Random(seed)  # noqa: S311 -- no secret
        self.said: dict[str, int] = {}
        self.opened = 0
        self.refused = 0

    async def run(self, seconds: float) -> None:
        """Everybody for so long; nobody is left when this returns."""
        end = time.monotonic() + seconds
        pages = [self._stays(end, "live", self._drags) for _ in range(WATCHING)]
        pages += [self._stays(end, "tune", self._looks) for _ in range(AT_THE_DRIVE - 1)]
        await asyncio.gather(*pages, self._stays(end, "tune", self._drives))

    async def _stays(self, end: float, what: str, does: Act) -> None:
        """One place at the server, taken by one page after another until the end."""
        while time.monotonic() < end:
            address = f"localhost:{self.port}"
            try:
                socket = await connect(
                    f"ws://{address}/api/v1/{what}", origin=Origin(f"http://{address}"), max_size=None, proxy=None,
                    open_timeout=SOON, compression=None,
                )  # fmt: skip
            except (InvalidHandshake, OSError):
                self.refused += 1
                await asyncio.sleep(1.0)
                continue
            self.opened += 1
            stay = end - time.monotonic() if does == self._drives else min(
                self.rng.uniform(2.0, 30.0), end - time.monotonic()
            )  # fmt: skip
            hears = asyncio.create_task(self._hears(socket))
            with suppress(TimeoutError, ConnectionClosed):
                await asyncio.wait_for(does(socket), max(stay, 0.1))
            if self.rng.random() < 0.3:
                socket.transport.abort()  # a telephone that lost its network
            await socket.close()
            await hears

    async def _hears(self, socket: ClientConnection) -> None:
        with suppress(ConnectionClosed):
            async for text in socket:
                kind = str(json.loads(text)["type"])
                self.said[kind] = self.said.get(kind, 0) + 1

    async def _drags(self, socket: ClientConnection) -> None:
        number = 0
        while True:
            number += 1
            edits = {"ring.diameter": f"{self.rng.uniform(0.8, 1.0):.3f} m"}
            await _say(socket, "predict", seq=number, base={"text": _QUICK}, edits=edits)
            await asyncio.sleep(self.rng.uniform(0.3, 6.0))

    async def _looks(self, socket: ClientConnection) -> None:
        await _say(socket, "tune_hello", name=f"viewer {self.rng.randrange(1000)}")
        while True:
            await asyncio.sleep(self.rng.uniform(0.5, 5.0))
            await _say(socket, "tune_sign")

    async def _drives(self, socket: ClientConnection) -> None:
        await _say(socket, "tune_hello", name="at the key")
        await _say(socket, "tune_connect", is_example=True)
        await asyncio.sleep(5.0)
        await _say(socket, "tune_take")
        while True:
            frequency = self.rng.choice([5.36e6, 7.05e6, 7.1e6, 10.12e6])
            await _say(socket, "tune_go", how="tune", frequency_hz=frequency)
            for _ in range(20):
                await _say(socket, "tune_sign")
                await asyncio.sleep(1.0)
            await _say(socket, "tune_nudge", change_hz=self.rng.choice([-500.0, 500.0]))
            await _say(socket, "tune_nudge", change_hz=0.0)


async def _say(socket: ClientConnection, kind: str, **fields: object) -> None:
    await socket.send(json.dumps({"type": kind, **fields}))


class Server:
    """The process and what it says."""

    def __init__(self, workspace: Path) -> None:
        command = [sys.executable, "-m", "scripts.soak_server", "--serve", str(workspace)]
        self._process = subprocess.Popen(
            command, cwd=Path(__file__).parents[1], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        assert self._process.stdout is not None
        self.port = int(self._process.stdout.readline())

    def counts(self) -> dict[str, int]:
        """What it holds now."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write("\n")
        self._process.stdin.flush()
        return {str(key): int(value) for key, value in json.loads(self._process.stdout.readline()).items()}

    def end(self) -> None:
        """Ask it to end, which it must."""
        assert self._process.stdin is not None
        self._process.stdin.close()
        self._process.wait(SOON)
        assert self._process.stdout is not None
        self._process.stdout.close()


def soaked(seconds: float, seed: int) -> tuple[dict[str, dict[str, int]], Crowd]:
    """What the server held before, after a third of the time with nobody there, and at the end."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / MADE_BY_NEW).mkdir()
        (Path(folder) / MADE_BY_NEW / FIRST_RING).write_text(shipped_text(FIRST_RING), encoding="utf-8")
        server = Server(Path(folder))
        crowd = Crowd(server.port, seed)
        try:
            held = {"before": server.counts()}
            asyncio.run(crowd.run(seconds / 3.0))
            time.sleep(5.0)
            held["a third"] = server.counts()
            asyncio.run(crowd.run(seconds * 2.0 / 3.0))
            time.sleep(5.0)
            held["at the end"] = server.counts()
        finally:
            server.end()
    return held, crowd


def left(third: Mapping[str, int], last: Mapping[str, int]) -> list[str]:
    """What is there at the end and was not, with nobody there, after a third of the time."""
    found = [
        f"{name}: {last[name]} after {third[name]}"
        for name in ("open_files", "threads", "tasks")
        if last[name] > third[name]
    ]
    if last["memory_bytes"] - third["memory_bytes"] > MAY_GROW:
        found.append(f"memory grew by {(last['memory_bytes'] - third['memory_bytes']) / 1e6:.0f} MB")
    return found


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("--minutes", type=float, default=5.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--serve", type=Path, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.serve is not None:
        serve(asked.serve)
        return 0
    held, crowd = soaked(60.0 * asked.minutes, asked.seed)
    print(f"{'':<14}" + "".join(f"{when:>16}" for when in held))
    for name in COUNTS:
        print(f"{name:<14}" + "".join(f"{counts[name]:>16}" for counts in held.values()))
    print(f"{crowd.opened} pages opened, {crowd.refused} refused; heard {dict(sorted(crowd.said.items()))}")
    found = left(held["a third"], held["at the end"])
    print("\n".join(found) or "nothing was left")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
