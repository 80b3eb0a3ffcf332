# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright tune`: the remote tuner and its simulated twin; one module per sub-verb, nothing heavy at import."""

import click

from ringwright.cli.tune_board import board
from ringwright.cli.tune_commission import commission
from ringwright.cli.tune_drive import follow, learn, nudge, to
from ringwright.cli.tune_link import ports
from ringwright.cli.tune_table import history, table
from ringwright.cli.tune_trial import trial
from ringwright.cli.tune_watch import stop, watch


@click.group(
    epilog="""\b
Examples:
  ringwright tune learn designs/terrace.toml --twin
  ringwright tune to designs/terrace.toml "7.1 MHz" --twin
  ringwright tune stop http://127.0.0.1:8000
  ringwright tune trial --twins 40

A small transmitting loop has kilovolts across its capacitor at a few watts: nobody may be near it while it is tuned
from afar."""
)
def tune() -> None:
    """Tune the ring from the armchair."""


for verb in (board, ports, commission, to, learn, follow, nudge, watch, stop, history, table, trial):
    tune.add_command(verb)
