# SPDX-License-Identifier: BSD-3-Clause
"""The program's server as it is started: one line when ready, a quiet end, and refusals as sentences."""

import json
import os
import shlex
import signal
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx
import pytest
from websockets.exceptions import ConnectionClosed
from websockets.sync.client import connect
from websockets.typing import Origin

from ringwright.errors import ServerError, WorkspaceError
from ringwright.web.address import TOKEN_VARIABLE, address_of, admission_for, listen
from ringwright.web.serve import Certificate, has_display, serve

SOON = 60.0
TOKEN = "a-token-that-is-long-enough"
PHONE = (Path(__file__).parents[2] / "docs" / "how-to" / "phone.md").read_text(encoding="utf-8")
PROGRAM = """
import json, sys
from pathlib import Path
from ringwright.web.serve import Certificate, serve
options = json.loads(sys.argv[2])
if "cert" in options:
    options["certificate"] = Certificate(cert=Path(options.pop("cert")), key=Path(options.pop("key")))
serve(Path(sys.argv[1]), **options)
"""


@contextmanager
def started(
    folder: Path, environment: dict[str, str] | None = None, **options: object
) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """A server in a process of its own, and the line it printed."""
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, str(folder), json.dumps(options)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONWARNINGS": "error"} | (environment or {}),
    )
    try:
        assert process.stdout is not None
        yield process.stdout.readline().strip(), process
    finally:
        process.kill()
        process.communicate(timeout=SOON)


def fetch(address: str, **fields: Any) -> httpx.Response:
    return httpx.get(address, timeout=SOON, **fields)


def live_address(address: str) -> str:
    return address.split("?", maxsplit=1)[0].replace("http", "ws", 1) + "api/v1/live"


@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM])
@pytest.mark.skipif(sys.platform == "win32", reason="left out: signals are another matter there")
def test_it_prints_one_line_and_ends_quietly_with_a_page_open(tmp_path, stop):
    with started(tmp_path) as (address, process):
        assert address.startswith("http://127.0.0.1:")
        assert fetch(address + "api/v1/health").json()["status"] == "ok"
        with connect(
            live_address(address), origin=Origin(address.rstrip("/")), proxy=None, open_timeout=SOON
        ) as socket:
            socket.recv(timeout=SOON)
            process.send_signal(stop)
            with pytest.raises(ConnectionClosed) as closed:
                socket.recv(timeout=SOON)
            assert closed.value.rcvd is not None
            assert closed.value.rcvd.code == 1012  # IANA WebSocket close codes: service restart
        out, err = process.communicate(timeout=SOON)
    assert (out, err, process.returncode) == ("", "", 0)
    assert list(tmp_path.iterdir()) == []


def test_the_same_port_can_be_taken_again_at_once(tmp_path):
    with started(tmp_path) as (first, _):
        fetch(first)
    port = int(first.rstrip("/").rpartition(":")[2])
    with started(tmp_path, port=port) as (second, _):
        assert second == first


def test_neither_token_nor_request_is_written_down(tmp_path):
    with started(tmp_path, {TOKEN_VARIABLE: TOKEN}, host="0.0.0.0") as (address, process):
        assert address.endswith(f"/?token={TOKEN}")
        local = f"http://127.0.0.1:{address.split('?')[0].rstrip('/').rpartition(':')[2]}"
        assert fetch(local).status_code == 401
        assert fetch(local, params={"token": TOKEN}).status_code == 200
        assert "server" not in fetch(local).headers
        process.send_signal(signal.SIGTERM)
        out, err = process.communicate(timeout=SOON)
    assert (out, err) == ("", "")


def test_every_start_makes_its_own_token():
    tokens = {admission_for("0.0.0.0", 1).token for _ in range(5)}
    assert len(tokens) == 5
    assert all(token is not None and len(token) >= 22 for token in tokens)  # 128 bits in base 64


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "::1", "127.1.2.3"])
def test_this_machine_alone_needs_no_token(host):
    assert admission_for(host, 8000).token is None


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.5", "shack.local"])
def test_whoever_else_may_come_needs_one(host):
    admission = admission_for(host, 8000)
    assert admission.token is not None
    assert admission.is_own_name("shack.local:8000") == (host == "shack.local")


@pytest.mark.parametrize("token", ["short", "", "x" * 15, "ä" * 20, "x\n" * 10])
def test_a_chosen_token_that_is_no_good_is_refused(monkeypatch, token):
    monkeypatch.setenv(TOKEN_VARIABLE, token)
    with pytest.raises(ServerError, match=TOKEN_VARIABLE):
        admission_for("0.0.0.0", 8000)


