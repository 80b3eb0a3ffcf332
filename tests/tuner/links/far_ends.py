# SPDX-License-Identifier: BSD-3-Clause
"""What a link leads to in tests: a pseudo-terminal, a broker of Debian's, and boards that speak there."""

import contextlib
import os
import pty
import pwd
import secrets
import select
import shutil
import signal
import socket
import subprocess
import threading
import time
import tty
from collections.abc import Callable
from pathlib import Path
from typing import Any

from paho.mqtt.client import Client, MQTTv311
from paho.mqtt.enums import CallbackAPIVersion

from ringwright.tuner.line_check import sealed
from ringwright.tuner.links.lines import LineCutter
from ringwright.tuner.links.mqtt_link import _send_at_once
from ringwright.tuner.twin.world import World
from tests.conftest import SEARCH_PATH

SOON = 30.0
"""Seconds: a bound against hanging on a busy machine, not a wait."""
USER, PASSWORD = "drive", secrets.token_hex(8)


def until(is_so: Callable[[], object]) -> None:
    """Wait for something that another thread or process brings about."""
    end = time.monotonic() + SOON
    while not is_so():
        assert time.monotonic() < end, "it did not happen"
        time.sleep(0.002)


def gather(found: list[Any], more: list[Any]) -> list[Any]:
    """All that was found, with what has come since."""
    found.extend(more)
    return found


class Terminal:
    """A pseudo-terminal: `port` is what a program opens; bytes go in and out here, as at a board's end."""

    def __init__(self) -> None:
        self.master, slave = pty.openpty()
        os.set_blocking(self.master, False)  # what nobody reads is lost, and holds nothing up
        tty.setraw(slave)
        self.port = os.ttyname(slave)
        self._slave = slave

    def unplug(self) -> None:
        """The board's end goes away."""
        for end in (self.master, self._slave):
            with contextlib.suppress(OSError):
                os.close(end)

    def write(self, data: bytes) -> None:
        with contextlib.suppress(OSError):
            os.write(self.master, data)

    def read(self) -> bytes:
        """What came, waiting a little for it; nothing where the terminal is gone."""
        try:
            ready, _, _ = select.select([self.master], [], [], 0.01)
            return os.read(self.master, 4096) if ready else b""
        except (OSError, ValueError):
            return b""


class Broker:
    """Debian's mosquitto on a free port of this machine, with a password; may be killed and started again."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        passwords, settings = folder / "passwords", folder / "mosquitto.conf"
        passwords.touch(mode=0o600)
        maker = shutil.which("mosquitto_passwd", path=SEARCH_PATH)
        assert maker is not None
        subprocess.run([maker, "-b", passwords, USER, PASSWORD], check=True, capture_output=True)
        settings.write_text(
            f"listener {self.port} 127.0.0.1\nallow_anonymous false\npassword_file {passwords}\n"
            f"persistence false\nset_tcp_nodelay true\nlog_dest none\nuser {_me()}\n",
            encoding="utf-8",
        )
        self._settings = settings
        self._process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        program = shutil.which("mosquitto", path=SEARCH_PATH)
        assert program is not None
        self._process = subprocess.Popen(
            [program, "-c", self._settings], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        until(self._answers)

    def _answers(self) -> bool:
        with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", self.port), 1.0):
            return True
        return False

    def kill(self) -> None:
        """As a power cut does."""
        if self._process is not None:
            self._process.send_signal(signal.SIGKILL)
            self._process.wait(SOON)
            self._process = None


def _me() -> str:
    return pwd.getpwuid(os.getuid()).pw_name


class BrokerEnd:
    """A board's place at a broker: what `said` carries and `order` brings, `here` and its last will."""

    def __init__(self, port: int, name: str, *, hear: Callable[[str], None]) -> None:
        self._name, self._hear = name, hear
        self._client = Client(CallbackAPIVersion.VERSION2, client_id=f"ringwright-{name}", protocol=MQTTv311)
        self._client.username_pw_set(USER, PASSWORD)
        self._client.will_set(f"ringwright/{name}/here", sealed('{"v":2,"here":false}'), qos=1, retain=True)
        self._client.reconnect_delay_set(0.05, 0.2)  # type: ignore[arg-type]
        self._client.on_socket_open = _send_at_once
        self._client.on_connect, self._client.on_message = self._connected, self._came
        self._client.connect_async("127.0.0.1", port, keepalive=5)
        self._client.loop_start()

    def is_connected(self) -> bool:
        return self._client.is_connected()

    def _connected(self, client, *_):
        client.subscribe(f"ringwright/{self._name}/order")
        client.publish(f"ringwright/{self._name}/here", sealed('{"v":2,"here":true}'), retain=True)

    def _came(self, _client, _data, message):
        self._hear(message.payload.decode("utf-8", "replace"))

    def publish(self, payload: bytes | str, *, what: str = "said", retain: bool = False) -> None:
        told = self._client.publish(
            f"ringwright/{self._name}/{what}", payload, qos=int(retain), retain=retain
        )
        if retain:
            told.wait_for_publish(SOON)

    def leave(self, *, politely: bool = False) -> None:
        """Gone without a word, so that its last will speaks."""
        if not politely:
            link = self._client.socket()
            if link is not None:
                self._client._thread_terminate = True
                with contextlib.suppress(OSError):
                    link.shutdown(socket.SHUT_RDWR)  # type: ignore[attr-defined]
        else:
            self._client.disconnect()
        self._client.loop_stop()


