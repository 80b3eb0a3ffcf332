# SPDX-License-Identifier: BSD-3-Clause
"""Who may talk to the server: every attempt of a foreign page, name or visitor is refused, on requests and sockets.

Host and Origin: RFC 9110 sec. 7.2, RFC 6454 sec. 7; cookies: RFC 6265bis.
"""

import socket as sockets
from urllib.parse import urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st
from websockets.exceptions import InvalidStatus

from ringwright.desk.desk import Desk
from ringwright.web.gate import LOOPBACK_NAMES, Admission
from tests.web.running import SOON, running_server

TOKEN = "a-token-that-is-long-enough"
OPEN_TO_NETWORK = Admission(names=LOOPBACK_NAMES | {"shack"}, any_address=True, token=TOKEN, cookie="rw")
FOREIGN_HOSTS = [
    "evil.example", "localhost.evil.example", "evil.example:80", "127.0.0.1.evil.example", "notlocalhost", "localhost.",
    "localhost:8000@evil.example", "localhost/evil.example", "[::1", "::1]", "127.0.0.1:port", "192.168.1.5", "0.0.0.0",
    "[fe80::1]", "127.0.0.1, evil.example", "localhost evil.example", "localhost:123456", "", "[evil.example]",
]  # fmt: skip


def foreign_origins(own):
    host, port = own.removeprefix("http://").split(":")
    return [
        "http://evil.example",
        "null",
        f"https://{host}:{port}",
        f"http://{host}:{int(port) % 65535 + 1}",
        f"http://{host}",
        f"http://127.0.0.1:{port}",  # our own, but not by the name in Host
        f"{own}.evil.example",
        f"{own}@evil.example",
        f"{own}/",
        f"http://evil.example {own}",
        "",
    ]


@pytest.fixture(scope="module")
def guarded(tmp_path_factory):
    with running_server(Desk(tmp_path_factory.mktemp("guarded")), OPEN_TO_NETWORK) as running:
        yield running


@pytest.mark.parametrize("host", FOREIGN_HOSTS)
def test_a_foreign_host_is_refused_on_every_kind_of_address(shared, host):
    with shared.client(Host=host) as client:
        for path in ("/", "/api/v1/designs", "/api/v1/openapi.json", "/no/such/page"):
            assert client.get(path).status_code in {400, 403}  # 400: not even HTTP
    with pytest.raises(InvalidStatus) as refused:
        shared.socket(Host=host)
    assert refused.value.response.status_code in {400, 403}


@pytest.mark.parametrize("name", ["localhost", "127.0.0.1", "[::1]", "LOCALHOST", "LocalHost"])
def test_its_own_names_are_admitted_at_any_port_it_may_be_forwarded_from(shared, name):
    for port in (shared.port, 9999):
        with shared.client(Host=f"{name}:{port}") as client:
            assert client.get("/api/v1/health").status_code == 200


def test_a_request_with_two_hosts_or_none_is_refused(shared):
    for lines in (b"Host: localhost\r\nHost: evil.example\r\n", b""):
        with sockets.create_connection(("127.0.0.1", shared.port)) as line:
            line.sendall(b"GET /api/v1/health HTTP/1.1\r\n" + lines + b"Connection: close\r\n\r\n")
            answer = b""
            while received := line.recv(4096):
                answer += received
        assert answer.split(b" ", 2)[1] in {b"400", b"403"}


def test_a_foreign_origin_is_refused_on_every_kind_of_request(shared):
    with shared.client() as client:
        for origin in foreign_origins(shared.address):
            for method, path in (
                ("GET", "/api/v1/health"),
                ("PUT", "/api/v1/designs/x"),
                ("POST", "/api/v1/predict"),
            ):
                answer = client.request(method, path, headers={"Origin": origin}, json={})
                assert answer.status_code == 403, (method, origin)
                assert answer.json()["code"] == "refused"
    assert shared.desk.folder.names() == []


def test_its_own_origin_is_admitted(shared):
    with shared.client(Origin=shared.address) as client:
        assert client.get("/api/v1/health").status_code == 200


def test_a_socket_of_a_foreign_origin_or_of_none_is_refused(shared):
    for origin in (None, *foreign_origins(shared.address)):
        with pytest.raises(InvalidStatus) as refused:
            shared.socket(origin=origin)
        assert refused.value.response.status_code == 403, origin


def test_a_socket_of_its_own_origin_is_admitted(shared):
    with shared.socket() as socket:
        assert '"type":"hello"' in str(socket.recv(timeout=SOON))


