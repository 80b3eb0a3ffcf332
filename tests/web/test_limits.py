# SPDX-License-Identifier: BSD-3-Clause
"""No body, message or number of sockets without bounds, and the browser's protections on every answer."""

import asyncio
import struct
from contextlib import ExitStack

import pytest
from websockets.exceptions import ConnectionClosed, InvalidStatus

from ringwright.web.limits import LARGEST_BODY, SECURITY_HEADERS, BodyLimit
from ringwright.web.live import MOST_SOCKETS
from ringwright.web.serve import LARGEST_MESSAGE
from tests.web.running import SOON, Running, ask, hear, until


async def echo(scope, receive, send):
    message = await receive()
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": message["body"]})


def through(limit, *messages, then_silent=False):
    """Status and body of the answer to a request whose body comes in these messages."""
    sent = []
    waiting = list(messages)

    async def receive():
        if not waiting and then_silent:
            await asyncio.sleep(SOON)
        return waiting.pop(0)

    async def send(message):
        sent.append(message)

    asyncio.run(limit({"type": "http", "method": "PUT"}, receive, send))
    return sent[0]["status"], sent[1]["body"]


def part(body, *, more):
    return {"type": "http.request", "body": body, "more_body": more}


def test_a_body_within_the_limit_reaches_the_app_whole():
    limit = BodyLimit(echo, largest=6)
    assert through(limit, part(b"abc", more=True), part(b"def", more=False)) == (200, b"abcdef")


def test_a_body_over_the_limit_is_refused_as_soon_as_it_is_known():
    limit = BodyLimit(echo, largest=6)
    assert through(limit, part(b"abcd", more=True), part(b"efg", more=True))[0] == 413  # nothing more is read


def test_a_body_that_does_not_come_is_given_up():
    limit = BodyLimit(echo, seconds=0.05)
    assert through(limit, part(b"abc", more=True), then_silent=True)[0] == 408


@pytest.mark.parametrize("chunked", [False, True])
def test_a_large_body_is_refused_by_the_server(shared, chunked):
    body = b" " * (LARGEST_BODY + 1)
    with shared.client() as client:
        answer = client.put("/api/v1/designs/x", content=iter([body[:-9], body[-9:]]) if chunked else body)
    assert answer.status_code == 413
    assert answer.json()["code"] == "refused"


def test_a_large_message_closes_its_socket_and_no_other(shared):
    with shared.socket() as other, shared.socket() as socket:
        hear(socket, "hello")
        # Its frame's beginning alone, which states the length (RFC 6455 sec. 5.2): with the rest underway, the server's
        # reset may overtake its close frame.
        beginning = struct.pack(">BBQ4s", 0x81, 0xFF, LARGEST_MESSAGE + 1, bytes(4))
        socket.socket.sendall(beginning)
        with pytest.raises(ConnectionClosed) as closed:
            socket.recv(timeout=SOON)
        assert closed.value.rcvd is not None
        assert closed.value.rcvd.code == 1009  # RFC 6455 sec. 7.4.1: message too big
        hear(other, "hello")
        ask(other, 1, edits={"ring.perimeter": "x"})
        assert hear(other, "problem")["seq"] == 1


def is_admitted(server: Running) -> bool:
    try:
        with server.socket() as socket:
            hear(socket, "hello")
    except InvalidStatus:
        return False
    return True


def test_only_so_many_sockets_are_served_and_a_closed_one_makes_room(server):
    with ExitStack() as stack:
        sockets = [stack.enter_context(server.socket()) for _ in range(MOST_SOCKETS)]
        for socket in sockets:
            hear(socket, "hello")
        with pytest.raises(InvalidStatus) as refused:
            server.socket()
        assert refused.value.response.status_code == 503
        sockets[0].close()
        until(lambda: is_admitted(server))  # once the server, too, has done with it


@pytest.mark.parametrize(
    "path", ["/", "/api/v1/health", "/api/v1/designs/missing", "/nowhere", "/api/v1/openapi.json"]
)
def test_every_answer_carries_the_browsers_protections(shared, path):
    with shared.client() as client:
        for headers in ({}, {"Host": "evil.example"}):
            answer = client.get(path, headers=headers)
            for name, value in SECURITY_HEADERS.items():
                assert answer.headers[name] == value


def test_the_policy_allows_no_inline_code_and_no_other_machine():
    policy = dict(
        part.strip().split(" ", 1) for part in SECURITY_HEADERS["Content-Security-Policy"].split(";")
    )
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == policy["form-action"] == "'none'"
    assert not any(word in SECURITY_HEADERS["Content-Security-Policy"] for word in ("unsafe", "http", "*"))


def test_answers_of_the_api_are_not_kept_by_anyone(shared):
    with shared.client() as client:
        assert client.get("/api/v1/designs").headers["cache-control"] == "no-store"
