# SPDX-License-Identifier: BSD-3-Clause
"""Who may talk to the server: checked on every request and every socket, before anything else sees it.

Any page in the person's browser can send requests to this machine, and later this server moves a motor. Three checks:
*Host* must be a name of this server, or a foreign name that points here would count as ours (DNS rebinding); *Origin*,
which browsers send with every socket and every request that can change something, must be this server itself; and
whoever comes from another machine must hold the *token*.

The gate is a plain ASGI layer, since the framework's own layers never see a WebSocket.
"""

import html
import ipaddress
import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qsl, quote, urlencode

from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

LOOPBACK_NAMES = frozenset({"localhost", "127.0.0.1", "::1"})
_HOST = re.compile(
    r"(?:\[(?P<v6>[0-9a-f:.]+)\]|(?P<name>[a-z0-9](?:[a-z0-9.-]*[a-z0-9])?))(?::\d{1,5})?", re.ASCII
)
_HTTP = {"http": "http", "https": "https", "ws": "http", "wss": "https"}
_WELCOME = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Ringwright</title>
<meta http-equiv="refresh" content="0;url={address}"><p><a href="{address}">Open the pages</a></p></html>"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Admission:
    """Names this server answers to, whether any numeric address is one too, and the token that visitors need.

    A numeric address cannot be rebound: no name was looked up to reach it. `token` None: this machine only.
    """

    names: frozenset[str] = LOOPBACK_NAMES
    any_address: bool = False
    token: str | None = None
    cookie: str = "ringwright"

    def is_own_name(self, host: str) -> bool:
        """Whether a Host header names this server, whatever the port (it may be forwarded)."""
        match = _HOST.fullmatch(host.lower())
        if match is None:
            return False
        name = match["v6"] or match["name"]
        return name in self.names or (self.any_address and _is_address(name))

    def is_token(self, offered: str) -> bool:
        """Compared in a time that tells nothing about how much of it is right."""
        return self.token is not None and secrets.compare_digest(offered.encode(), self.token.encode())


@dataclass(frozen=True, slots=True)
class Refusal:
    status: int
    text: str


class Gate:
    """ASGI layer that lets in whom `Admission` admits."""

    def __init__(self, app: ASGIApp, admission: Admission) -> None:
        self._app, self._admission = app, admission

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] not in {"http", "websocket"}:
            await self._app(scope, receive, send)
            return
        answer = self._stop(scope)
        if answer is None:
            await self._app(scope, receive, send)
        elif scope["type"] == "http":
            await answer(scope, receive, send)
        else:
            await receive()  # the handshake, which is answered here
            if "websocket.http.response" in scope.get("extensions", {}):
                await answer(scope, receive, send)
            else:
                await send({"type": "websocket.close", "code": 1008})

    def _stop(self, scope: Scope) -> Response | None:
        """What to answer instead of the app, if anything."""
        headers = _headers(scope)
        refusal = self._refuse(scope, headers)
        if refusal is not None:
            return _refused(refusal)
        if self._admission.token is None or self._holds_token(headers):
            return None
        query = parse_qsl(scope["query_string"].decode("latin-1"), keep_blank_values=True)
        offered = [value for name, value in query if name == "token"]
        if (
            scope["type"] == "http"
            and scope["method"] == "GET"
            and any(map(self._admission.is_token, offered))
        ):
            return self._welcome(scope, [(name, value) for name, value in query if name != "token"])
        return _refused(
            Refusal(401, "This server needs its token: open the address it printed, or scan its code.")
        )

    def _refuse(self, scope: Scope, headers: Mapping[str, list[str]]) -> Refusal | None:
        hosts, origins = headers.get("host", []), headers.get("origin", [])
        if len(hosts) != 1 or not self._admission.is_own_name(hosts[0]):
            return Refusal(403, "This server does not go by that name; use the address it printed.")
        own = f"{_HTTP[scope['scheme']]}://{hosts[0]}".lower()
        if any(origin.lower() != own for origin in origins):
            return Refusal(403, "Pages of another origin may not use this server.")
        if scope["type"] == "websocket" and len(origins) != 1:
            return Refusal(
                403, "A socket must state its origin; a script sends the server's own address as Origin."
            )
        return None

    def _holds_token(self, headers: Mapping[str, list[str]]) -> bool:
        bearer = [value[7:] for value in headers.get("authorization", []) if value[:7].lower() == "bearer "]
        return any(map(self._admission.is_token, (*bearer, *self._cookies(headers))))

    def _cookies(self, headers: Mapping[str, list[str]]) -> list[str]:
        found = []
        for text in headers.get("cookie", []):
            try:
                morsel = SimpleCookie(text).get(self._admission.cookie)
            except CookieError:
                continue
            if morsel is not None:
                found.append(morsel.value)
        return found

    def _welcome(self, scope: Scope, query: list[tuple[str, str]]) -> Response:
        """Hand over the cookie, and go on to the same address without the token.

        By a page, not a redirect: a redirect would belong to whoever sent the visitor here, and browsers then keep
        a SameSite=Strict cookie back.
        """
        address = "/" + quote(scope["path"].lstrip("/")) + (f"?{urlencode(query)}" if query else "")
        response = HTMLResponse(_WELCOME.format(address=html.escape(address)))
        response.headers["Content-Security-Policy"] = "default-src 'none'"
        response.headers["Cache-Control"] = "no-store"
        response.headers["Referrer-Policy"] = "no-referrer"
        response.set_cookie(
            self._admission.cookie,
            self._admission.token or "",
            httponly=True,
            samesite="strict",
            secure=scope["scheme"] == "https",
        )
        return response


def _headers(scope: Scope) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for name, value in scope["headers"]:
        found.setdefault(name.decode("latin-1").lower(), []).append(value.decode("latin-1"))
    return found


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True


def _refused(refusal: Refusal) -> Response:
    body = {"code": "refused", "key": None, "text": refusal.text}
    return JSONResponse(body, status_code=refusal.status, headers={"Cache-Control": "no-store"})
