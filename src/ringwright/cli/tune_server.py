# SPDX-License-Identifier: BSD-3-Clause
"""A running server asked over HTTP, on this machine or beside it."""

import http.client
import json
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from urllib.parse import parse_qs, urlsplit

import click

from ringwright.cli.tuning import told_lines
from ringwright.errors import LinkError
from ringwright.units import shown

PATIENCE = 10.0
"""Seconds without an answer."""


def watch_events(address: str, *, as_json: bool) -> bool:
    """Print the stream of events, first what is connected and where it stands; whether there was a drive."""
    has_drive = False
    with _answer(address, "GET", "events") as answer, told_lines(as_json=as_json) as tell:
        for line in answer:
            document = json.loads(line)
            if not as_json and document["type"] == "begin":
                where = "simulated" if document["is_simulated"] else f"at {document['line']}"
                click.echo(f"The drive of {document['design']}, {where}.")
            elif not as_json and not has_drive and document["type"] == "state":
                has_drive = True
                click.echo(_standing(document))
            has_drive = has_drive or as_json
            tell(document)
    if not has_drive and not as_json:
        click.echo("No drive is connected there.")
    return has_drive


def _standing(state: dict[str, Any]) -> str:
    if state["position_steps"] is None:
        return "No word from it yet."
    sure = "proved" if state["proved"] else "not proved" if state["sure"] else "not sure"
    return (
        f"It stands at step {state['position_steps']}, {sure}: {state['frequency_hz'] / 1e6:.4f} MHz by the table; "
        f"{state['words']}."
    )


def stop_drive(address: str, *, as_json: bool) -> bool:
    """STOP; whether there was a drive."""
    with _answer(address, "POST", "stop") as answer:
        found = json.loads(answer.read())
    was_connected = bool(found.get("was_connected"))
    if as_json:
        click.echo(json.dumps({"schema": "ringwright.tune.stop/1", "was_connected": was_connected}))
    else:
        click.echo("STOP: the drive stands still." if was_connected else "No drive is connected there.")
    return was_connected


@contextmanager
def _answer(address: str, method: str, what: str) -> Iterator[http.client.HTTPResponse]:
    parts = urlsplit(address if "//" in address else f"http://{address}")
    if parts.scheme not in {"http", "https"} or not parts.hostname:
        raise LinkError(f"{shown(address)} is no address of a server; write what serve printed")
    kind = http.client.HTTPSConnection if parts.scheme == "https" else http.client.HTTPConnection
    token = parse_qs(parts.query).get("token", [])
    headers = {"Authorization": f"Bearer {token[0]}"} if token else {}
    try:
        link = kind(parts.hostname, parts.port, timeout=PATIENCE)
        try:
            link.request(method, f"/api/v1/tune/{what}", headers=headers)
            answer = link.getresponse()
            if answer.status != http.client.OK:
                raise LinkError(
                    f"{shown(address)} answers {answer.status} {answer.reason}; is it a ringwright serve?"
                )
            yield answer
        finally:
            link.close()
    except (OSError, http.client.HTTPException, ValueError) as exc:
        if isinstance(exc, LinkError | BrokenPipeError):
            raise
        reason = (exc.strerror if isinstance(exc, OSError) else None) or str(exc)
        raise LinkError(
            f"{shown(address)} cannot be asked ({reason}); start it with ringwright serve"
        ) from exc
