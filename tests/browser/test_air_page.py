# SPDX-License-Identifier: BSD-3-Clause
"""Reports are given to the page: map, verdict, time as a brush, rejected rows a tap away."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from ringwright.antenna.scenario import TERRACE_OCTAGON
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import opener, served
from tests.browser.serving import Serving, lay
from tests.browser.test_access import THUMB, violations
from tests.cli.test_air import campaign

pytestmark = pytest.mark.needs("chromium")


class AirPage(BenchPage):
    PATH = "/air?design=terrace"

    def settle(self) -> None:
        self.page.wait_for_selector('main[data-settled="true"] .air-bench[data-settled="true"] .choose-files')


@pytest.fixture(scope="module")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("airing")
    lay(folder, terrace=TERRACE_OCTAGON)
    with served(folder) as server:
        yield server


@pytest.fixture
def open_air(browser, serving: Serving):
    opened = opener(browser, serving, AirPage)
    window = next(opened)
    yield window
    page = window().page
    for name in page.locator(".on-the-page .sweep-name").all_inner_texts():
        page.get_by_role("button", name=f"Take off {name}").click()
        expect(page.locator(".on-the-page .sweep-name", has_text=name)).to_have_count(0)
    next(opened, None)


@pytest.fixture
def reports(tmp_path: Path) -> Path:
    path: Path = campaign(tmp_path / "reports.csv", true_db=-6.0, reports=1500)
    path.write_text(path.read_text() + "2026-01-01T00:00:00Z,7.04,QX001,J062QM,-9,5,ring\n", encoding="ascii")
    return path


def give(page: Page, *files: Path) -> None:
    page.get_by_label("report files").set_input_files(list(files))
    expect(page.locator(".on-the-page .sweep-name")).to_have_count(len(files))
    expect(page.locator('.air-bench[data-settled="true"]')).to_be_visible()


def place(page: Page, locator: str) -> None:
    field = page.get_by_label("Your own locator")
    field.fill(locator)
    field.press("Enter")


def test_reports_make_a_map_a_verdict_and_bars(open_air, reports: Path, screen: str):
    window = open_air(screen=screen)
    page = window.page
    give(page, reports)
    place(page, "JN58td")
    expect(page.locator(".world-map .dot")).to_have_count(6)
    expect(page.locator(".world-map .lobe")).to_have_count(1)
    expect(page.locator(".verdict-words")).to_contain_text(
        re.compile(r"(ring is worse than dipole|dipole is better)")
    )
    expect(page.locator(".verdict-words")).to_contain_text("95 % confidence")
    expect(page.locator(".air-histograms .bar").first).to_be_attached()
    assert violations(window) == []
    width = page.evaluate("document.documentElement.scrollWidth")
    assert width <= page.viewport_size["width"]


def test_rejected_rows_are_one_tap_away(open_air, reports: Path):
    page = open_air().page
    give(page, reports)
    summary = page.locator(".rejected summary")
    expect(summary).to_contain_text("rejected")
    expect(page.locator(".rejected li").first).not_to_be_visible()
    summary.click()
    expect(page.locator(".rejected li", has_text='"J062QM" is no locator')).to_be_visible()


def test_a_stretch_of_time_is_chosen_by_keys_and_let_go(open_air, reports: Path):
    page = open_air().page
    give(page, reports)
    status = page.locator('.aired [role="status"]')
    expect(status).to_contain_text(" reports are shown")
    whole = status.inner_text()
    end = page.get_by_label(re.compile("^to "))
    end.focus()
    for _ in range(60):
        end.press("ArrowLeft")
    expect(status).not_to_have_text(whole)
    page.get_by_role("button", name="All of it").click()
    expect(status).to_have_text(whole)


def test_a_stretch_of_time_is_dragged(open_air, reports: Path):
    page = open_air().page
    give(page, reports)
    box = page.locator(".time-brush svg").bounding_box()
    assert box is not None
    page.locator(".time-brush svg").scroll_into_view_if_needed()
    box = page.locator(".time-brush svg").bounding_box()
    assert box is not None
    middle = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + box["width"] * 0.25, middle)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] * 0.5, middle, steps=4)
    page.mouse.up()
    expect(page.locator(".time-brush .bar.in")).to_have_count(30)


def test_antennas_are_exchanged(open_air, reports: Path):
    page = open_air().page
    give(page, reports)
    words = page.locator(".verdict-words")
    expect(words).to_be_visible()
    before = words.inner_text()
    first = page.locator(".versus select").first
    first.select_option("dipole" if first.input_value() == "ring" else "ring")
    expect(words).not_to_have_text(before)
    expect(words).to_contain_text("better" if "worse" in before else "worse")


def test_a_table_that_no_heading_tells_is_read_once_its_columns_are_named(open_air, tmp_path: Path):
    path = tmp_path / "list.csv"
    path.write_text("t,qrg,who\n2026-05-01T12:00,7038.6,QX1AB\n", encoding="ascii")
    window = open_air()
    window.expected_complaint = "422"  # the browser's own word on a file that was refused
    page = window.page
    page.get_by_label("report files").set_input_files([path])
    expect(page.locator(".refused-file .refusal")).to_contain_text("no column is known")
    page.get_by_label("Columns, one a line").fill("time=t\nfrequency=qrg\nfrequency_unit=kHz\nreceiver=who")
    page.get_by_role("button", name="Read it so").click()
    expect(page.locator(".on-the-page .sweep-name")).to_have_text(["list.csv"])
    expect(page.locator(".refused-file")).to_have_count(0)
    expect(page.locator('.aired [role="status"]')).to_contain_text("1 of 1 reports are shown")


def test_a_place_that_is_none_says_so_in_its_place(open_air, reports: Path):
    page = open_air().page
    give(page, reports)
    place(page, "ZZ99")
    expect(page.locator(".own-place .refusal")).to_contain_text("is no locator")
    expect(page.locator(".verdict-words")).to_be_visible()


def test_all_that_is_touched_is_large_enough_for_a_thumb(open_air, reports: Path):
    page = open_air(screen="phone").page
    give(page, reports)
    for role in ("button", "combobox", "slider"):
        for part in page.locator(".air-bench").get_by_role(role).all():
            box = part.bounding_box()
            assert box is None or box["height"] >= THUMB, part