def test_the_address_names_numeric_addresses_of_both_kinds(monkeypatch):
    monkeypatch.setenv(TOKEN_VARIABLE, "a token & more than that")
    admission = admission_for("fe80::1", 8000)
    address = address_of("fe80::1", 8000, admission, is_secure=True)
    assert address == "https://[fe80::1]:8000/?token=a%20token%20%26%20more%20than%20that"


def test_a_port_that_is_taken_is_a_sentence():
    with listen("127.0.0.1", 0) as taken:
        taken.listen()
        with pytest.raises(ServerError, match=r"port \d+ \(.*in use.*--port"):
            listen("127.0.0.1", taken.getsockname()[1])


@pytest.mark.parametrize(
    ("host", "port"), [("no.such.host.invalid", 0), ("256.1.1.1", 0), ("x" * 300, 0), ("203.0.113.1", 0)]
)
def test_an_address_that_is_not_ours_is_a_sentence(host, port):
    with pytest.raises(ServerError, match="cannot listen"):
        listen(host, port)


def test_a_folder_that_is_not_there_is_a_sentence(tmp_path):
    with pytest.raises(WorkspaceError, match="no such folder"):
        serve(tmp_path / "missing")


def test_a_certificate_that_is_none_is_a_sentence(tmp_path):
    (tmp_path / "no.pem").write_text("nothing")
    for cert in (tmp_path / "no.pem", tmp_path / "missing.pem"):
        with pytest.raises(ServerError, match="no certificate"):
            serve(tmp_path, certificate=Certificate(cert=cert, key=cert))


@pytest.mark.needs("openssl")
def test_with_the_certificate_of_the_how_to_pages_and_socket_are_secure(tmp_path):
    cert, key = tmp_path / "cert.pem", tmp_path / "key.pem"
    command = next(line for line in PHONE.splitlines() if line.startswith("openssl req"))
    subprocess.run(shlex.split(command), cwd=tmp_path, check=True, capture_output=True)
    trust = ssl.create_default_context(cafile=str(cert))
    workspace = tmp_path / "workspace"
    workspace.mkdir()
    options = {"host": "0.0.0.0", "cert": str(cert), "key": str(key)}
    with started(workspace, {TOKEN_VARIABLE: TOKEN}, **options) as (address, _):
        assert address.startswith("https://")
        own = f"https://localhost:{address.split('?')[0].rstrip('/').rpartition(':')[2]}"
        with httpx.Client(verify=trust, base_url=own, timeout=SOON) as client:
            cookie = client.get("/", params={"token": TOKEN}).headers["set-cookie"]
            assert "secure" in {part.strip().lower() for part in cookie.split(";")}
            assert client.get("/api/v1/health").status_code == 200
        headers = {"Authorization": f"Bearer {TOKEN}"}
        live = own.replace("https", "wss") + "/api/v1/live"
        with connect(
            live, origin=Origin(own), additional_headers=headers, ssl=trust, proxy=None, open_timeout=SOON
        ) as socket:
            assert '"hello"' in str(socket.recv(timeout=SOON))


@pytest.mark.skipif(sys.platform == "win32", reason="left out: there are no such terminals there")
def test_a_terminal_shows_the_address_as_a_code(tmp_path):
    import pty

    leader, follower = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, str(tmp_path), json.dumps({"host": "0.0.0.0"})],
        stdout=subprocess.PIPE,
        stderr=follower,
        text=True,
    )
    try:
        os.close(follower)
        assert process.stdout is not None
        assert "?token=" in process.stdout.readline()
        shown, end = b"", time.monotonic() + SOON
        while shown.count(b"\n") < 15 and time.monotonic() < end:
            shown += os.read(leader, 65536)
        assert "█" in shown.decode(errors="ignore") or b"\x1b[7m" in shown
    finally:
        process.kill()
        process.communicate(timeout=SOON)
        os.close(leader)


def test_a_browser_opens_only_where_somebody_would_see_it(monkeypatch):
    for name in ("SSH_CONNECTION", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    assert not has_display()
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    assert has_display()
    monkeypatch.setenv("SSH_CONNECTION", "203.0.113.1 1 203.0.113.2 22")
    assert not has_display()
    monkeypatch.delenv("SSH_CONNECTION")
    monkeypatch.setattr(sys, "platform", "win32")
    assert has_display()
