# SPDX-License-Identifier: BSD-3-Clause
"""A foreign power meter as a witness for the board's own: forward on its first channel, reflected on its second.

`scpi://HOST:PORT` speaks over TCP, `visa:RESOURCE` through the optional library of the extra `instruments`, whatever
wire that knows. What is said is SCPI-1999: `*IDN?`, `UNIT1:POWer W`, `MEASure1:SCALar:POWer:AC?`.
"""

import contextlib
import math
import socket
from collections.abc import Callable
from typing import Protocol
from urllib.parse import urlsplit

from ringwright.errors import LinkError, MissingLibraryError

PORT = 5025
"""Registered with IANA for SCPI over TCP."""
PATIENCE = 3.0
LONGEST_ANSWER = 1000
CHANNELS = (1, 2)


class Reflectometer(Protocol):
    """Gives readings when asked; may wait for them, so ask from a thread that may."""

    name: str

    def read(self) -> tuple[float, float]:
        """Forward and reflected power [W]; raises LinkError."""
        ...

    def close(self) -> None:
        """Give it back."""
        ...


class SimulatedReflectometer:
    """Reads what it is told that there is."""

    name = "simulated"

    def __init__(self, powers: Callable[[], tuple[float, float]]) -> None:
        self._powers = powers

    def read(self) -> tuple[float, float]:
        return self._powers()

    def close(self) -> None:
        pass


class Lines(Protocol):
    """A wire that carries lines of text."""

    def write(self, line: str) -> object: ...

    def query(self, line: str) -> str: ...

    def close(self) -> None: ...


class ScpiReflectometer:
    """Two channels of an instrument that speaks SCPI."""

    def __init__(self, lines: Lines, *, where: str) -> None:
        self._lines, self._where = lines, where
        try:
            self.name = self._lines.query("*IDN?").strip()[:80]
            for channel in CHANNELS:
                self._lines.write(f"UNIT{channel}:POW W")
        except OSError as exc:
            self.close()
            raise LinkError(f"{where}: nothing answers *IDN? there ({exc}); is it an instrument?") from exc

    def read(self) -> tuple[float, float]:
        forward, reflected = (self._power(channel) for channel in CHANNELS)
        return forward, reflected

    def close(self) -> None:
        with contextlib.suppress(OSError):
            self._lines.close()

    def _power(self, channel: int) -> float:
        try:
            answer = self._lines.query(f"MEAS{channel}:POW?").strip()
        except OSError as exc:
            raise LinkError(f"{self._where}: channel {channel} does not answer ({exc})") from exc
        try:
            power = float(answer)
        except ValueError:
            power = math.nan
        if not (math.isfinite(power) and -1.0 <= power <= 1e5):
            raise LinkError(
                f"{self._where}: channel {channel} reads {answer[:40]!r}, which is no power in watts"
            )
        return max(power, 0.0)


class TcpLines:
    """Lines over TCP."""

    def __init__(self, host: str, port: int) -> None:
        self._link = socket.create_connection((host, port), PATIENCE)
        self._link.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._file = self._link.makefile("rb")

    def write(self, line: str) -> None:
        self._link.sendall(line.encode() + b"\n")

    def query(self, line: str) -> str:
        self.write(line)
        answer = self._file.readline(LONGEST_ANSWER)
        if not answer.endswith(b"\n"):
            raise ConnectionError("it hung up" if not answer else "its answer has no end")
        return answer.decode("ascii", "replace")

    def close(self) -> None:
        self._file.close()
        self._link.close()


def open_reflectometer(address: str, *, visa_library: str = "@py") -> Reflectometer:
    """The instrument at an address; raises LinkError, or MissingLibraryError without the extra."""
    kind, _, rest = address.partition(":")
    if kind == "visa" and rest:
        return ScpiReflectometer(_visa(rest, visa_library), where=address)
    if kind != "scpi":
        raise LinkError(f"--meter {address[:60]!r} is neither scpi://HOST:PORT nor visa:RESOURCE")
    try:
        parts = urlsplit(address)
        host, port = parts.hostname, parts.port or PORT
        if not host:
            raise ValueError("no host")
        return ScpiReflectometer(TcpLines(host, port), where=address)
    except (OSError, ValueError) as exc:
        if isinstance(exc, LinkError):
            raise
        raise LinkError(f"{address[:60]}: cannot be reached ({exc}); look at address and network") from exc


def _visa(resource: str, library: str) -> Lines:
    try:
        import pyvisa
    except ImportError as exc:
        raise MissingLibraryError("visa: needs pyvisa; install ringwright[instruments]") from exc
    try:
        lines = pyvisa.ResourceManager(library).open_resource(resource)
    except (OSError, ValueError, pyvisa.errors.Error) as exc:
        raise LinkError(f"visa:{resource} cannot be opened ({exc})") from exc
    return _VisaLines(lines, pyvisa.errors.Error)


class _VisaLines:
    """The library's resource, whose errors become ours."""

    def __init__(self, lines: object, error: type[Exception]) -> None:
        self._lines, self._error = lines, error
        lines.timeout = 1e3 * PATIENCE  # type: ignore[attr-defined]
        lines.read_termination = lines.write_termination = "\n"  # type: ignore[attr-defined]

    def write(self, line: str) -> None:
        try:
            self._lines.write(line)  # type: ignore[attr-defined]
        except self._error as exc:
            raise OSError(str(exc)) from exc

    def query(self, line: str) -> str:
        try:
            return str(self._lines.query(line))  # type: ignore[attr-defined]
        except self._error as exc:
            raise OSError(str(exc)) from exc

    def close(self) -> None:
        self._lines.close()  # type: ignore[attr-defined]
