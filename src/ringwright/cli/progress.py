# SPDX-License-Identifier: BSD-3-Clause
"""Word of work that takes longer than a breath, on standard error."""

import time
from collections.abc import Callable

import click

PATIENCE = 2.0
"""Seconds without a word."""


class LongWait:
    """Says how far work is, at most every two seconds and not at all before the first two are over."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock, self._last = clock, clock()

    def tell(self, text: str) -> None:
        """Print a line if it is time for one."""
        now = self._clock()
        if now - self._last >= PATIENCE:
            self._last = now
            click.echo(f"ringwright: {text}", err=True)
