# SPDX-License-Identifier: BSD-3-Clause
"""What every test shares: one BLAS thread, Hypothesis profiles, and tests that need a program from outside.

`@pytest.mark.needs("chromium")` marks a test that cannot run without that program. Where it is missing the test is
left out, and pytest's summary names it, one line per reason. With RINGWRIGHT_NOTHING_LEFT_OUT=1 any test that does
not run is a failure instead, so that a machine meant to have everything cannot quietly check less.
"""

import os
import shutil
import sys
from collections.abc import Generator
from typing import TypeVar

import pytest
from hypothesis import Phase, settings

import ringwright  # noqa: F401 -- sets one BLAS thread, which works only before numpy is loaded

# Debian keeps servers in /usr/sbin, and pip programs beside the interpreter.
SEARCH_PATH = os.pathsep.join(
    (os.environ.get("PATH", os.defpath), "/usr/sbin", os.path.dirname(sys.executable))  # noqa: PTH120
)
NOTHING_LEFT_OUT = os.environ.get("RINGWRIGHT_NOTHING_LEFT_OUT", "0") != "0"

# The same examples on every run, so that a red test is red for everyone; `make properties` goes where nobody has been.
settings.register_profile("default", derandomize=True, deadline=None)
settings.register_profile("fuzz", max_examples=5000, deadline=None)
# A planted error need only fail, not fail on the simplest example (scripts/sabotage.py).
settings.register_profile(
    "sabotage", derandomize=True, deadline=None, phases=(Phase.explicit, Phase.generate)
)
settings.load_profile("default")

Report = TypeVar("Report", pytest.TestReport, pytest.CollectReport)


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "needs(program, ...): left out where one of these is not installed")


def pytest_runtest_setup(item: pytest.Item) -> None:
    programs = [program for marker in item.iter_markers("needs") for program in marker.args]
    missing = [program for program in programs if shutil.which(program, path=SEARCH_PATH) is None]
    if missing:
        pytest.skip(f"left out: needs {' and '.join(missing)}, not installed here")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    return _refuse_if_left_out((yield))


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    return _refuse_if_left_out((yield))


def _refuse_if_left_out(report: Report) -> Report:
    if NOTHING_LEFT_OUT and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"nothing may be left out in this run, but: {report.longrepr}"
    return report
