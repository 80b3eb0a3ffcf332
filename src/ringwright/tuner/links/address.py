# SPDX-License-Identifier: BSD-3-Clause
"""Where a board is: `serial:PORT` or `mqtt://user@host:port/NAME`. A password never stands in an address."""

import re
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from ringwright.errors import LinkError
from ringwright.units import shown

PLAIN_PORT, TLS_PORT = 1883, 8883
"""The two that are registered for MQTT (OASIS MQTT 3.1.1, section 4.2 and IANA)."""
DEFAULT_NAME = "ring"
PASSWORD_VARIABLE = "RINGWRIGHT_LINK_PASSWORD"  # noqa: S105 -- the name of a variable
FORMS = "serial:PORT, as in serial:/dev/ttyACM0, or mqtt://USER@HOST/NAME"
_NAME = re.compile(r"[a-z0-9-]{1,32}")


@dataclass(frozen=True, slots=True)
class SerialAddress:
    """A port of this computer."""

    port: str

    def __str__(self) -> str:
        return f"serial:{self.port}"


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokerAddress:
    """A board that a broker knows by its name."""

    host: str
    port: int
    user: str | None
    name: str
    is_tls: bool

    def __str__(self) -> str:
        user = "" if self.user is None else f"{self.user}@"
        host = f"[{self.host}]" if ":" in self.host else self.host
        return f"mqtt{'s' if self.is_tls else ''}://{user}{host}:{self.port}/{self.name}"


Address = SerialAddress | BrokerAddress


@dataclass(frozen=True, slots=True)
class Access:
    """Where a board is, and what lets one in there; the password is in no text that this becomes."""

    address: Address
    password: str | None = field(default=None, repr=False)


def parse_address(text: str) -> Address:
    """The address in a text; raises LinkError."""
    kind, _, rest = text.partition(":")
    if kind == "serial":
        if not rest or not rest.isprintable():
            raise LinkError("--link serial: needs the name of a port; ringwright tune ports lists them")
        return SerialAddress(rest)
    if kind in {"mqtt", "mqtts"}:
        return _broker(text, is_tls=kind == "mqtts")
    raise LinkError(f"--link {shown(text)} is none of: {FORMS}")


def _broker(text: str, *, is_tls: bool) -> BrokerAddress:
    try:
        parts = urlsplit(text)
        host, port = parts.hostname, parts.port
    except ValueError as exc:
        raise LinkError(f"--link: no address of a broker ({exc}); write mqtt://USER@HOST/NAME") from exc
    if parts.password is not None:
        raise LinkError(
            f"--link: leave the password out of the address; put it into a file (--link-password FILE) or into the "
            f"environment variable {PASSWORD_VARIABLE}"
        )
    name = parts.path.strip("/") or DEFAULT_NAME
    if not host or parts.query or parts.fragment:
        raise LinkError(f"--link {shown(text)} names no broker; write mqtt://USER@HOST/NAME")
    if not _NAME.fullmatch(name):
        raise LinkError(
            f"--link: the board's name {shown(name)} must be 1 to 32 of a to z, 0 to 9 and -, as its settings have it"
        )
    default = TLS_PORT if is_tls else PLAIN_PORT
    return BrokerAddress(host=host, port=port or default, user=parts.username, name=name, is_tls=is_tls)
