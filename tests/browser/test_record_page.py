# SPDX-License-Identifier: BSD-3-Clause
"""The record as a person meets it: the line answers to hand and keys, moments are compared, notes and copies go in.

Sweeps and results are made up in `tests.records.recording`; what is reckoned from them is checked in `tests/records`.
"""

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import ClassVar, Self

import pytest
from playwright.sync_api import Locator, expect

from ringwright.antenna.scenario import TERRACE_OCTAGON
from ringwright.records.entries import NoteKind
from ringwright.records.records import Records
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import opener, served
from tests.browser.serving import Serving, lay
from tests.browser.test_access import AXE, THUMB, violations
from tests.records.recording import START, add

pytestmark = pytest.mark.needs("chromium")


ALL = 15
"""Entries that `fill` makes: ten sweeps, three notes, the text they were set against, the file of designs/."""


class RecordPage(BenchPage):
    PATH: ClassVar = "/record?design=terrace"

    def open(self, path: str) -> Self:
        self.page.goto(self.address + path)
        expect(self.page.get_by_role("button", name="Write it down")).to_be_visible()
        expect(self.page.locator(".waiting")).to_have_count(0)
        return self

    @property
    def line(self) -> Locator:
        return self.page.get_by_role("listbox", name=re.compile("^Time line"))

    def entry(self, key: str) -> Locator:
        return self.page.locator(f'.entry[data-entry="{key}"]')

    def tap(self, key: str) -> None:
        """Press on an entry's mark, whatever label stands beside it."""
        finger = self.entry(key).locator(".finger")
        finger.scroll_into_view_if_needed()
        left, top, width, height = self.still(finger)
        self.page.mouse.click(left + width / 2.0, top + height / 2.0)

    def moment(self, letter: str) -> Locator:
        return self.page.get_by_role("slider", name=f"moment {letter}")

    def moved(self, band: str) -> Locator:
        return self.page.locator(f'.band-moved[data-band="{band}"]')


def fill(workspace: Path) -> Path:
    """Two bands over half a year: Q falls, a joint is remade, Q is up."""
    lay(workspace, terrace=TERRACE_OCTAGON)
    with Records.open(workspace) as records:
        for number, day in enumerate((0, 20, 45, 60, 90, 110)):
            add(records, b"a%d" % day, name=f"40m-{day}.s1p", days=day, q=600.0 * 0.985**number, build="as built",
                temperature=20.0 - day / 10.0)  # fmt: skip
        for day in (1, 61):
            add(
                records, b"b%d" % day, name=f"30m-{day}.s1p", days=day, q=500.0, band="30m", frequency=10.12e6
            )
        for day in (125, 140):
            add(records, b"c%d" % day, name=f"40m-{day}.s1p", days=day, q=900.0, build="remade")
        records.add_note("first frost\nand ice", at=START + timedelta(days=70), kind=NoteKind.WEATHER)
        records.add_note("joint 5 remade", at=START + timedelta(days=120), kind=NoteKind.JOINT)
        records.add_note("<b>shower</b>", at=START + timedelta(days=139, hours=20), kind=NoteKind.RAIN)
    return workspace


@pytest.fixture(scope="module")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    with served(fill(tmp_path_factory.mktemp("kept") / "terrace")) as server:
        yield server


@pytest.fixture
def open_record(browser, serving: Serving):
    yield from opener(browser, serving, RecordPage)


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Serving]:
    folder = tmp_path / "empty"
    folder.mkdir()
    with served(folder) as server:
        yield server


@pytest.fixture
def open_empty(browser, empty: Serving):
    yield from opener(browser, empty, RecordPage)


