# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps are given to the page, judged one by one and together; what cannot be read says so and keeps the rest.

The sweep is of a resonator as the textbooks write it (D. Kajfez), made in `tests.cli.test_prove`.
"""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from ringwright.antenna.scenario import TERRACE_OCTAGON
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import opener, served
from tests.browser.serving import Serving, lay
from tests.browser.test_access import AXE, THUMB, violations
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
    (folder / "sweeps").mkdir()
    touchstone(folder / "sweeps" / "old.s1p", at=10.12e6)
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


READINGS = "7.08 MHz 5.1\n7.09 MHz 2.6\n7.095 MHz 1.6\n7.1 MHz 1.3\n7.11 MHz 3"


def on_the_page(page: Page) -> list[str]:
    return [name.split()[0] for name in page.locator(".on-the-page .sweep-name").all_inner_texts()]


def test_typed_readings_have_a_curve_and_no_circle(open_prove):
    page = open_prove().page
    page.get_by_label("SWR readings of one band").fill(READINGS)
    page.get_by_role("button", name="Add readings").press("Enter")
    card = page.locator(".sweep-card")
    card.wait_for()
    assert card.locator(".swr svg.plot").count() == 1
    assert card.locator("svg.reflection").count() == 0
    assert page.get_by_label("SWR readings of one band").input_value() == ""


def test_a_reading_that_is_none_says_so_in_its_place(open_prove):
    page = open_prove().page
    page.get_by_label("SWR readings of one band").fill("7.08 1.8")
    page.get_by_role("button", name="Add readings").click()
    page.locator(".sweep-card .refusal", has_text="is no reading").wait_for()


def test_a_comparison_is_ended_and_taken_up_again(open_prove, good: Path):
    page = open_prove().page
    give(page, good)
    page.get_by_role("button", name="End the comparison").click()
    again = page.get_by_role("button", name="Compare them together")
    again.wait_for()
    assert page.locator(".sweep-card .verdict").count() == 1
    again.click()
    wait_for_suspects(page)


def test_taking_the_last_sweep_off_leaves_an_empty_page(open_prove, good: Path):
    page = open_prove().page
    give(page, good)
    page.locator(".sweep-card").wait_for()
    page.get_by_role("button", name="Take off good.s1p").press("Enter")
    page.locator(".nothing-yet").wait_for()
    assert page.locator(".sweep-card, .suspects, .working").count() == 0


def test_files_of_the_folder_are_offered_and_a_new_one_comes_by_itself(
    open_prove, serving: Serving, good: Path
):
    page = open_prove().page
    page.get_by_role("button", name="Take old.s1p").wait_for()
    assert on_the_page(page) == []
    shutil.copy(good, serving.folder / "sweeps" / "new.s1p")
    page.locator('.sweep-card[data-file="new.s1p"]').wait_for()
    page.get_by_role("button", name="Take old.s1p").click()
    page.locator('.sweep-card[data-file="old.s1p"]').wait_for()
    assert on_the_page(page) == ["new.s1p", "old.s1p"]


def test_a_file_dropped_anywhere_is_read(open_prove, good: Path):
    page = open_prove().page
    held = page.evaluate_handle(
        """text => { const held = new DataTransfer();
            held.items.add(new File([text], 'dropped.s1p')); return held; }""",
        good.read_text(encoding="ascii"),
    )
    page.dispatch_event("h1", "dragover", {"dataTransfer": held})
    page.locator(".drop-here").wait_for()
    page.dispatch_event("h1", "drop", {"dataTransfer": held})
    page.locator('.sweep-card[data-file="dropped.s1p"]').wait_for()
    assert page.locator(".drop-here").count() == 0


def test_a_file_too_large_to_send_stays_with_its_sentence(open_prove, good: Path, tmp_path: Path):
    large = tmp_path / "large.csv"
    large.write_text("1" * 2_000_001, encoding="ascii")
    page = open_prove().page
    give(page, large, good)
    page.locator(".on-the-page .refusal", has_text="large.csv: too large to send").wait_for()
    page.locator('.sweep-card[data-file="good.s1p"]').wait_for()


def test_a_name_is_shown_as_text(open_prove, tmp_path: Path):
    odd = tmp_path / "<img src=x onerror=alert(1)>.s1p"
    odd.write_text("nothing", encoding="ascii")
    page = open_prove().page
    give(page, odd)
    page.locator(".sweep-card .refusal").wait_for()
    assert page.locator(".prove-bench img").count() == 0
    assert odd.name in page.locator(".on-the-page").inner_text()


def test_cautions_stand_where_the_hand_goes(open_prove, good: Path):
    page = open_prove().page
    before = page.get_by_role("list", name="Before you measure").inner_text()
    assert "Never a transmitter into an analyser" in before
    assert "thunderstorm" in before
    give(page, good)
    wait_for_suspects(page)
    assert "transmitter off and cable apart" in page.locator(".next .cautions").inner_text()
    assert "local codes" in page.locator(".next .cautions").inner_text()


@pytest.mark.skipif(not AXE.exists(), reason="left out: needs axe-core, `npm ci` in web-client")
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_the_page_keeps_the_rules_of_access_open_and_empty(
    open_prove, good: Path, tmp_path: Path, screen: str, *, dark: bool
):
    window = open_prove(screen=screen, dark=dark)
    page = window.page
    assert violations(window) == []
    damaged = tmp_path / "damaged.s1p"
    damaged.write_text("", encoding="ascii")
    give(page, good, damaged)
    wait_for_suspects(page)
    for fold in page.locator("main details:not([open]) > summary").all():
        fold.press("Enter")
    page.get_by_role("button", name="Explain").press("Enter")
    page.locator(".match-words .figure-ask").first.press("Enter")
    page.locator(".explanation .formula").wait_for()
    assert violations(window) == []
    small = page.locator("main :is(button, textarea, summary, input)").evaluate_all(
        """(nodes, thumb) => nodes.filter(node => node.checkVisibility() && !node.matches('.figure-ask')
                && node.getBoundingClientRect().height < thumb).map(node => node.outerHTML.slice(0, 120))""",
        THUMB,
    )
    assert small == []
    width, room = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert width <= room
