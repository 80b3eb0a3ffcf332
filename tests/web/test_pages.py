# SPDX-License-Identifier: BSD-3-Clause
"""The client's files, as they are built: right type, right caching, and no way out of their folder."""

import gzip
import socket as sockets

import pytest
from starlette.requests import Request

from ringwright.web.pages import CONTENT_TYPES, PAGES, Asset, built_client, page_response

PAGE = b"<!doctype html><title>x</title>" * 20


def asset(content=b"x", *, packed=None, kind="js", cache_control="no-cache"):
    return Asset(
        content=content,
        packed=packed,
        content_type=CONTENT_TYPES[kind],
        etag='"tag"',
        cache_control=cache_control,
    )


ASSETS = {"index.html": asset(PAGE, packed=gzip.compress(PAGE), kind="html"), "assets/app-1a.js": asset()}


def get(path, **headers):
    raw = [(name.replace("_", "-").encode(), value.encode()) for name, value in headers.items()]
    return page_response(
        ASSETS, path, Request({"type": "http", "method": "GET", "path": path, "headers": raw})
    )


@pytest.mark.parametrize("path", ["", *PAGES])
def test_every_page_is_the_clients_page(path):
    response = get(path)
    assert response.body == PAGE
    assert response.headers["content-type"] == "text/html; charset=utf-8"


@pytest.mark.parametrize(
    "path", ["nowhere", "ring/x", "assets", "assets/", "index.htm", "assets/../index.html", "../x"]
)
def test_what_is_not_a_file_of_the_client_is_not_found(path):
    assert get(path).status_code == 404


def test_a_known_version_is_not_sent_again():
    assert get("", if_none_match='"tag"').status_code == 304
    assert get("", if_none_match='"other"').status_code == 200


def test_a_packed_file_is_sent_to_who_can_unpack_it():
    response = get("", accept_encoding="br;q=1.0, gzip;q=0.8")
    assert response.headers["content-encoding"] == "gzip"
    assert gzip.decompress(bytes(response.body)) == PAGE
    assert response.headers["vary"] == "Accept-Encoding"
    assert "content-encoding" not in get("", accept_encoding="br").headers


def test_without_a_built_client_the_answer_says_so():
    request = Request({"type": "http", "method": "GET", "path": "", "headers": []})
    response = page_response({}, "", request)
    assert response.status_code == 404
    assert b"not built" in bytes(response.body)


@pytest.mark.parametrize(
    "target",
    [
        "/../pyproject.toml", "/..%2f..%2fpages.py", "/%2e%2e/pages.py", "/assets/..%2f..%2f..%2fpages.py",
        "/..\\..\\pages.py", "/static/../pages.py", "//etc/passwd", "/assets/%00", "/pages.py",
    ],
)  # fmt: skip
def test_no_address_leads_out_of_the_clients_files(shared, target):
    with sockets.create_connection(("127.0.0.1", shared.port)) as line:
        line.sendall(f"GET {target} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n".encode())
        answer = b""
        while received := line.recv(4096):
            answer += received
    assert answer.split(b" ", 2)[1] in {b"404", b"400"}
    assert b"SPDX" not in answer
    assert b"root:" not in answer


def test_built_files_are_typed_packed_and_cached_by_their_names():
    for path, found in built_client().items():
        assert found.content_type == CONTENT_TYPES[path.rpartition(".")[2]]
        assert found.cache_control == (
            "public, max-age=31536000, immutable" if path.startswith("assets/") else "no-cache"
        )
        assert found.packed is None or gzip.decompress(found.packed) == found.content
