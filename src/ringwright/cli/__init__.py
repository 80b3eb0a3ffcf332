# SPDX-License-Identifier: BSD-3-Clause
"""The command line: one module per verb, nothing heavy at import."""

from ringwright.cli.program import main

__all__ = ["main"]
