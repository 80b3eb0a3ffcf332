# SPDX-License-Identifier: BSD-3-Clause
"""The options for metric or imperial units, the same with every verb that shows lengths."""

import functools
from collections.abc import Callable
from typing import Any

import click

METRIC, IMPERIAL = "metric", "imperial"


def units_options(
    which: str, *, default: str | None = METRIC
) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """A verb's `--units`, and `--imperial` for short; the verb gets `is_imperial`, None where nothing was said.

    `which` quantities the verb shows by it, for its help.
    """

    def decorate(verb: Callable[..., Any]) -> Callable[..., Any]:
        @click.option("--units", type=click.Choice([METRIC, IMPERIAL]), help=f"{which}; JSON stays in SI.")
        @click.option("--imperial", is_flag=True, help=f"The same as --units {IMPERIAL}.")
        @functools.wraps(verb)
        def with_units(*args: Any, units: str | None, imperial: bool, **kwargs: Any) -> Any:
            if imperial and units == METRIC:
                raise click.UsageError(f"--units {METRIC} and --imperial exclude each other")
            system = IMPERIAL if imperial else units or default
            return verb(*args, is_imperial=None if system is None else system == IMPERIAL, **kwargs)

        return with_units

    return decorate
