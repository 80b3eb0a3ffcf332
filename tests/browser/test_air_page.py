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
    if screen == "phone":
        for role in ("button", "combobox", "slider"):
            for part in page.locator(".air-bench").get_by_role(role).all():
                box = part.bounding_box()
                assert box is None or box["height"] >= THUMB, part


def test_rejected_rows_stretches_of_time_and_antennas_are_a_tap_away(open_air, reports: Path):
    page = open_air().page
    give(page, reports)
    summary = page.locator(".rejected summary")
    expect(summary).to_contain_text("rejected")
    expect(page.locator(".rejected li").first).not_to_be_visible()
    summary.click()
    expect(page.locator(".rejected li", has_text='"J062QM" is no locator')).to_be_visible()

    words = page.locator(".verdict-words")
    expect(words).to_be_visible()
    before = words.inner_text()
    first = page.locator(".versus select").first
    first.select_option("dipole" if first.input_value() == "ring" else "ring")
    expect(words).not_to_have_text(before)
    expect(words).to_contain_text("better" if "worse" in before else "worse")

    place(page, "ZZ99")
    expect(page.locator(".own-place .refusal")).to_contain_text("is no locator")
    expect(words).to_be_visible()

    status = page.locator('.aired [role="status"]')
    expect(status).to_contain_text(" reports are shown")
    whole = status.inner_text()
    end = page.get_by_label(re.compile("^to "))
    end.focus()
    for _ in range(20):
        end.press("ArrowLeft")
    expect(status).not_to_have_text(whole)
    page.get_by_role("button", name="All of it").click()
    expect(status).to_have_text(whole)

    page.locator(".time-brush svg").scroll_into_view_if_needed()
    box = page.locator(".time-brush svg").bounding_box()
    assert box is not None
    middle = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + box["width"] * 0.25, middle)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] * 0.5, middle, steps=4)
    page.mouse.up()
    expect(page.locator(".time-brush .bar.in")).to_have_count(30)


def test_a_table_that_no_heading_tells_is_read_once_its_columns_are_named(open_air, tmp_path: Path):
    path = tmp_path / "list.csv"
    path.write_text("t,qrg,who\n2026-05-01T12:00,7038.6,QX1AB\n", encoding="ascii")
    window = open_air()
    window.expected_complaint = "422"  # the browser's own word on a file that was refused
    page = window.page
    page.get_by_label("report files").set_input_files([path])
    expect(page.locator(".refused-file .refusal")).to_contain_text("no column is known")
    mapper = page.get_by_role("form", name="Columns of list.csv")
    for role, column in (("time, UTC", "1"), ("frequency", "2"), ("receiver", "3"), ("frequency in", "khz")):
        mapper.get_by_role("combobox", name=role, exact=True).select_option(column)
    page.get_by_role("button", name="Read it so").click()
    expect(page.locator(".on-the-page .sweep-name")).to_have_text(["list.csv"])
    expect(page.locator(".refused-file")).to_have_count(0)
    expect(page.locator('.aired [role="status"]')).to_contain_text("1 of 1 reports are shown")


def test_plan_and_map_are_saved_and_the_plan_is_checked(open_air, reports: Path, tmp_path: Path):
    page = open_air().page
    page.get_by_text("Plan a fair comparison").click()
    page.get_by_label("start, UTC").fill("2026-01-01T00:00")
    page.get_by_label("slots").fill("300")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the plan").click()
    plan = tmp_path / download.value.suggested_filename
    download.value.save_as(plan)
    assert plan.read_text().startswith("start,end,antenna\n2026-01-01T00:00:00Z,2026-01-01T00:02:00Z,")
    give(page, reports, plan)
    place(page, "JN58td")
    expect(page.locator(".on-the-page")).to_contain_text("plan of 300 slots")
    expect(page.locator(".air-verdict")).to_contain_text(re.compile("more of the weaker one|equal shares"))
    for kind, begins in (("SVG", b"<svg"), ("PNG", b"\x89PNG")):
        with page.expect_download() as download:
            page.get_by_role("button", name=f"Save the map as {kind}").click()
        assert Path(download.value.path()).read_bytes().startswith(begins)


def test_reports_are_kept_and_one_antenna_is_asked_about_alone(open_air, serving: Serving, reports: Path):
    page = open_air().page
    give(page, reports)
    place(page, "JN58td")
    keep = page.locator(".in-the-record button")
    expect(keep).to_have_text(re.compile(r"^Keep .* in the record$"))
    keep.click()
    expect(keep).to_have_text("All kept in the record")
    page.get_by_role("button", name=f"Take off {reports.name}").click()
    expect(page.locator(".on-the-page")).to_have_count(0)
    expect(page.locator(".world-map .dot")).to_have_count(6)  # the record's
    expect(page.locator(".air-light tbody tr")).to_have_count(3)
    page.get_by_text("Against its own past").click()
    page.get_by_role("combobox", name="Antenna", exact=True).select_option("ring")
    page.get_by_label("Changed on").fill("2026-01-02")
    expect(page.locator(".air-past")).to_contain_text("It cannot say whether the antenna, the sky")
    page.get_by_text("Where it is quiet").click()
    page.get_by_label("Plane of ring").fill("90")
    page.get_by_role("button", name="Find the null").click()
    expect(page.locator(".air-null")).to_contain_text("predicted on 40m: true bearing")
    page.get_by_text("What their designs promise").click()
    page.get_by_role("button", name="Set them beside it").click()
    expect(page.locator(".promise-words")).to_contain_text("The designs promise")
    page.get_by_label("with the ").uncheck()
    expect(page.locator(".world-map")).to_have_count(0)
    (serving.folder / "records.sqlite").unlink()
