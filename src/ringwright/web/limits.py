# SPDX-License-Identifier: BSD-3-Clause
"""Two plain ASGI layers: no request body without bounds, and no answer without the browser's own protections."""

import asyncio

from starlette.datastructures import MutableHeaders
from starlette.responses import JSONResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_BODY = 4_000_000
"""Bytes: a design file's greatest text twice, written in JSON."""
LARGEST_ARCHIVE = 64_000_000
"""Bytes of an exported record, packed: some thousand long sweeps."""
LARGEST_REPORTS = 250_000_000
"""Bytes of a file of reports: some three million of them."""
LARGER = {"/api/v1/record/archive": LARGEST_ARCHIVE, "/api/v1/air/reports": LARGEST_REPORTS}
BODY_TIME = 20.0
"""Seconds that a body may take to arrive."""

# `connect-src 'self'` covers the socket, too. No inline script or style, nothing from elsewhere, no frame around us.
SECURITY_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
        "connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",  # under "no-referrer" browsers may state the origin of our own pages as null
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}


class SecurityHeaders:
    """Adds the protections to every answer that does not state its own, and `no-store` where caching is not said."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in SECURITY_HEADERS.items():
                    headers.setdefault(name, value)
                headers.setdefault("Cache-Control", "no-store")
            await send(message)

        await self._app(scope, receive, send_with_headers if scope["type"] == "http" else send)


class BodyLimit:
    """Takes a request's body in before the app sees it, and refuses one that is too large or too slow."""

    def __init__(self, app: ASGIApp, largest: int = LARGEST_BODY, seconds: float = BODY_TIME) -> None:
        self._app, self._largest, self._seconds = app, largest, seconds

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        try:
            largest = max(self._largest, LARGER.get(scope.get("path", ""), 0))
            async with asyncio.timeout(self._seconds):
                body = await _take_in(receive, largest)
        except TimeoutError:
            await _refuse(408, "The request's body took too long; send it again.")(scope, receive, send)
            return
        if body is None:
            text = f"The request's body is larger than {largest} bytes; send less."
            await _refuse(413, text)(scope, receive, send)
            return
        waiting: list[Message] = [{"type": "http.request", "body": body, "more_body": False}]

        async def replay() -> Message:
            return waiting.pop() if waiting else await receive()

        await self._app(scope, replay, send)


async def _take_in(receive: Receive, largest: int) -> bytes | None:
    """The whole body; None as soon as it is too large."""
    body = bytearray()
    while True:
        message = await receive()
        if message["type"] == "http.disconnect":
            return bytes(body)
        body += message.get("body", b"")
        if len(body) > largest:
            return None
        if not message.get("more_body", False):
            return bytes(body)


def _refuse(status: int, text: str) -> JSONResponse:
    body = {"code": "refused", "key": None, "text": text}
    return JSONResponse(body, status_code=status, headers={"Connection": "close"})
