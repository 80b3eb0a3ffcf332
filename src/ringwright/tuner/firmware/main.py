# SPDX-License-Identifier: BSD-3-Clause
"""Starts one of two copies of the firmware, a or b, and the other one if that cannot be started at all.

Stands at the top of the board's flash, where programs start, with `copies.py` beside it.
"""

import sys
import time

import copies
import machine

WAIT_S = 3
"""Seconds in which a file copier at the cable may break in before the watchdog runs."""


def start() -> None:
    """For ever, or until neither copy can be started."""
    time.sleep(WAIT_S)
    first = copies.choose(".")
    for copy in (first, copies.other(first)):
        sys.path.insert(0, copy)
        try:
            from ringwright.tuner.firmware.run import run
        except (ImportError, SyntaxError) as error:
            print("copy", copy, "does not start:", error)
            copies.reject(".")
            sys.path.pop(0)
            for name in [name for name in sys.modules if name.startswith("ringwright")]:
                del sys.modules[name]
        else:
            _run(run, copy)


def _run(run, copy: str) -> None:
    """A firmware that fails starts anew, which counts against it while it is on trial."""
    try:
        run(copy)
    except Exception as error:  # noqa: BLE001 -- whatever it is, the board must come back
        sys.print_exception(error)  # type: ignore[attr-defined]
    time.sleep(1)
    machine.reset()


start()