class TwinAtTheFarEnd:
    """The simulated twin of a design in real time, whose board hears and speaks through something real."""

    def __init__(self, world: World, *, say: Callable[[str], None]) -> None:
        self.world, self._say = world, say
        self._lock, self._end = threading.Lock(), threading.Event()
        self._began = time.monotonic()
        world.listener = self._speaks
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()

    def hear(self, line: str) -> None:
        """A line comes to the board."""
        with self._lock:
            self._advance()
            self.world.reaches_board(line)

    def do(self, act: Callable[[World], object]) -> object:
        """Something that nobody tells the board."""
        with self._lock:
            self._advance()
            return act(self.world)

    def stopped_by(self) -> str | None:
        assert self.world.board is not None
        return self.world.board.stopped_by

    def is_moving(self) -> bool:
        board = self.world.board
        return board is not None and board.moving

    def close(self) -> None:
        self._end.set()
        self._thread.join()

    def _run(self) -> None:
        while not self._end.wait(0.004):
            with self._lock:
                self._advance()

    def _advance(self) -> None:
        self.world.run_until(max(time.monotonic() - self._began, self.world.now))

    def _speaks(self, line: str) -> None:
        self._say(line)


class SerialPlace:
    """Where a board on a cable is: a port that keeps its name when the cable is pulled and put in again."""

    def __init__(self, folder: Path) -> None:
        self.port = folder / "board"
        self.hear: Callable[[str], None] = lambda _: None
        self._terminal: Terminal | None = None
        self._cutter, self._end = LineCutter(), threading.Event()
        self.mend()
        self._thread = threading.Thread(target=self._listen, daemon=True)
        self._thread.start()

    def say(self, line: str) -> None:
        self.write(line.encode() + b"\n")

    def write(self, data: bytes) -> None:
        terminal = self._terminal
        if terminal is not None:
            terminal.write(data)

    def cut(self) -> None:
        terminal, self._terminal = self._terminal, None
        self.port.unlink()
        if terminal is not None:
            terminal.unplug()

    def mend(self) -> None:
        terminal = Terminal()
        self.port.symlink_to(terminal.port)
        self._terminal = terminal

    def close(self) -> None:
        self._end.set()
        self._thread.join()
        if self._terminal is not None:
            self.cut()

    def _listen(self) -> None:
        while not self._end.is_set():
            terminal = self._terminal
            if terminal is None:
                self._end.wait(0.01)
                continue
            for line in self._cutter.cut(terminal.read()):
                self.hear(line)