def test_an_empty_record_says_what_to_do_and_takes_a_first_note(open_empty, empty: Serving):
    record = open_empty("/record")
    page = record.page
    expect(page.locator(".nothing-words")).to_contain_text("Nothing is recorded")
    expect(record.line).to_have_count(0)
    expect(page.get_by_role("link", name="Download all as plain files")).to_have_count(0)
    assert not (empty.folder / "records.sqlite").exists()
    page.get_by_label("What").fill("ring up on the terrace")
    page.get_by_role("button", name="Write it down").press("Enter")
    expect(page.locator(".entry-details")).to_contain_text("ring up on the terrace")
    expect(page.locator(".nothing-words")).to_have_count(0)
    expect(page.get_by_label("What")).to_have_value("")
    with Records.open(empty.folder) as kept:
        assert [note.text for note in kept.notes()] == ["ring up on the terrace"]
    page.get_by_role("link", name="Prove", exact=True).first.click()
    expect(page.locator(".choose-files")).to_be_visible()


def test_every_entry_stands_on_the_line_and_a_tap_reads_it(open_record, screen: str):
    record = open_record(screen=screen)
    page = record.page
    expect(record.line.get_by_role("option")).to_have_count(ALL)
    expect(record.entry("note 2")).to_have_attribute("aria-label", re.compile("joint, joint 5 remade"))
    record.tap("note 2")
    expect(page.locator(".entry-details")).to_contain_text("The ring is another build from here on")
    record.tap("sweep 1")
    details = page.locator(".entry-details")
    expect(details).to_contain_text("600")
    expect(details).to_contain_text("sweeps/40m-0.s1p")
    expect(details).to_contain_text("S-points")
    details.get_by_text("The design it was set against").click()
    expect(page.get_by_label("Text of the design")).to_contain_text('name = "Terrace octagon"')


def test_keys_go_from_entry_to_entry_and_put_the_moments_there(open_record):
    record = open_record()
    record.line.focus()
    record.page.keyboard.press("Home")  # the text that the first sweep was set against
    expect(record.line).to_have_attribute("aria-activedescendant", re.compile("^entry-design"))
    record.page.keyboard.press("ArrowRight")
    expect(record.entry("sweep 1")).to_have_attribute("aria-selected", "true")
    expect(record.line).to_have_attribute("aria-activedescendant", "entry-sweep-1")
    for _ in range(2):  # on 30m the day after, then 40m again
        record.page.keyboard.press("ArrowRight")
    expect(record.entry("sweep 2")).to_have_attribute("aria-selected", "true")
    record.page.keyboard.press("a")
    day = (START + timedelta(days=20)).astimezone().strftime("%Y-%m-%d")
    expect(record.moment("A")).to_have_attribute("aria-valuetext", re.compile(day))
    record.moment("A").focus()
    record.page.keyboard.press("ArrowLeft")
    day = (START + timedelta(days=1)).astimezone().strftime("%Y-%m-%d")
    expect(record.moment("A")).to_have_attribute("aria-valuetext", re.compile(day))


def test_first_and_last_are_compared_at_once_and_a_dragged_moment_compares_anew(open_record):
    record = open_record()
    expect(record.moved("40m")).to_contain_text("Q rose by")
    expect(record.moved("40m")).to_contain_text("6 sweeps against 2")
    expect(record.page.locator(".comparison")).to_contain_text("The ring was changed between them")
    expect(record.page.get_by_role("list", name="Notes between them")).to_contain_text("joint 5 remade")
    left, top, *_ = record.still(record.moment("B"))
    goal, _, width, _ = record.still(record.entry("sweep 6").locator(".finger"))
    record.page.mouse.move(left + 22.0, top + 22.0)
    record.page.mouse.down()
    record.page.mouse.move(goal + width / 2.0 + 2.0, top + 22.0, steps=4)
    record.page.mouse.up()
    expect(record.page.locator(".comparison")).to_contain_text("The ring was not changed between them")
    expect(record.moved("40m")).to_contain_text("Q fell by")
    expect(record.moved("40m")).to_contain_text("1 sweep against 1")
    expect(record.moved("30m")).to_contain_text("No change can be told")


