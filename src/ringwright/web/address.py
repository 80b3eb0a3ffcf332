# SPDX-License-Identifier: BSD-3-Clause
"""Where the server listens, what it is called there, and who is admitted."""

import ipaddress
import os
import secrets
import socket
from urllib.parse import quote

from ringwright.errors import ServerError
from ringwright.web.gate import LOOPBACK_NAMES, Admission

TOKEN_VARIABLE = "RINGWRIGHT_TOKEN"  # noqa: S105 -- the name of a variable
SHORTEST_TOKEN = 16
_EVERYWHERE = {"0.0.0.0", "::", ""}  # noqa: S104 -- compared, not bound


def listen(host: str, port: int) -> socket.socket:
    """A socket bound to `host`; `port` 0 takes any that is free."""
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
        family, kind, _, _, place = found[0]
        listener = socket.socket(family, kind)
        try:
            if os.name == "posix":  # elsewhere this would let two servers share a port
                listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            listener.bind(place)
        except OSError:
            listener.close()
            raise
    except (OSError, OverflowError, UnicodeError) as exc:
        reason = getattr(exc, "strerror", None) or str(exc)
        raise ServerError(
            f"cannot listen at {host} port {port} ({reason}); choose another with --port, or 0 for any"
        ) from exc
    return listener


def admission_for(host: str, port: int) -> Admission:
    """Who may talk to a server bound to `host`: without a token only this machine itself."""
    if _is_loopback(host):
        return Admission(names=LOOPBACK_NAMES | {host.lower()}, cookie=f"ringwright_{port}")
    own = socket.gethostname().lower()
    names = LOOPBACK_NAMES | {own, f"{own}.local", host.lower()}
    return Admission(names=names, any_address=True, token=_token(), cookie=f"ringwright_{port}")


def _token() -> str:
    chosen = os.environ.get(TOKEN_VARIABLE)
    if chosen is None:
        return secrets.token_urlsafe(16)
    if len(chosen) < SHORTEST_TOKEN or not chosen.isascii() or not chosen.isprintable():
        raise ServerError(
            f"{TOKEN_VARIABLE} must be at least {SHORTEST_TOKEN} plain characters; make it longer"
        )
    return chosen


def address_of(host: str, port: int, admission: Admission, *, is_secure: bool) -> str:
    """What to type into a browser; with the token, where one is needed."""
    shown = _outside_address() if host in _EVERYWHERE else host
    name = f"[{shown}]" if ":" in shown else shown
    query = "" if admission.token is None else f"?token={quote(admission.token, safe='')}"
    return f"{'https' if is_secure else 'http'}://{name}:{port}/{query}"


def _outside_address() -> str:
    """The address at which others on the network find this machine. No packet is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # RFC 5737: an address that is nobody's
        except OSError:
            return socket.gethostname()
        return str(probe.getsockname()[0])


def _is_loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host.lower() == "localhost"
