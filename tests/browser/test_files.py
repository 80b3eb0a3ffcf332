# SPDX-License-Identifier: BSD-3-Clause
"""Saving and files that change under the page: comments stay, nobody's edit is lost."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from ringwright.antenna.scenario import FIRST_RING, shipped_text
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import Opener, served
from tests.browser.serving import Serving, put

pytestmark = pytest.mark.needs("chromium")

START = shipped_text(FIRST_RING)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    """One for all: what a ring was solved for once is known to the next test."""
    with served(tmp_path_factory.mktemp("files")) as running:
        yield running


@pytest.fixture
def serving(server: Serving) -> Serving:
    """An empty folder again."""
    for path in server.folder.glob("designs/*"):
        path.unlink()
    return server


@pytest.fixture
def terrace(serving: Serving) -> Path:
    """A design file with the person's own comment."""
    path = serving.file("terrace")
    path.parent.mkdir(exist_ok=True)
    put(path, START.replace("[ring]", "[ring]  # the one on the terrace"))
    return path


def rewrite(path: Path, old: str, new: str) -> str:
    text = path.read_text(encoding="utf-8")
    assert old in text
    put(path, text.replace(old, new))
    return path.read_text(encoding="utf-8")


def open_conflict(bench: BenchPage, path: Path) -> str:
    """The same key changed here and in the file, then saved; returns what the file holds."""
    bench.set("ring.perimeter", "4.00 m")
    bench.set("capacitor.stray", "6.0 pF")
    text = rewrite(path, 'perimeter = "3.2 m"', 'perimeter = "2.0 m"')
    bench.expect_note("Saving will ask")
    bench.page.get_by_role("button", name="Save").click()
    expect(bench.page.get_by_role("dialog")).to_be_visible()
    bench.expected_complaint = "409"  # the browser reports the answer that means "conflict"
    return text


def test_first_save_asks_for_a_name_and_keeps_the_comments(open_bench: Opener, serving: Serving, screen: str):
    bench = open_bench(screen=screen)
    bench.set("ring.perimeter", "3.50 m")
    bench.save_as("garden")
    written = serving.file("garden").read_text(encoding="utf-8")
    assert written == START.replace('perimeter = "3.2 m" ', 'perimeter = "3.50 m"')
    bench.page.wait_for_url("**/ring?design=garden")
    expect(bench.page.get_by_role("button", name="Save")).to_be_disabled()


def test_name_that_is_taken_is_refused_in_the_dialog(open_bench: Opener, terrace: Path):
    bench = open_bench("/ring?design=")  # the first ring, though the folder holds another design
    text = terrace.read_text(encoding="utf-8")
    expect(bench.page.locator("option", has_text="terrace")).to_be_attached()
    bench.page.get_by_role("button", name="Save").click()
    bench.page.get_by_role("textbox", name="Name of the file").fill("terrace")
    dialog = bench.page.get_by_role("dialog")
    expect(dialog.get_by_role("alert")).to_be_visible()
    expect(dialog.get_by_role("button", name="Save")).to_be_disabled()
    bench.page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    assert terrace.read_text(encoding="utf-8") == text


def test_save_with_the_keyboard_writes_where_it_came_from(open_bench: Opener, terrace: Path):
    bench = open_bench("/ring?design=terrace")
    bench.set("capacitor.stray", "7.5 pF")
    bench.page.keyboard.press("Control+s")
    bench.expect_note("Saved as terrace.toml")
    written = terrace.read_text(encoding="utf-8")
    assert 'stray = "7.5 pF"' in written
    assert "[ring]  # the one on the terrace" in written


def test_edit_made_by_hand_appears_by_itself(open_bench: Opener, terrace: Path):
    bench = open_bench("/ring?design=terrace")
    rewrite(terrace, 'perimeter = "3.2 m"', 'perimeter = "6.28 m"')
    bench.expect_note("was changed elsewhere")
    bench.settle()
    assert bench.width == pytest.approx(2.0, rel=5e-3, abs=0)  # 6.28/pi


def test_edit_made_by_hand_leaves_changes_of_other_keys(open_bench: Opener, terrace: Path):
    bench = open_bench("/ring?design=terrace")
    bench.set("capacitor.stray", "9.0 pF")
    rewrite(terrace, 'perimeter = "3.2 m"', 'perimeter = "6.28 m"')
    expect(bench.typed("ring.perimeter")).to_have_value("6.28 m")
    bench.settle()
    assert bench.width == pytest.approx(2.0, rel=5e-3, abs=0)
    expect(bench.typed("capacitor.stray")).to_have_value("9.0 pF")


def test_conflict_shows_both_and_writes_nothing(open_bench: Opener, terrace: Path):
    bench = open_bench("/ring?design=terrace")
    text = open_conflict(bench, terrace)
    dialog = bench.page.get_by_role("dialog")
    expect(dialog).to_contain_text("ring.perimeter")
    for perimeter in ("2.0 m", "4.00 m"):
        expect(dialog.locator(".differs", has_text=f'"{perimeter}"')).to_be_visible()
    dialog.get_by_role("button", name="Decide later").click()
    expect(dialog).to_have_count(0)
    assert terrace.read_text(encoding="utf-8") == text
    expect(bench.typed("ring.perimeter")).to_have_value("4.00 m")


@pytest.mark.parametrize(
    ("button", "perimeter"), [("Mine in dispute", "4.00 m"), ("Theirs in dispute", "2.0 m")]
)
def test_conflict_is_settled_either_way(open_bench: Opener, terrace: Path, button: str, perimeter: str):
    bench = open_bench("/ring?design=terrace")
    open_conflict(bench, terrace)
    bench.page.get_by_role("dialog").get_by_role("button", name=button).click()
    bench.expect_note("Saved as terrace.toml")
    written = terrace.read_text(encoding="utf-8")
    assert f'perimeter = "{perimeter}"' in written
    assert 'stray = "6.0 pF"' in written  # nobody disputed it
    assert "# the one on the terrace" in written


def test_conflict_can_keep_both(open_bench: Opener, serving: Serving, terrace: Path):
    bench = open_bench("/ring?design=terrace")
    text = open_conflict(bench, terrace)
    bench.page.get_by_role("dialog").get_by_role("button", name="Keep both").click()
    bench.expect_note("Saved as terrace-mine.toml")
    assert terrace.read_text(encoding="utf-8") == text
    assert 'perimeter = "4.00 m"' in serving.file("terrace-mine").read_text(encoding="utf-8")


def test_file_that_goes_away_leaves_the_draft(open_bench: Opener, terrace: Path):
    bench = open_bench("/ring?design=terrace")
    bench.set("ring.perimeter", "3.90 m")
    terrace.unlink()
    bench.expect_note("is gone from the folder")
    bench.set("ring.perimeter", "3.95 m")
    bench.page.get_by_role("button", name="Save").click()
    bench.expect_note("Saved as terrace.toml")
    assert 'perimeter = "3.95 m"' in terrace.read_text(encoding="utf-8")