def test_filters_leave_what_is_asked_for(open_record):
    record = open_record()
    options = record.line.get_by_role("option")
    expect(options).to_have_count(ALL)
    record.page.get_by_role("group", name="Band", exact=True).get_by_role("button", name="30m").press("Enter")
    expect(options).to_have_count(7)  # its two sweeps, what belongs to no band
    record.page.get_by_role("button", name="Notes", exact=True).click()
    expect(options).to_have_count(4)
    record.page.get_by_role("button", name="Sweeps", exact=True).click()
    expect(options).to_have_count(2)
    record.page.locator(".entry-list summary").click()
    expect(record.page.locator(".entry-list li")).to_have_count(2)
    record.page.get_by_label("design text").select_option(
        index=2
    )  # the file's, which no sweep was set against
    expect(options).to_have_count(1)


def test_less_time_is_shown_larger_and_all_of_it_again(open_record):
    record = open_record()
    options = record.line.get_by_role("option")
    expect(options).to_have_count(ALL)
    for _ in range(3):
        record.page.get_by_role("button", name="less time, larger").click()
    expect(options).not_to_have_count(ALL)
    record.line.focus()
    record.page.keyboard.press("Home")  # the line goes along
    expect(record.entry("sweep 1")).to_be_visible()
    expect(record.line).to_have_attribute("aria-activedescendant", re.compile("^entry-design"))
    record.page.get_by_role("button", name="All", exact=True).click()
    expect(options).to_have_count(ALL)


def test_a_trend_is_drawn_against_time_warmth_and_rain_with_its_reminder(open_record):
    record = open_record()
    trend = record.page.locator(".trend")
    trend.get_by_role("button", name="40m").click()
    expect(trend.locator(".trend-drawn")).to_have_attribute("data-band", "40m")
    expect(trend).to_contain_text("2 of 8 sweeps")
    expect(trend.locator(".trend-plot").first.locator(".sweep-mark")).to_have_count(8)
    expect(trend.locator(".sweep-mark.former")).to_have_count(12)
    expect(trend.locator(".sweep-mark.wet")).to_have_count(2)
    trend.get_by_role("button", name="temperature").click()
    expect(trend.locator(".trend-plot").first.locator(".sweep-mark")).to_have_count(6)
    trend.get_by_role("button", name="rain").click()
    expect(trend.locator(".trend-plot").first).to_contain_text("wet")
    expect(trend).to_contain_text("too few sweeps tell")


def test_a_falling_q_is_a_reminder_where_it_is_read(open_empty, empty: Serving):
    (empty.folder / "designs").mkdir()
    with Records.open(empty.folder) as records:
        for day in range(6):
            add(records, b"%d" % day, days=30 * day, q=600.0 * 0.9**day, temperature=20.0)
    record = open_empty("/record")
    reminder = record.page.locator(".reminder")
    expect(reminder).to_contain_text("joints or box want a look")
    expect(reminder).to_contain_text("unable to key")
    expect(record.page.locator(".trend-plot .curve")).to_have_count(2)


def test_what_another_program_records_appears_by_itself_and_is_shown_as_text(open_empty, empty: Serving):
    record = open_empty("/record")
    expect(record.page.locator(".nothing-words")).to_be_visible()
    (empty.folder / "designs").mkdir()
    with Records.open(empty.folder) as records:
        records.add_note("<img src=x onerror=alert(1)>", at=START)
    record.tap("note 1")
    expect(record.page.locator(".entry-details")).to_contain_text("<img src=x onerror=alert(1)>")
    expect(record.page.locator(".record-bench img")).to_have_count(0)


def test_a_lost_original_is_named_with_what_to_do(open_empty, empty: Serving):
    (empty.folder / "designs").mkdir()
    with Records.open(empty.folder) as records:
        add(records, b"gone", name="gone.s1p")
    (empty.folder / "sweeps" / "gone.s1p").unlink()
    record = open_empty("/record")
    expect(record.page.locator(".lost")).to_contain_text("sweeps/gone.s1p")
    expect(record.page.locator(".lost")).to_contain_text("put the originals back")
    expect(record.entry("sweep 1").locator(".cross")).to_have_count(1)


