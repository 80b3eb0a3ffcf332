# SPDX-License-Identifier: BSD-3-Clause
"""What each start of the program costs at the shell."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path


def bench_help() -> Callable[[], object]:
    """ringwright --help, a new process each time."""
    program = Path(sys.executable).with_name("ringwright")
    return lambda: subprocess.run([program, "--help"], check=True, capture_output=True)
