# SPDX-License-Identifier: BSD-3-Clause
"""The built client: a few files, read once and served from memory, so that no address can lead out of them.

Content types are stated here, since a system's own table may be wrong (on Windows a program can make `.js` plain
text, and a browser that may not sniff then refuses the script).
"""

import gzip
import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

PAGES = ("brief", "ring", "site", "build", "prove", "tune", "air", "record")
"""Addresses that the client answers itself; the server sends it the same page for each."""

CONTENT_TYPES: Mapping[str, str] = {
    "html": "text/html; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "css": "text/css; charset=utf-8",
    "json": "application/json",
    "webmanifest": "application/manifest+json",
    "svg": "image/svg+xml",
    "png": "image/png",
    "ico": "image/vnd.microsoft.icon",
    "woff2": "font/woff2",
    "txt": "text/plain; charset=utf-8",
}
_PACKED = {"html", "js", "css", "json", "webmanifest", "svg", "txt"}
_FOREVER = "public, max-age=31536000, immutable"  # names below assets/ hold a hash of the content
_ASK_FIRST = "no-cache"


@dataclass(frozen=True, slots=True)
class Asset:
    """One file as it is sent: plain, and packed if that is smaller."""

    content: bytes
    packed: bytes | None
    content_type: str
    etag: str
    cache_control: str


def built_client() -> dict[str, Asset]:
    """The client's files by their path below the root."""
    root = files("ringwright.web") / "static"
    return dict(_assets(root, "")) if root.is_dir() else {}


def page_response(assets: Mapping[str, Asset], path: str, request: Request) -> Response:
    """A file of the client, its page for a page's address, or not found."""
    asset = assets.get("index.html" if path in {"", *PAGES} else path)
    if asset is None:
        missing = (
            "There is no such page." if assets else "The pages are not built; docs/how-to/phone.md says how."
        )
        return PlainTextResponse(missing, status_code=404)
    headers = {
        "ETag": asset.etag,
        "Cache-Control": asset.cache_control,
        "Vary": "Accept-Encoding",
        "Content-Type": asset.content_type,
    }
    if asset.etag in request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    accepted = {
        part.partition(";")[0].strip() for part in request.headers.get("accept-encoding", "").split(",")
    }
    if asset.packed is not None and "gzip" in accepted:
        return Response(asset.packed, headers=headers | {"Content-Encoding": "gzip"})
    return Response(asset.content, headers=headers)


def _assets(folder: Traversable, prefix: str) -> Iterator[tuple[str, Asset]]:
    for entry in folder.iterdir():
        if entry.is_dir():
            yield from _assets(entry, f"{prefix}{entry.name}/")
        elif (kind := entry.name.rpartition(".")[2]) in CONTENT_TYPES:
            content = entry.read_bytes()
            packed = gzip.compress(content, mtime=0) if kind in _PACKED else None
            yield (
                f"{prefix}{entry.name}",
                Asset(
                    content=content,
                    packed=packed if packed is not None and len(packed) < len(content) else None,
                    content_type=CONTENT_TYPES[kind],
                    etag=f'"{hashlib.sha256(content).hexdigest()[:32]}"',
                    cache_control=_FOREVER if prefix.startswith("assets/") else _ASK_FIRST,
                ),
            )
