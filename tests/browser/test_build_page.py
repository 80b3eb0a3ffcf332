# SPDX-License-Identifier: BSD-3-Clause
"""To the workshop: the drawings, the lists in the person's units, and files that arrive whole."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

import pytest
from playwright.sync_api import expect

from ringwright.antenna.scenario import FIRST_RING, TERRACE_OCTAGON
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import opener, served
from tests.browser.serving import Serving, lay, put
from tests.browser.test_access import AXE, THUMB, violations

pytestmark = pytest.mark.needs("chromium")


class BuildPage(BenchPage):
    PATH = "/build?design=terrace"

    def settle(self) -> None:
        self.page.wait_for_selector('.build-bench[data-settled="true"]')


@pytest.fixture(scope="module")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("build")
    lay(folder, terrace=TERRACE_OCTAGON, first=FIRST_RING)
    with served(folder) as server:
        yield server


@pytest.fixture
def open_build(browser, serving: Serving):
    yield from opener(browser, serving, BuildPage)


def test_what_to_cut_and_buy_stands_beside_the_drawing(open_build, screen):
    build = open_build(screen=screen)
    page = build.page
    expect(page.get_by_role("img", name="The ring taken apart")).to_be_visible()
    side = page.get_by_role("row", name=re.compile("A side"))
    expect(side).to_contain_text("559 mm")
    expect(side).to_contain_text("22.5°, both")
    expect(page.locator(".shopping")).to_contain_text("22 mm tube, wall 1 mm, water tube copper")
    expect(page.get_by_text("Sawn metal cuts")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    if AXE.exists():
        assert violations(build) == []
    if screen == "phone":
        for control in page.locator(".build-bench :is(button, select)").all():
            box = control.bounding_box()
            assert box is not None
            assert min(box["width"], box["height"]) >= THUMB


def test_two_bars_tell_a_step_from_the_width_and_a_number_how_it_is_known(open_build):
    page = open_build().page
    bars = page.locator(".resolution li").first.locator("rect")
    step, width = (float(bar.get_attribute("width") or "nan") for bar in bars.all())
    assert 0.0 < step < width == 100.0
    first = page.locator(".resolution li").first
    expect(first).to_contain_text(re.compile(r"one step.*Hz.*width.*Hz"))
    page.get_by_role("button", name="Explain").press("Enter")
    row = page.locator("dt", has_text="ballast to add").locator("+ dd")
    row.get_by_role("button").press("Enter")
    expect(page.locator(".explanation")).to_contain_text("EN 1990")


def test_imperial_reaches_lists_and_drawings(open_build):
    build = open_build()
    build.page.get_by_role("button", name=re.compile("feet|metres", re.IGNORECASE)).press("Enter")
    expect(build.page.get_by_role("row", name=re.compile("A side"))).to_contain_text("22 in")
    build.settle()
    expect(build.page.locator(".drawn text", has_text="22 in").first).to_be_visible()
    expect(build.page.locator(".build-bench")).not_to_contain_text(re.compile(r"\d\s?kg"))
    expect(build.page.locator(".build-bench")).not_to_contain_text(re.compile(r"\d\.\d+\s?in of air"))
    wall = build.page.locator("dt", has_text=re.compile("wall|box")).locator("+ dd").first
    expect(wall).to_have_text(re.compile(r"^(\d+ )?\d+(/(2|4|8|16|32))?\s?in$"))


def test_a_change_in_the_file_comes_onto_the_page(open_build, serving):
    build = open_build("/build?design=first")
    expect(build.page.get_by_role("row", name=re.compile("A the ring"))).to_contain_text("3370 mm")
    text = serving.file("first").read_text(encoding="utf-8")
    put(
        serving.file("first"),
        text.replace('"3.2 m"', '"3 m"') + '\n[[parts]]\nname = "ties"\nprice = "2.50 EUR"\n',
    )
    expect(build.page.get_by_role("row", name=re.compile("A the ring"))).to_contain_text("3170 mm")
    expect(build.page.locator(".build-part", has=build.page.locator("#buy"))).to_contain_text(
        "Together 2.50 EUR"
    )


FILES = {
    "Sheet for the bench": "terrace-octagon-sheet.pdf",
    "Templates at 1:1": "terrace-octagon-templates.pdf",
    "Both in one file": "terrace-octagon-sheet.pdf",
}


def test_pdfs_and_drawings_come_as_files(open_build, tmp_path):
    page = open_build().page
    page.get_by_label("Paper").select_option("letter")
    for button, name in FILES.items():
        pressed = page.get_by_role("button", name=button)
        expect(pressed).to_be_enabled()
        with page.expect_download() as waiting:
            pressed.press("Enter")
        assert waiting.value.suggested_filename == name
        waiting.value.save_as(tmp_path / name)
        assert (tmp_path / name).read_bytes().startswith(b"%PDF-")
    buttons = page.get_by_role("button", name=re.compile("^Save as SVG"))
    expect(buttons).to_have_count(9)
    with page.expect_download() as waiting:
        buttons.first.press("Enter")
    assert waiting.value.suggested_filename == "exploded.svg"
    waiting.value.save_as(tmp_path / "a.svg")
    root = ET.parse(tmp_path / "a.svg").getroot()
    assert root.get("width") == "178mm"


def test_a_draft_that_is_no_design_says_so(open_build, serving):
    build = open_build("/build?design=first")
    good = serving.file("first").read_text(encoding="utf-8")
    put(serving.file("first"), good.replace("feet = 4", "feet = 2"))
    expect(build.page.locator('main[data-settled="true"]')).to_have_count(0)
    put(serving.file("first"), good)
    build.settle()
