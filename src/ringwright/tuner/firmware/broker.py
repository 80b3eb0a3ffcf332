# SPDX-License-Identifier: BSD-3-Clause
"""Lines through a broker: as much of MQTT 3.1.1 (OASIS standard, 2014) as a board needs, never waiting.

A line that the network does not take at once is lost. A connection that breaks is tried again after 1 s, 2 s, 4 s, up
to 30 s, and only while the drive stands, since the first packets may take their time.
"""

import errno
import select
import socket

from ringwright.tuner.firmware.stream_lines import as_text
from ringwright.tuner.line_check import sealed

KEEP_ALIVE_S = 5
_PING_MS, _SILENT_MS, _GREETING_MS = 2000, 5000, 3000
_MOST_WAIT_MS = 30_000
_MOST_OCTETS = 4096
_CONNECT, _CONNACK, _PUBLISH, _SUBSCRIBE, _PING = 0x10, 0x20, 0x30, 0x82, 0xC0


def text_field(text: str) -> bytes:
    """A text as the packets carry it: two octets of length, then UTF-8 (MQTT 3.1.1, 1.5.3)."""
    octets = text.encode()
    return bytes((len(octets) >> 8, len(octets) & 0xFF)) + octets


def packet(kind: int, body: bytes) -> bytes:
    """A packet: its kind, the length of the rest in groups of seven bits, lowest first (2.2.3), the rest."""
    head, left = bytearray((kind,)), len(body)
    while True:
        head.append(left & 0x7F | (0x80 if left > 0x7F else 0))
        left >>= 7
        if left == 0:
            return bytes(head) + body


def first_packet(octets):
    """Kind, body and length of the first packet; None while it is not whole, ValueError if it is none."""
    length, place = 0, 1
    while True:
        if place > 4:
            raise ValueError
        if place >= len(octets):
            return None
        length |= (octets[place] & 0x7F) << (7 * (place - 1))
        place += 1
        if octets[place - 1] < 0x80:
            break
    if length > _MOST_OCTETS:
        raise ValueError
    if len(octets) < place + length:
        return None
    return octets[0], bytes(octets[place : place + length]), place + length


