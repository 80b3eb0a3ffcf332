# SPDX-License-Identifier: BSD-3-Clause
"""From a brief to a ring on the bench: with mouse and keys, refused, impossible, on a phone and at night."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import expect

from tests.browser.bench_page import BenchPage
from tests.browser.conftest import opener, served
from tests.browser.serving import Serving
from tests.browser.test_access import AXE, violations

pytestmark = pytest.mark.needs("chromium")

DESIGN = """\
format = 1
name = "Site"
bands = ["20m"]
[ring]
perimeter = "3 m"
[coupling]
diameter = "0.15 m"
[capacitor]
minimum = "10 pF"
maximum = "100 pF"
[site]
height = "2 m"
earth = "free space"
[[site.people]]
name = "neighbour"
at = ["5 m", "3 m", "2 m"]
"""


class BriefPage(BenchPage):
    PATH = "/brief?design=site"

    def settle(self) -> None:
        self.page.wait_for_selector(".brief-form .chip >> nth=12")

    def fill(self, label: str, text: str) -> None:
        field = self.page.get_by_label(label, exact=True)
        field.fill(text)
        field.press("Tab")

    def seek(self) -> None:
        self.page.get_by_role("button", name="Find the rings").click()
        expect(self.page.locator('.brief-bench[data-searching="false"]')).to_be_visible()


@pytest.fixture(scope="module")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("brief")
    for name in ("designs", "sweeps", "sheets"):  # a workspace: solutions are kept in it
        (folder / name).mkdir()
    (folder / "designs" / "site.toml").write_text(DESIGN, encoding="utf-8")
    with served(folder) as server:
        yield server


@pytest.fixture
def open_brief(browser, serving: Serving):
    yield from opener(browser, serving, BriefPage)


def ask_little(brief: BriefPage) -> None:
    """One band, one shape, two sizes, one tube, all capacitors: a dozen solutions."""
    page = brief.page
    for band in ("40m", "30m"):
        page.get_by_role("button", name=band, exact=True).click()
    brief.fill("to", "2.6 m")
    brief.fill("sizes", "2")
    page.get_by_text("Conductors: all").click()
    page.get_by_role("button", name="None").first.click()
    page.get_by_label("EN 1057 22 x 1", exact=True).check()


def test_a_brief_is_answered_by_rings_and_one_opens_on_the_bench(open_brief, serving):
    brief = open_brief()
    page = brief.page
    ask_little(brief)
    brief.fill("Power", "20")
    brief.seek()
    expect(page.get_by_role("alert").first).to_contain_text("has no unit")
    brief.fill("Power", "20 W")
    brief.seek()
    rings = page.locator(".front-ring")
    expect(rings.first).to_be_visible()
    expect(page.get_by_role("heading", name="Why not the others")).to_be_visible()
    expect(page.locator(".brief-why")).to_contain_text(re.compile(r"16 considered, \d+ provably out"))
    expect(page.locator(".brief-where")).to_contain_text(
        "2.00 m up, earth: free space; no metal and 1 person"
    )
    last = rings.last
    last.focus()
    page.keyboard.press("Enter")
    expect(last).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".brief-chosen")).to_contain_text("Solved for itself on your site")
    if AXE.exists():
        assert violations(brief) == []
    page.get_by_role("button", name="Keep this ring and open it").click()
    expect(page).to_have_url(re.compile(r"/ring\?design=octagon-of-2"))
    expect(page.locator('#main[data-settled="true"]')).to_be_visible()
    assert len(list((serving.folder / "designs").iterdir())) == 2
    assert list((serving.folder / "searches").iterdir())


def test_an_impossible_brief_says_what_to_relax_also_on_a_phone_at_night(open_brief):
    brief = open_brief(screen="phone", dark=True)
    page = brief.page
    ask_little(brief)
    brief.fill("Width", "0.3 m")
    brief.seek()
    expect(page.locator(".brief-nearest")).to_contain_text(re.compile(r"make room\.width at least 0\.6\d+ m"))
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    if AXE.exists():
        assert violations(brief) == []
