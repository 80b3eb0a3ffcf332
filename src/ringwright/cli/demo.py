# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright demo`: the two rings of the scenario."""

import click

from ringwright.cli.serve import pages, port_option


@click.command(
    epilog="""\b
Examples:
  ringwright demo
  ringwright demo --no-serve
"""
)
@click.option("--no-serve", is_flag=True, help="Print what the two rings do, and end.")
@port_option
def demo(*, no_serve: bool, port: int) -> None:
    """Two rings to look at, as live pages or printed.

    An octagon for a terrace, and its small sister for a rucksack.
    """
    if no_serve:
        from ringwright.cli.scenario import show_scenario

        show_scenario()
    else:
        pages().serve_demo(port=port)
