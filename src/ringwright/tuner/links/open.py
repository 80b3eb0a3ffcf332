# SPDX-License-Identifier: BSD-3-Clause
"""A link opened for good: the far end has said that it is a board of ours."""

import threading
import time
from collections.abc import Callable

from ringwright.errors import LinkError, LinkMessageError, LinkVersionError
from ringwright.tuner.device import Link
from ringwright.tuner.links.address import Access, SerialAddress
from ringwright.tuner.links.mqtt_link import MqttLink
from ringwright.tuner.links.serial_link import SerialLink
from ringwright.tuner.messages import Hello, HostLine, Status
from ringwright.tuner.messages_text import host_text, parse_board_line

OPEN_PATIENCE = 5.0
"""Seconds in which a link must be open: a broker may be some way off."""
HELLO_PATIENCE = 4.0
"""Seconds in which a board must answer: one that starts anew when its port is opened needs two or three."""
HELLO_EVERY = 0.5


def open_link(access: Access) -> Link:
    """The link to an address; it opens by itself, soon or when it can."""
    if isinstance(access.address, SerialAddress):
        return SerialLink(access.address.port)
    return MqttLink(access.address, password=access.password)


def met_link(access: Access, *, wall_milliseconds: Callable[[], int]) -> Link:
    """The link to an address where a board has answered; raises LinkError."""
    link = open_link(access)
    try:
        meet(link, name=str(access.address), wall_milliseconds=wall_milliseconds)
    except LinkError:
        link.close()
        raise
    return link


def meet(
    link: Link, *, name: str, wall_milliseconds: Callable[[], int], patience: float = HELLO_PATIENCE
) -> Status:
    """Wait until the link is open and a board answers; its first status.

    Raises
    ------
    LinkError
        If the link does not open, nothing answers, or what answers is no board of ours. The link stays as it is.
    """
    news = threading.Event()
    link.notify(news.set)
    _wait_until_open(link, news)
    heard, wrong_version = 0, ""
    end = time.monotonic() + patience
    said_at = float("-inf")
    while (now := time.monotonic()) < end:
        if now - said_at >= HELLO_EVERY:
            said_at = now
            link.send(host_text(HostLine(wall_milliseconds(), Hello())))
        news.wait(0.05)
        news.clear()
        for line in link.received():
            heard += 1
            try:
                said = parse_board_line(line)
            except LinkVersionError as exc:
                wrong_version = str(exc)
                continue
            except LinkMessageError:
                continue
            if isinstance(said, Status):
                return said
    raise LinkError(_why_no_board(name, heard=heard, wrong_version=wrong_version))


def _wait_until_open(link: Link, news: threading.Event) -> None:
    end = time.monotonic() + OPEN_PATIENCE
    while not link.is_open:
        news.wait(0.05)
        news.clear()
        if time.monotonic() >= end:
            link.reopen()  # says why not


def _why_no_board(name: str, *, heard: int, wrong_version: str) -> str:
    if wrong_version:
        return f"{name}: {wrong_version}"
    if heard:
        return f"{name} speaks, but is no board of this program; look which device is there"
    return (
        f"{name} is open, but nothing answers; look at the board's supply, and whether its firmware is on it"
    )
