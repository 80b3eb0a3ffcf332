# SPDX-License-Identifier: BSD-3-Clause
"""A serial line to a board: one thread reads, one writes, so that nobody else ever waits for the port."""

import errno
import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass

import serial
from serial.tools import list_ports

from ringwright.errors import LinkError
from ringwright.tuner.links.backoff import Backoff
from ringwright.tuner.links.lines import Inbox, LineCutter

BAUD = 115_200
"""What the firmware speaks on pins; a board's own USB port takes any."""
LOOK = 0.1
"""Seconds in which a reader that hears nothing looks whether it is still wanted."""
WRITE_PATIENCE = 1.0
"""Seconds after which a port that takes nothing counts as broken."""
MOST_WAITING = 20
"""Lines to be written; of more, the oldest are lost, as none of them is worth as much as the newest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPort:
    """A port of this computer and what the system says of it."""

    port: str
    description: str


def found_ports() -> tuple[FoundPort, ...]:
    """The serial ports that something is plugged into, those on USB first."""
    ports = sorted(list_ports.comports(), key=lambda each: (each.vid is None, each.device))
    return tuple(FoundPort(port=each.device, description=each.description or "") for each in ports)


class SerialLink:
    """Opens its port by itself, and again whenever it comes back."""

    def __init__(self, port: str, *, baud: int = BAUD) -> None:
        self.port, self._baud = port, baud
        self._inbox, self._backoff = Inbox(), Backoff()
        self._outbox: deque[bytes] = deque(maxlen=MOST_WAITING)
        self._may_write, self._kick, self._end = threading.Condition(), threading.Event(), threading.Event()
        self._line: serial.Serial | None = None
        self._why = f"{port} is being opened"
        self._threads = tuple(
            threading.Thread(target=part, daemon=True, name=f"ringwright {port}")
            for part in (self._read_all, self._write_all)
        )
        for thread in self._threads:
            thread.start()

    @property
    def is_open(self) -> bool:
        """Whether the port is open."""
        return self._line is not None

    def send(self, line: str) -> None:
        """Hand a line to the writer."""
        if self._line is not None:
            with self._may_write:
                self._outbox.append(line.encode() + b"\n")
                self._may_write.notify_all()

    def received(self) -> list[str]:
        """Lines that came since the last call."""
        return self._inbox.take()

    def reopen(self) -> None:
        """Have the port tried now; what kept it from being opened is the error."""
        if self._line is None:
            self._kick.set()
            raise LinkError(self._why)

    def notify(self, call: Callable[[], None]) -> None:
        """Call this when something is to be seen."""
        self._inbox.notify(call)

    def close(self) -> None:
        """Give the port back, after what waits was written."""
        self._end.set()
        self._kick.set()
        with self._may_write:
            self._may_write.notify_all()
        for thread in self._threads:
            thread.join()

    def _read_all(self) -> None:
        while not self._end.is_set():
            self._kick.clear()
            try:
                with _opened(self.port, self._baud) as line:
                    self._outbox.clear()  # what was said to a board that was not there is old by now
                    self._line = line
                    self._inbox.changed()
                    self._read(line)
            except LinkError as exc:
                self._why = str(exc)
            if self._line is not None:
                self._line = None
                self._inbox.changed()
            if not self._end.is_set():
                self._kick.wait(self._backoff.wait())

    def _read(self, line: serial.Serial) -> None:
        cutter = LineCutter()
        try:
            while not self._end.is_set() and self._line is line:
                data = line.read(max(1, line.in_waiting))
                if data:
                    self._backoff.worked()
                    self._inbox.put(cutter.cut(data))
            self._threads[1].join(WRITE_PATIENCE)  # the last words, a STOP perhaps
        except (OSError, TypeError) as exc:  # TypeError: pyserial's, where another thread has closed the port
            raise LinkError(f"{self.port} is gone: unplugged, or the board was switched off") from exc

    def _write_all(self) -> None:
        while True:
            with self._may_write:
                self._may_write.wait_for(lambda: self._outbox or self._end.is_set())
                if not self._outbox:
                    return
                data = self._outbox.popleft()
            line = self._line
            if line is None:
                continue
            try:
                line.write(data)
            except (OSError, TypeError):  # TypeError: as in the reader, which may close the port meanwhile
                self._why = f"{self.port} takes nothing any more: is the board alive?"
                self._line = None  # the reader sees it, and opens anew


def _opened(port: str, baud: int) -> serial.Serial:
    try:
        return serial.Serial(port, baud, timeout=LOOK, write_timeout=WRITE_PATIENCE, exclusive=True)
    except (OSError, ValueError) as exc:
        raise LinkError(_why_not(port, exc)) from exc


def _why_not(port: str, exc: Exception) -> str:
    """What is the matter with a port that does not open, and what to do."""
    code = getattr(exc, "errno", None)
    if code in {errno.EBUSY, errno.EAGAIN} or "exclusively lock" in str(exc):
        return f"{port} is in use by another program; end that one"
    if code == errno.EACCES or isinstance(exc, PermissionError):
        return f"{port} may not be opened by you; join the group that owns it, often dialout, and log in anew"
    if code in {errno.ENOENT, errno.ENODEV, errno.ENXIO} or "FileNotFound" in str(exc):
        found = ", ".join(each.port for each in found_ports())
        there = f"there are {found}" if found else "nothing is plugged into this computer"
        return f"there is no port {port}; {there}"
    return f"{port} cannot be opened as a serial port ({exc})"
