# SPDX-License-Identifier: BSD-3-Clause
"""The page of a brief in a folder that has a brief file of its own."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import opener, served
from tests.browser.serving import Serving
from tests.browser.test_access import AXE, violations
from tests.browser.test_brief_page import BriefPage

pytestmark = pytest.mark.needs("chromium")

BRIEF = """\
format = 1
name = "Attic"
bands = ["20m"]
power = "50 W"
mode = "CW"
transmit_share = 0.5
[site]
height = "14 ft"
[room]
width = "42 in"
[grid]
shape = ["octagon"]
perimeter = ["2.4 m", "2.4 m", 1]
conductors = ["EN 1057 22 x 1"]
capacitors = [{ kind = "vacuum", minimum = "8 pF", maximum = "250 pF", q = 3000, rated_voltage = "5 kV" }]
"""


class HomePage(BriefPage):
    PATH = "/brief"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("designs", "sweeps", "sheets"):
        (tmp_path / name).mkdir()
    (tmp_path / "brief.toml").write_text(BRIEF, encoding="utf-8")
    return tmp_path


@pytest.fixture
def serving(folder: Path) -> Iterator[Serving]:
    with served(folder) as server:
        yield server


@pytest.fixture
def open_brief(browser, serving: Serving):
    yield from opener(browser, serving, HomePage)


def test_the_page_starts_from_the_folders_brief_and_loses_nothing(open_brief, folder):
    brief = open_brief()
    page = brief.page
    told = page.locator(".brief-file")
    expect(told).to_contain_text("As in brief.toml in this folder.")
    expect(told).to_contain_text("transmit_share = 0.5")
    expect(told).to_contain_text("Left out: its [site]")
    expect(page.get_by_label("Power", exact=True)).to_have_value("50 W")
    expect(page.locator(".brief-form select")).to_have_value("CW")
    expect(page.get_by_label("Width", exact=True)).to_have_value("42 in")
    expect(page.get_by_role("button", name="20m", exact=True)).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_role("button", name="40m", exact=True)).to_have_attribute("aria-pressed", "false")
    expect(page.get_by_text("Capacitors: 1 of")).to_be_visible()
    if AXE.exists():
        assert violations(brief) == []

    brief.fill("Power", "60 W")  # mine now, also over a reload
    expect(told).to_contain_text("Changed from brief.toml")
    page.reload()
    expect(page.get_by_label("Power", exact=True)).to_have_value("60 W")
    page.get_by_role("button", name="Fill in from brief.toml").click()
    expect(page.get_by_label("Power", exact=True)).to_have_value("50 W")
    page.get_by_role("button", name="Back to what stood here").click()
    expect(page.get_by_label("Power", exact=True)).to_have_value("60 W")

    brief.seek()  # the capacitor that the file alone describes
    expect(page.locator(".brief-why")).to_contain_text(re.compile("1 considered"))

    (folder / "brief.toml").write_text(BRIEF.replace('"50 W"', '"5 W"'), encoding="utf-8")
    page.reload()  # another file is taken anew, and what stood here can be had back
    expect(page.get_by_label("Power", exact=True)).to_have_value("5 W")
    expect(page.get_by_role("button", name="Back to what stood here")).to_be_visible()

    (folder / "brief.toml").write_text(BRIEF.replace("[room]", "[romo]"), encoding="utf-8")
    page.reload()
    expect(told).to_contain_text(re.compile(r"brief\.toml: .*romo.*room"))
    expect(page.get_by_label("Power", exact=True)).to_have_value("5 W")
    expect(page.get_by_role("button", name="Find the rings")).to_be_enabled()
