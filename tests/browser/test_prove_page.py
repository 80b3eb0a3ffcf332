# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps are given to the page, judged one by one and together; what cannot be read says so and keeps the rest.

The sweep is of a resonator as the textbooks write it (D. Kajfez), made in `tests.cli.test_prove`.
"""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from ringwright.antenna.scenario import TERRACE_OCTAGON
from ringwright.records.records import Records
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import opener, served
from tests.browser.serving import Serving, lay
from tests.browser.test_access import AXE, THUMB, violations
from tests.cli.test_prove import Q0, touchstone
from tests.records.recording import add

pytestmark = pytest.mark.needs("chromium")


class ProvePage(BenchPage):
    PATH = "/prove?design=terrace"

    def settle(self) -> None:
        self.page.wait_for_selector('main[data-settled="true"] .choose-files')


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
    expect(page.get_by_text("Measure this next")).to_be_visible(timeout=120_000)


def test_a_sweep_is_judged_and_the_suspects_stand_beside_it(open_prove, good: Path, screen: str):
    page = open_prove(screen=screen).page
    give(page, good)
    wait_for_suspects(page)
    card = page.locator(".sweep-card")
    expect(card).to_contain_text(f"Q {Q0:.0f}"[:4])  # the first digits; the rest is noise
    expect(card.locator(".verdict")).to_contain_text("predicted")
    expect(page.locator(".found-bar").nth(1)).to_be_visible()
    assert violations(ProvePage(page, "")) == []


def test_the_answer_says_which_design_the_sweeps_are_set_against(open_prove, good: Path):
    prove = open_prove()
    page = prove.page
    give(page, good)
    against = page.locator(".set-against")
    expect(against).to_have_text("Set against terrace.")
    page.goto(prove.address + "/prove?design=terrace&set=ring.joints%3D4")
    prove.settle()
    give(page, good)
    expect(against).to_have_text("Set against terrace, with changes that are not saved.")
    page.goto(prove.address + "/prove?design=")
    prove.settle()
    give(page, good)
    expect(against).to_contain_text("a first ring that is not saved yet: not yours?")
    expect(against.get_by_label("Caution:")).to_be_visible()


def test_a_damaged_file_says_so_and_the_good_one_stays(open_prove, good: Path, tmp_path: Path):
    damaged = tmp_path / "damaged.s1p"
    damaged.write_text("# Hz S RI R 50\n7e6 0.5 zero\n", encoding="ascii")
    page = open_prove().page
    give(page, good, damaged)
    refusal = page.locator(".refusal")
    expect(page.locator(".proved, .intake").filter(has=refusal).first).to_contain_text("damaged.s1p")
    wait_for_suspects(page)
    expect(page.locator(".sweep-card .verdict")).to_have_count(1)
    page.get_by_role("button", name="Take off damaged.s1p").click()
    expect(refusal).to_have_count(0)


READINGS = "7.08 MHz 5.1\n7.09 MHz 2.6\n7.095 MHz 1.6\n7.1 MHz 1.3\n7.11 MHz 3"


def expect_on_the_page(page: Page, *names: str) -> None:
    """These sweeps and no others, in this order."""
    each = [re.compile(rf"^{re.escape(name)}\b") for name in names]
    expect(page.locator(".on-the-page .sweep-name")).to_have_text(each, use_inner_text=True)


def expect_card(page: Page, file: str) -> None:
    expect(page.locator(f'.sweep-card[data-file="{file}"]')).to_be_visible()


def test_typed_readings_have_a_curve_and_no_circle(open_prove):
    page = open_prove().page
    page.get_by_label("SWR readings of one band").fill(READINGS)
    page.get_by_role("button", name="Add readings").press("Enter")
    card = page.locator(".sweep-card")
    expect(card).to_be_visible()
    expect(card.locator(".swr svg.plot")).to_have_count(1)
    expect(card.locator("svg.reflection")).to_have_count(0)
    expect(page.get_by_label("SWR readings of one band")).to_have_value("")


def test_a_reading_that_is_none_says_so_in_its_place(open_prove):
    page = open_prove().page
    page.get_by_label("SWR readings of one band").fill("7.08 1.8")
    page.get_by_role("button", name="Add readings").click()
    expect(page.locator(".sweep-card .refusal", has_text="is no reading")).to_be_visible()


def test_a_comparison_is_ended_and_taken_up_again(open_prove, good: Path):
    page = open_prove().page
    give(page, good)
    page.get_by_role("button", name="End the comparison").click()
    again = page.get_by_role("button", name="Compare them together")
    expect(again).to_be_visible()
    expect(page.locator(".sweep-card .verdict")).to_have_count(1)
    again.click()
    wait_for_suspects(page)


def test_taking_the_last_sweep_off_leaves_an_empty_page(open_prove, good: Path):
    page = open_prove().page
    give(page, good)
    expect(page.locator(".sweep-card")).to_be_visible()
    page.get_by_role("button", name="Take off good.s1p").press("Enter")
    expect(page.locator(".nothing-yet")).to_be_visible()
    expect(page.locator(".sweep-card, .suspects, .working")).to_have_count(0)


def test_files_of_the_folder_are_offered_and_a_new_one_comes_by_itself(
    open_prove, serving: Serving, good: Path
):
    page = open_prove().page
    expect(page.get_by_role("button", name="Take old.s1p")).to_be_visible()
    expect_on_the_page(page)
    shutil.copy(good, serving.folder / "sweeps" / "new.s1p")
    expect_card(page, "new.s1p")
    page.get_by_role("button", name="Take old.s1p").click()
    expect_card(page, "old.s1p")
    expect_on_the_page(page, "new.s1p", "old.s1p")


def test_a_file_dropped_anywhere_is_read(open_prove, good: Path):
    page = open_prove().page
    held = page.evaluate_handle(
        """text => { const held = new DataTransfer();
            held.items.add(new File([text], 'dropped.s1p')); return held; }""",
        good.read_text(encoding="ascii"),
    )
    page.dispatch_event("h1", "dragover", {"dataTransfer": held})
    expect(page.locator(".drop-here")).to_be_visible()
    page.dispatch_event("h1", "drop", {"dataTransfer": held})
    expect_card(page, "dropped.s1p")
    expect(page.locator(".drop-here")).to_have_count(0)


def test_a_file_too_large_to_send_stays_with_its_sentence(open_prove, good: Path, tmp_path: Path):
    large = tmp_path / "large.csv"
    large.write_text("1" * 2_000_001, encoding="ascii")
    page = open_prove().page
    give(page, large, good)
    expect(page.locator(".on-the-page .refusal", has_text="large.csv: too large to send")).to_be_visible()
    expect_card(page, "good.s1p")


def test_a_name_is_shown_as_text(open_prove, tmp_path: Path):
    odd = tmp_path / "<img src=x onerror=alert(1)>.s1p"
    odd.write_text("nothing", encoding="ascii")
    page = open_prove().page
    give(page, odd)
    expect(page.locator(".sweep-card .refusal")).to_be_visible()
    expect(page.locator(".prove-bench img")).to_have_count(0)
    expect(page.locator(".on-the-page")).to_contain_text(odd.name)


def test_cautions_stand_where_the_hand_goes(open_prove, good: Path):
    window = open_prove()
    page = window.page
    before = page.get_by_role("list", name="Before you measure")
    window.expect_all(before, ("Never a transmitter into an analyser", "thunderstorm"))
    give(page, good)
    wait_for_suspects(page)
    window.expect_all(page.locator(".next .cautions"), ("transmitter off and cable apart", "local codes"))


def as_table(path: Path, to: Path) -> Path:
    """A sweep as a table whose headings say nothing."""
    rows = [line.split() for line in path.read_text(encoding="ascii").splitlines()[1:]]
    to.write_text("QRG;A;B\n" + "".join(f"{';'.join(row)}\n" for row in rows), encoding="ascii")
    return to


def test_what_the_columns_of_a_table_are_is_asked_once(open_prove, good: Path, tmp_path: Path):
    page = open_prove(screen="phone").page
    table = as_table(good, tmp_path / "table.csv")
    give(page, table)
    form = page.get_by_role("form", name="Columns of table.csv")
    read = form.get_by_role("button", name="Read it so")
    form.get_by_label("QRG").select_option("frequency, Hz")
    expect(read).to_be_disabled()
    form.get_by_label("A", exact=True).select_option("S11, real part")
    form.get_by_label("B", exact=True).select_option("S11, imaginary part")
    read.press("Enter")
    expect_card(page, "table.csv")
    give(page, as_table(good, tmp_path / "next.csv"))  # the next one is read at once
    expect_card(page, "next.csv")
    # On a phone, too, what they say stands before all else on the page.
    verdicts = page.get_by_role("region", name="What each sweep says")
    expect(verdicts.get_by_role("listitem").first).to_contain_text("Q 6")
    below = page.locator(".proved > section, .intake").evaluate_all(
        "nodes => nodes.map(node => node.getBoundingClientRect().top)"
    )
    assert min(below) == verdicts.evaluate("node => node.getBoundingClientRect().top")


def test_what_the_terminal_records_meanwhile_disturbs_nobody(open_prove, serving: Serving, tmp_path: Path):
    page = open_prove().page
    give(page, touchstone(tmp_path / "mine.s1p", at=7.09e6))
    expect_card(page, "mine.s1p")
    with Records.open(serving.folder) as records:
        add(records, touchstone(tmp_path / "theirs.s1p", at=7.08e6).read_bytes(), name="theirs.s1p")
    expect(page.get_by_role("button", name="Take theirs.s1p")).to_be_visible()
    touchstone(
        serving.folder / "sweeps" / "analyser.s1p", at=7.085e6
    )  # told of after the one that was recorded
    expect_card(page, "analyser.s1p")
    expect_on_the_page(page, "mine.s1p", "analyser.s1p")


@pytest.mark.skipif(not AXE.exists(), reason="left out: needs axe-core, `npm ci` in web-client")
def test_the_page_keeps_the_rules_of_access_open_and_empty(
    open_prove, good: Path, tmp_path: Path, screen: str
):
    window = open_prove(screen=screen)
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
    expect(page.locator(".explanation .formula")).to_be_visible()
    assert violations(window) == []
    small = page.locator("main :is(button, textarea, summary, input)").evaluate_all(
        """(nodes, thumb) => nodes.filter(node => node.checkVisibility() && !node.matches('.figure-ask')
                && node.getBoundingClientRect().height < thumb).map(node => node.outerHTML.slice(0, 120))""",
        THUMB,
    )
    assert small == []
    width, room = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert width <= room
