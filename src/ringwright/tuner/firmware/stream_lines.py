# SPDX-License-Identifier: BSD-3-Clause
"""Lines over a stream of octets: the serial line of the board, or standard input and output."""

import select

MOST_OCTETS = 1024
"""Kept of a line without an end; what is longer is no line of ours and is dropped up to its end."""
AT_ONCE = 256
"""Octets read in one turn, so that a flood of garbage cannot hold the drive's pulses up."""


class LineCutter:
    """Cuts octets into lines."""

    def __init__(self) -> None:
        self._octets = bytearray()
        self._drops = False

    def cut(self, octets: bytes) -> list[str]:
        """Lines that these octets complete."""
        lines = []
        for octet in octets:
            if octet in (10, 13):
                if self._octets and not self._drops:
                    lines.append(as_text(bytes(self._octets)))
                self._octets = bytearray()
                self._drops = False
            elif len(self._octets) >= MOST_OCTETS:
                self._drops = True
            else:
                self._octets.append(octet)
        return lines


def as_text(octets: bytes) -> str:
    """Octets as UTF-8; what is none is no line of ours, and so is the empty text."""
    try:
        return octets.decode()
    except ValueError:
        return ""


class StreamLines:
    """`source` and `sink`: streams of octets that can be polled. Whatever cannot be written at once is lost."""

    def __init__(self, source, sink, poll) -> None:
        self._source, self._sink = source, sink
        self._cutter = LineCutter()
        self._ready, self._room = select.poll(), select.poll()
        self._ready.register(source, select.POLLIN)
        self._room.register(sink, select.POLLOUT)
        poll.register(source, select.POLLIN)
        self.has_ended = False

    def received(self) -> list[str]:
        """Lines that came."""
        octets = bytearray()
        try:
            while len(octets) < AT_ONCE and self._is_ready():
                octet = self._source.read(1)
                if not octet:
                    self.has_ended = self.has_ended or octet is not None
                    break
                octets.extend(octet)
        except OSError:  # nobody at the other end just now
            pass
        return self._cutter.cut(bytes(octets))

    def _is_ready(self) -> bool:
        for event in self._ready.poll(0):
            if event[1] & select.POLLIN:
                return True
            self.has_ended = self.has_ended or bool(event[1] & select.POLLHUP)
        return False

    def say(self, line: str) -> None:
        """Send one line."""
        try:
            if any(event[1] & select.POLLOUT for event in self._room.poll(0)):
                self._sink.write((line + "\n").encode())
        except OSError:
            pass

    def keep(self, line: str) -> None:
        """A serial line keeps nothing for late-comers."""

    def turn(self, ms: int, *, may_wait: bool) -> None:
        """A serial line needs no care."""
