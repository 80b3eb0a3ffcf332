# SPDX-License-Identifier: BSD-3-Clause
"""Which drive is meant, as options say it; the ports of this computer."""

import json
import os
from pathlib import Path

import click

from ringwright.cli.terminal import Terminal
from ringwright.cli.tune_link import Where
from ringwright.errors import LinkError
from ringwright.tuner.clock import SystemClock
from ringwright.tuner.links.address import PASSWORD_VARIABLE, Access, BrokerAddress, parse_address
from ringwright.tuner.links.open import meet, open_link
from ringwright.tuner.links.serial_link import found_ports
from ringwright.units import shown

LONGEST_PASSWORD = 500


def access_of(where: Where) -> Access | None:
    """The real drive's access, None for the simulated one; refused where neither or both are named."""
    if where.link is None and not where.is_simulated:
        raise click.UsageError(
            "say which drive: --link serial:PORT or --link mqtt://USER@HOST/NAME for the real one, --twin for the "
            "simulated one"
        )
    if where.link is not None and where.is_simulated:
        raise click.UsageError("--link and --twin exclude each other; leave one out")
    return None if where.link is None else real_access(where.link, where.password_file)


def real_access(link: str, password_file: Path | None) -> Access:
    """Where a real drive is, with the password from its file or the environment."""
    address = parse_address(link)
    if not isinstance(address, BrokerAddress):
        return Access(address)
    return Access(address, _password(password_file))


def _password(file: Path | None) -> str | None:
    if file is None:
        return os.environ.get(PASSWORD_VARIABLE)
    try:
        with file.open(encoding="utf-8") as lines:
            password = lines.readline(LONGEST_PASSWORD).rstrip("\r\n")
    except (OSError, ValueError) as exc:
        reason = (exc.strerror if isinstance(exc, OSError) else None) or "it is no UTF-8 text"
        raise LinkError(f"--link-password {shown(str(file))} cannot be read: {reason}") from exc
    if not password:
        raise LinkError(
            f"--link-password {shown(str(file))}: its first line is empty; write the password there"
        )
    return password


def list_ports(*, as_json: bool) -> None:
    """Print the serial ports."""
    found = found_ports()
    if as_json:
        ports = [{"address": f"serial:{each.port}", "description": each.description} for each in found]
        click.echo(json.dumps({"schema": "ringwright.tune.ports/1", "ports": ports}))
        return
    for each in found:
        click.echo(f"serial:{each.port}  {each.description}")
    if not found:
        click.echo("No serial port; plug the board in, by a cable that carries data, too.")


def try_address(text: str, password_file: Path | None, *, as_json: bool) -> None:
    """Say hello at an address and print who answers."""
    access = real_access(text, password_file)
    link = open_link(access)
    try:
        status = meet(link, name=str(access.address), wall_milliseconds=SystemClock().wall_milliseconds)
    finally:
        link.close()
    if as_json:
        click.echo(
            json.dumps(
                {
                    "schema": "ringwright.tune.board/1",
                    "address": str(access.address),
                    "position_steps": status.at,
                    "sure": status.is_sure,
                    "boots": status.boots,
                }
            )
        )
        return
    sure = "sure of it" if status.is_sure else "not sure of it"
    terminal = Terminal.of_stdout()
    terminal.say(
        terminal.wrapped(
            f"{access.address}: a board answers. It stands at step {status.at}, {sure}, and was started {status.boots} "
            "times.",
            first="",
        )
    )