def test_a_copy_is_downloaded_and_taken_in_after_the_person_was_asked(
    open_record, open_empty, empty: Serving, tmp_path: Path
):
    record = open_record()
    with record.page.expect_download() as waiting:
        record.page.get_by_role("link", name="Download all as plain files").click()
    copy = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(copy)
    assert re.fullmatch(r"terrace-record-\d{4}-\d\d-\d\d\.zip", copy.name)

    other = open_empty("/record")
    other.page.get_by_label("copy of a record").set_input_files(copy)
    asks = other.page.get_by_role("dialog")
    expect(asks).to_contain_text("10 sweeps, 10 results, 3 notes")
    assert not (empty.folder / "records.sqlite").exists()
    asks.get_by_role("button", name="Leave it").click()
    expect(asks).to_have_count(0)
    other.page.get_by_label("copy of a record").set_input_files(copy)
    asks.get_by_role("button", name="Take them in").press("Enter")
    expect(other.line.get_by_role("option", name=re.compile("sweep 40m"))).to_have_count(8)
    other.page.get_by_label("copy of a record").set_input_files(copy)
    expect(asks).to_contain_text("nothing that is not in this record already")
    asks.get_by_role("button", name="Close").click()

    other.expected_complaint = "422"
    (tmp_path / "odd.zip").write_bytes(b"no zip")
    other.page.get_by_label("copy of a record").set_input_files(tmp_path / "odd.zip")
    expect(other.page.locator(".copy .refusal")).to_contain_text("cannot be unpacked")


def test_a_note_that_cannot_be_kept_stays_with_its_sentence(open_record):
    record = open_record()
    record.expected_complaint = "422"
    record.page.get_by_label("What").fill("x\x07")
    record.page.get_by_role("button", name="Write it down").click()
    expect(record.page.locator(".write-note .refusal")).to_contain_text("characters that cannot be shown")
    expect(record.page.get_by_label("What")).to_have_value("x\x07")


def test_two_fingers_draw_the_time_apart(open_record):
    record = open_record(screen="phone")
    expect(record.line.get_by_role("option")).to_have_count(ALL)
    left, top, width, _ = record.still(record.line)
    record.line.evaluate(
        """(board, [x, y]) => {
            const touch = (type, id, at) => board.dispatchEvent(new PointerEvent(type,
                {pointerId: id, clientX: at, clientY: y, bubbles: true, button: 0, pointerType: 'touch'}));
            board.setPointerCapture = () => undefined;
            touch('pointerdown', 11, x - 20); touch('pointerdown', 12, x + 20);
            touch('pointermove', 11, x - 100); touch('pointermove', 12, x + 100);
            touch('pointerup', 11, x - 100); touch('pointerup', 12, x + 100);
        }""",
        [left + width / 2.0, top + 60.0],
    )
    expect(record.line.get_by_role("option")).not_to_have_count(ALL)


@pytest.mark.skipif(not AXE.exists(), reason="left out: needs axe-core, `npm ci` in web-client")
def test_the_page_keeps_the_rules_of_access(open_record, screen: str):
    record = open_record(screen=screen)
    expect(record.moved("40m")).to_be_visible()
    expect(record.page.locator(".trend-plot")).to_have_count(2)
    record.tap("sweep 2")
    for fold in record.page.locator("main details > summary").all():
        fold.press("Enter")
    record.page.get_by_role("button", name="Explain").press("Enter")
    record.page.locator(".band-moved .figure-ask").first.press("Enter")
    expect(record.page.locator(".explanation .formula")).to_be_visible()
    assert violations(record) == []
    small = record.page.locator(
        "main :is(button, textarea, summary, input, select, a.button, .moment)"
    ).evaluate_all(
        """(nodes, thumb) => nodes.filter(node => node.checkVisibility() && !node.matches('.figure-ask')
                && node.getBoundingClientRect().height < thumb).map(node => node.outerHTML.slice(0, 120))""",
        THUMB,
    )
    assert small == []
    width, room = record.page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert width <= room
