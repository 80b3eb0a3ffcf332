# SPDX-License-Identifier: BSD-3-Clause
"""Options that say which drive is meant, and `ringwright tune ports`."""

import functools
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

ADDRESS_HELP = "The real drive: serial:PORT, or mqtt://USER@HOST/NAME through a broker."
WORD_HELP = (
    "File whose first line is the broker's password; else the environment variable RINGWRIGHT_LINK_PASSWORD."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """Which drive a verb is about, as its options have it."""

    link: str | None
    password_file: Path | None
    is_simulated: bool


def link_options(verb: Callable[..., Any]) -> Callable[..., Any]:
    """Where the real drive is."""
    for option in (
        click.option("--link-password", type=click.Path(path_type=Path), metavar="FILE", help=WORD_HELP),
        click.option("--link", metavar="ADDRESS", help=ADDRESS_HELP),
    ):
        verb = option(verb)
    return verb


def drive_options(verb: Callable[..., Any]) -> Callable[..., Any]:
    """What every verb that moves a drive takes; it is handed `where`."""
    json_option = click.option(
        "--json", "as_json", is_flag=True, help="What happens, as one JSON document a line."
    )
    twin_option = click.option(
        "--twin", is_flag=True, help="Drive the simulated twin of the design, as fast as it goes."
    )

    @functools.wraps(verb)
    def with_where(*, link: str | None, link_password: Path | None, twin: bool, **rest: Any) -> Any:
        return verb(where=Where(link=link, password_file=link_password, is_simulated=twin), **rest)

    return twin_option(link_options(json_option(with_where)))


@click.command(
    epilog="""\b
Examples:
  ringwright tune ports
  ringwright tune ports --try serial:/dev/ttyACM0"""
)
@click.option("--try", "address", metavar="ADDRESS", help="Ask there whether it is a board; moves nothing.")
@click.option("--link-password", type=click.Path(path_type=Path), metavar="FILE", help=WORD_HELP)
@click.option("--json", "as_json", is_flag=True, help="One JSON document.")
def ports(*, address: str | None, link_password: Path | None, as_json: bool) -> None:
    """List this computer's serial ports, or ask at an address whether a board is there."""
    from ringwright.cli.linking import list_ports, try_address

    if address is None:
        list_ports(as_json=as_json)
    else:
        try_address(address, link_password, as_json=as_json)
