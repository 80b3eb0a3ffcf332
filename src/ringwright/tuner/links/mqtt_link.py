# SPDX-License-Identifier: BSD-3-Clause
"""A board reached through a message broker. The library's own thread carries; see docs/reference/link.md for topics."""

import contextlib
import json
import secrets
import socket
from collections.abc import Callable
from typing import Any

from paho.mqtt.client import Client, ConnectFlags, DisconnectFlags, MQTTMessage, MQTTv311
from paho.mqtt.enums import CallbackAPIVersion
from paho.mqtt.properties import Properties
from paho.mqtt.reasoncodes import ReasonCode

from ringwright.errors import LinkError
from ringwright.tuner.line_check import is_whole
from ringwright.tuner.links.address import BrokerAddress
from ringwright.tuner.links.backoff import FIRST, MOST
from ringwright.tuner.links.lines import Inbox, LineCutter

KEEP_ALIVE = 5
"""Seconds; a broker gives up a silent program after one and a half of it."""


class MqttLink:
    """Open while the broker is there, the board is there, and no other program drives it.

    Orders go with quality of service 0 and are never retained: an order that comes late must not come at all.
    """

    def __init__(self, address: BrokerAddress, *, password: str | None = None) -> None:
        self.address, self._inbox = address, Inbox()
        self._me = secrets.token_hex(4)
        self._is_connected = self._is_leaving = False
        self._is_here: bool | None = None
        self._holder: str | None = None
        self._fault = f"no word yet from the broker at {address.host}:{address.port}"
        self._client = self._prepared(password)
        self._client.connect_async(address.host, address.port, keepalive=KEEP_ALIVE)
        self._client.loop_start()

    def _prepared(self, password: str | None) -> Client:
        client = Client(
            CallbackAPIVersion.VERSION2, client_id=f"ringwright-program-{self._me}", protocol=MQTTv311
        )
        client.reconnect_delay_set(FIRST, MOST)  # type: ignore[arg-type]  # it only adds and compares them
        client.will_set(self._topic("host"), b"", qos=1, retain=True)
        if self.address.user is not None:
            client.username_pw_set(self.address.user, password)
        if self.address.is_tls:
            client.tls_set()
        client.on_socket_open = _send_at_once
        client.on_connect, client.on_disconnect = self._connected, self._disconnected
        client.on_connect_fail, client.on_message = self._not_connected, self._came
        return client

    @property
    def is_open(self) -> bool:
        """Whether an order would reach the board."""
        return self._is_connected and bool(self._is_here) and self._holder == self._me

    def send(self, line: str) -> None:
        """Publish an order, if it would reach the board now."""
        if self.is_open:
            self._client.publish(self._topic("order"), line.encode(), qos=0)

    def received(self) -> list[str]:
        """Lines that came since the last call."""
        return self._inbox.take()

    def reopen(self) -> None:
        """Says what is missing; the library's thread tries by itself."""
        if not self.is_open:
            raise LinkError(self._why())

    def notify(self, call: Callable[[], None]) -> None:
        """Call this when something is to be seen."""
        self._inbox.notify(call)

    def close(self) -> None:
        """Leave the board to others, after what waits was sent."""
        self._is_leaving = True
        if self._is_connected and self._holder == self._me:
            with contextlib.suppress(ValueError, RuntimeError):
                self._client.publish(self._topic("host"), b"", qos=1, retain=True).wait_for_publish(1.0)
        self._client.disconnect()
        self._client.loop_stop()
        self._is_connected = False

    def _topic(self, what: str) -> str:
        return f"ringwright/{self.address.name}/{what}"

    def _why(self) -> str:
        if not self._is_connected:
            return self._fault
        if self._is_here is None:
            return (
                f"no board {self.address.name} has been at the broker yet; look at its name and its network"
            )
        if not self._is_here:
            return (
                f"the board {self.address.name} is not at the broker now: switched off, or out of its network"
            )
        return f"another program drives {self.address.name}; end that one"

    # In the library's thread.

    def _connected(
        self, client: Client, _data: Any, _flags: ConnectFlags, code: ReasonCode, _more: Properties | None
    ) -> None:
        where = f"the broker at {self.address.host}:{self.address.port}"
        if code.is_failure:
            who = "anybody without a user" if self.address.user is None else f"user {self.address.user}"
            self._fault = f"{where} does not let in {who} ({code}); look at name and password"
            return
        self._is_connected, self._is_here, self._holder = True, None, None
        client.subscribe([(self._topic(what), 0) for what in ("host", "here", "said")])
        # It comes back after whatever the broker has retained: then it is known whether somebody else drives.
        client.publish(self._topic("host"), f"?{self._me}", qos=0)
        self._inbox.changed()

    def _disconnected(
        self, _client: Client, _data: Any, _flags: DisconnectFlags, code: ReasonCode, _more: Properties | None
    ) -> None:
        if self._is_connected:
            self._fault = f"the broker at {self.address.host}:{self.address.port} is gone ({code})"
        self._is_connected = False
        self._inbox.changed()

    def _not_connected(self, _client: Client, _data: Any) -> None:
        self._fault = f"nobody answers at {self.address.host}:{self.address.port}; is the broker running?"

    def _came(self, client: Client, _data: Any, message: MQTTMessage) -> None:
        what = message.topic.rpartition("/")[2]
        if what == "said" and not message.retain:
            self._inbox.put(LineCutter().cut(bytes(message.payload) + b"\n"))
        elif what == "here":
            self._is_here = _is_here(bytes(message.payload))
            self._inbox.changed()
        elif what == "host":
            self._hear_host(client, message.payload.decode("utf-8", "replace"))

    def _hear_host(self, client: Client, said: str) -> None:
        """Who drives is who said so last; where nobody does, this program says that it does."""
        if said.startswith("?"):
            if said[1:] != self._me or self._holder is not None:
                return
        else:
            self._holder = said or None
        if self._holder is None and not self._is_leaving:
            client.publish(self._topic("host"), self._me, qos=1, retain=True)
        self._inbox.changed()


def _send_at_once(_client: Client, _data: Any, link: Any) -> None:
    """Without this an order waits some 40 ms for company (Nagle's algorithm, RFC 896)."""
    link.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)


def _is_here(payload: bytes) -> bool:
    """Whether the board says that it is there; what is none of its lines says nothing good."""
    try:
        text = payload.decode()
        return is_whole(text) and json.loads(text).get("here") is True
    except (ValueError, AttributeError, RecursionError):
        return False
