# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright tune`: the remote tuner and its simulated twin; one module per sub-verb, nothing heavy at import."""

import click

from ringwright.cli.tune_trial import trial


@click.group(
    epilog="""\b
Examples:
  ringwright tune trial --twins 40

A small transmitting loop has kilovolts across its capacitor at a few watts: nobody may be near it while it is tuned
from afar."""
)
def tune() -> None:
    """Tune the ring from the armchair."""


for verb in (trial,):
    tune.add_command(verb)