class Broker:
    """`place`: address (a number address, which needs no look-up), port, user, password, name of the board."""

    def __init__(self, place, poll, *, boots: int) -> None:
        self._place, self._poll = place, poll
        self._base = "ringwright/" + place.get("name", "ring") + "/"
        self._boots = boots
        self._socket: socket.socket | None = None
        self._is_here = self._is_greeted = False
        self._in, self._out = bytearray(), bytearray()
        self._lines: list[str] = []
        self._kept: str | None = None
        self._wait_ms, self._try_at = 1000, 0
        self._heard_at = self._pinged_at = self._since = 0

    def turn(self, ms: int, *, may_wait: bool) -> None:
        """Care for the connection."""
        if self._socket is None:
            if may_wait and ms >= self._try_at:
                self._open(ms)
            return
        try:
            self._care(ms)
        except (OSError, ValueError):
            self._close(ms)

    def _open(self, ms: int) -> None:
        place = self._place
        self._try_at = ms + self._wait_ms
        self._wait_ms = min(2 * self._wait_ms, _MOST_WAIT_MS)
        try:
            address = socket.getaddrinfo(place["address"], place["port"])[0][-1]
            self._socket = socket.socket()
            self._socket.setblocking(False)
            _connect(self._socket, address)
        except OSError:
            self._close(ms)
            return
        self._poll.register(self._socket, select.POLLIN)
        self._since = self._heard_at = ms
        self._in, self._out = bytearray(), bytearray(self._greeting())

    def _greeting(self) -> bytes:
        """CONNECT with a clean session, the will retained at quality 1, user and password where there is one (3.1)."""
        place = self._place
        flags, fields = 0x02 | 0x04 | 0x08 | 0x20, text_field("ringwright-" + place.get("name", "ring"))
        fields += text_field(self._base + "here") + text_field(self._here(False))
        if place.get("user"):
            flags |= 0xC0
            fields += text_field(place["user"]) + text_field(place.get("password") or "")
        head = text_field("MQTT") + bytes((4, flags)) + bytes((0, KEEP_ALIVE_S))
        return packet(_CONNECT, head + fields)

    def _here(self, here: bool) -> str:
        return sealed('{"v":2,"here":' + ("true" if here else "false") + ',"boots":' + str(self._boots) + "}")

    def _care(self, ms: int) -> None:
        self._send()
        self._take(ms)
        silent = _SILENT_MS if self._is_here else _GREETING_MS
        if ms >= self._heard_at + silent:
            raise OSError(errno.ETIMEDOUT)
        if self._is_here and ms >= self._pinged_at + _PING_MS:
            self._pinged_at = ms
            self._out.extend(packet(_PING, b""))

    def _send(self) -> None:
        if not self._out or self._socket is None:
            return
        try:
            sent = self._socket.send(self._out)
        except OSError as error:
            if error.errno not in _LATER:
                raise
            return
        self._out = self._out[sent:]

    def _take(self, ms: int) -> None:
        if self._socket is None:
            return
        try:
            octets = self._socket.recv(512)
        except OSError as error:
            if error.errno not in _LATER:
                raise
            return
        if not octets:
            raise OSError(errno.ECONNRESET)
        self._heard_at = ms
        self._in.extend(octets)
        found = first_packet(self._in)
        while found is not None:
            kind, body, length = found
            self._in = self._in[length:]
            self._see(kind, body, ms)
            found = first_packet(self._in)

    def _see(self, kind: int, body: bytes, ms: int) -> None:
        if kind == _CONNACK:
            if len(body) != 2 or body[1] != 0:
                raise OSError(errno.EACCES)
            self._is_here, self._wait_ms, self._pinged_at = True, 1000, ms
            self._out.extend(packet(_SUBSCRIBE, b"\x00\x01" + text_field(self._base + "order") + b"\x00"))
            self._publish("here", self._here(True), retained=True)
            if self._kept is not None:
                self._publish("state", self._kept, retained=True)
        elif kind & 0xF7 == _PUBLISH and not kind & 0x01:  # quality 0, a repeat or not, not retained
            after = 2 + (body[0] << 8 | body[1]) if len(body) > 1 else 2
            line = body[after:]
            if body[2:after] == (self._base + "order").encode():
                self._lines.append(as_text(line))

    def _publish(self, topic: str, line: str, *, retained: bool) -> None:
        if len(self._out) < _MOST_OCTETS:
            body = text_field(self._base + topic) + line.encode()
            self._out.extend(packet(_PUBLISH | (1 if retained else 0), body))

    def received(self) -> list[str]:
        """Orders that came."""
        lines, self._lines = self._lines, []
        return lines

    def say(self, line: str) -> None:
        """Send one line, if it goes at once."""
        if self._is_here:
            self._publish("said", line, retained=False)
            try:
                self._send()
            except OSError:
                self._heard_at = -_SILENT_MS  # closed at the next turn

    def keep(self, line: str) -> None:
        """The state that a late-comer finds."""
        self._kept = line
        if self._is_here:
            self._publish("state", line, retained=True)

    def _close(self, ms: int) -> None:
        if self._socket is not None:
            try:
                self._poll.unregister(self._socket)
            except (OSError, KeyError):
                pass
            self._socket.close()
        self._socket, self._is_here = None, False
        self._try_at = max(self._try_at, ms + 1000)


_LATER = (errno.EAGAIN, errno.EINPROGRESS, getattr(errno, "ENOTCONN", errno.EAGAIN))
_TCP, _TCP_NODELAY = 6, 1


def _connect(sock, address) -> None:
    """Begin to connect; small packets are not to wait for others."""
    try:
        sock.setsockopt(_TCP, _TCP_NODELAY, 1)
    except (OSError, AttributeError):
        pass  # a network without the option sends them as they come
    try:
        sock.connect(address)
    except OSError as error:
        if error.errno != errno.EINPROGRESS:
            raise
