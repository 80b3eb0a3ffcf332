# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps are given to the page, judged one by one and together; what cannot be read says so and keeps the rest.

The sweep is of a resonator as the textbooks write it (D. Kajfez), made in `tests.cli.test_prove`.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from ringwright.antenna.scenario import TERRACE_OCTAGON
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import opener, served
from tests.browser.serving import Serving, lay
from tests.browser.test_access import violations
from tests.cli.test_prove import Q0, touchstone

pytestmark = pytest.mark.needs("chromium")


class ProvePage(BenchPage):
    PATH = "/prove?design=terrace"

    def open(self, path: str) -> "ProvePage":
        self.page.goto(self.address + path)
        self.page.locator(".choose-files").wait_for()
        return self


@pytest.fixture(scope="module")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("proving")
    lay(folder, terrace=TERRACE_OCTAGON)
    with served(folder) as server:
        yield server


@pytest.fixture
def open_prove(browser, serving: Serving):
    yield from opener(browser, serving, ProvePage)


@pytest.fixture
def good(tmp_path: Path) -> Path:
    return touchstone(tmp_path / "good.s1p", at=7.09e6)


def give(page: Page, *files: Path) -> None:
    page.get_by_label("sweep files").set_input_files(list(files))


def wait_for_suspects(page: Page) -> None:
    page.get_by_text("Measure this next").wait_for(timeout=60_000)


def test_a_sweep_is_judged_and_the_suspects_stand_beside_it(open_prove, good: Path, screen: str):
    page = open_prove(screen=screen).page
    give(page, good)
    wait_for_suspects(page)
    card = page.locator(".sweep-card")
    assert f"Q {Q0:.0f}"[:4] in card.inner_text()  # the first digits; the rest is noise
    assert "predicted" in card.locator(".verdict").inner_text()
    assert page.locator(".found-bar").count() >= 2
    assert violations(ProvePage(page, "")) == []


def test_a_damaged_file_says_so_and_the_good_one_stays(open_prove, good: Path, tmp_path: Path):
    damaged = tmp_path / "damaged.s1p"
    damaged.write_text("# Hz S RI R 50\n7e6 0.5 zero\n", encoding="ascii")
    page = open_prove().page
    give(page, good, damaged)
    refusal = page.locator(".refusal").first
    refusal.wait_for()
    assert (
        "damaged.s1p"
        in page.locator(".proved, .intake").filter(has=page.locator(".refusal")).first.inner_text()
    )
    wait_for_suspects(page)
    assert page.locator(".sweep-card .verdict").count() == 1
    page.get_by_role("button", name="Take off damaged.s1p").click()
    page.locator(".refusal").wait_for(state="detached")
