# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright tune watch` and `tune stop`: a drive that pages are connected to, seen and stopped from a terminal."""

import click

_ADDRESS = click.argument("address")
_JSON = click.option("--json", "as_json", is_flag=True, help="One JSON document a line.")


@click.command(
    epilog="""\b
Examples:
  ringwright tune watch http://127.0.0.1:8000
  ringwright tune watch http://127.0.0.1:8000 --json > tuning.jsonl"""
)
@_ADDRESS
@_JSON
@click.pass_context
def watch(context: click.Context, address: str, *, as_json: bool) -> None:
    """Print what happens to the drive of a running server, until it is let go.

    ADDRESS is what serve printed, with its token where it has one. First comes what is connected and where it stands.
    Exit code 1 if no drive was connected.
    """
    from ringwright.cli.tune_server import watch_events

    if not watch_events(address, as_json=as_json):
        context.exit(1)


@click.command(
    epilog="""\b
Example:
  ringwright tune stop http://127.0.0.1:8000
"""
)
@_ADDRESS
@_JSON
@click.pass_context
def stop(context: click.Context, address: str, *, as_json: bool) -> None:
    """STOP the drive of a running server, whoever holds control.

    It holds until it is released on a page. Exit code 1 if no drive was connected. STOP stops the drive, not the
    transmitter.
    """
    from ringwright.cli.tune_server import stop_drive

    if not stop_drive(address, as_json=as_json):
        context.exit(1)