def test_without_the_token_nothing_is_served_to_the_network(guarded):
    wrong = ["x", TOKEN[:-1], TOKEN + "x", TOKEN.upper(), "ä" * 30]
    with guarded.client() as client:
        for path in ("/", "/ring", "/api/v1/health", "/api/v1/designs", "/api/v1/openapi.json"):
            assert client.get(path).status_code == 401
            for guess in wrong:
                assert client.get(path, params={"token": guess}).status_code == 401
                assert (
                    client.get(path, headers={"Authorization": f"Bearer {guess}".encode()}).status_code == 401
                )
                assert client.get(path, headers={"Cookie": f"rw={guess}".encode()}).status_code == 401
        assert client.get("/", headers={"Cookie": f"other={TOKEN}"}).status_code == 401
        assert client.get("/", headers={"Authorization": f"Basic {TOKEN}"}).status_code == 401
    with pytest.raises(InvalidStatus) as refused:
        guarded.socket()
    assert refused.value.response.status_code == 401


def test_the_token_in_an_address_opens_pages_only_once_and_changes_nothing(guarded):
    with guarded.client() as client:
        answer = client.put("/api/v1/designs/mine", params={"token": TOKEN}, json={})
        assert answer.status_code == 401
        assert "set-cookie" not in answer.headers
    with pytest.raises(InvalidStatus):
        guarded.socket(Cookie="rw=")
    assert guarded.desk.folder.names() == []


def test_the_token_is_handed_over_as_a_cookie_that_no_script_and_no_other_site_gets(guarded):
    with guarded.client() as client:
        welcome = client.get("/ring", params={"band": "40m", "token": TOKEN})
        assert welcome.status_code == 200
        name_value, *attributes = [part.strip() for part in welcome.headers["set-cookie"].split(";")]
        assert name_value == f"rw={TOKEN}"
        assert {"httponly", "samesite=strict", "path=/"} <= {part.lower() for part in attributes}
        assert TOKEN not in welcome.text  # not left in the address, the history or a referrer
        assert 'content="0;url=/ring?band=40m"' in welcome.text
        assert welcome.headers["cache-control"] == "no-store"
        assert client.get("/api/v1/health").status_code == 200  # by the cookie
    with guarded.socket(Cookie=f"theme=dark; rw={TOKEN}") as socket:
        assert '"type":"hello"' in str(socket.recv(timeout=SOON))


def test_a_script_may_show_the_token_as_bearer(guarded):
    with guarded.client(Authorization=f"Bearer {TOKEN}") as client:
        assert client.get("/api/v1/health").status_code == 200


@pytest.mark.parametrize(
    "path", ["//evil.example/x", "/%5Cevil.example", "/%22%3E%3Cscript%3Ealert(1)%3C/script%3E"]
)
def test_the_page_that_hands_over_the_cookie_leads_nowhere_else_and_runs_nothing(guarded, path):
    with sockets.create_connection(("127.0.0.1", guarded.port)) as line:
        target = f"{path}?token={TOKEN}&x=%22%3E%3Cscript%3E"
        line.sendall(f"GET {target} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n".encode())
        answer = b""
        while received := line.recv(4096):
            answer += received
    text = answer.decode()
    assert " 200 " in text.splitlines()[0]
    target = text.partition("url=")[2].partition('"')[0]
    assert target.startswith("/")
    assert target[1] not in "/\\"
    assert "<script" not in text


def test_the_right_token_does_not_help_a_foreign_page_or_name(guarded):
    with guarded.client(Cookie=f"rw={TOKEN}") as client:
        assert client.get("/api/v1/health", headers={"Origin": "http://evil.example"}).status_code == 403
        assert client.get("/api/v1/health", headers={"Host": "evil.example"}).status_code == 403
    with pytest.raises(InvalidStatus) as refused:
        guarded.socket(origin="http://evil.example", Cookie=f"rw={TOKEN}")
    assert refused.value.response.status_code == 403


def test_on_a_network_numeric_addresses_and_own_names_are_its_own_and_no_others():
    for host in ("192.168.1.5:8000", "[fe80::1]:8000", "shack", "Shack:1", "localhost"):
        assert OPEN_TO_NETWORK.is_own_name(host)
    for host in ("evil.example", "shack.evil.example", "192.168.1.5.evil.example", "1.2.3", "0x7f000001", ""):
        assert not OPEN_TO_NETWORK.is_own_name(host)


@given(
    st.one_of(
        st.text(max_size=40),
        st.from_regex(r"(localhost|127\.0\.0\.1|\[::1\])[:.@/ ]?[a-z0-9.]{0,9}", fullmatch=True),
    )
)
def test_no_text_at_all_passes_for_a_name_of_this_machine_unless_it_is_one(host):
    """The oracle is the standard library's reading of an address."""
    if Admission().is_own_name(host):
        parts = urlsplit(f"http://{host}")
        assert parts.hostname in LOOPBACK_NAMES
        assert parts.netloc == host
        assert parts.username is None
        assert (parts.path, parts.query, parts.fragment) == ("", "", "")


@given(st.text(max_size=60))
def test_only_the_token_is_the_token(offered):
    assert OPEN_TO_NETWORK.is_token(offered) == (offered == TOKEN)
    assert not Admission().is_token(offered)
