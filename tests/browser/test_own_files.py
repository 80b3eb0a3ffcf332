# SPDX-License-Identifier: BSD-3-Clause
"""A person's own design files come onto any page and write over none; changes are stepped through."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from ringwright.antenna.scenario import FIRST_RING, shipped_text
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import Opener, served
from tests.browser.serving import Serving

pytestmark = pytest.mark.needs("chromium")

START = shipped_text(FIRST_RING)


@pytest.fixture
def serving(tmp_path: Path) -> Iterator[Serving]:
    with served(tmp_path) as server:
        yield server


def drop(bench: BenchPage, name: str, text: str) -> None:
    """Let a file go over the page."""
    held = bench.page.evaluate_handle(
        """([name, text]) => { const held = new DataTransfer();
            held.items.add(new File([text], name)); return held; }""",
        [name, text],
    )
    bench.page.dispatch_event("h1", "dragover", {"dataTransfer": held})
    expect(bench.page.locator(".drop-here")).to_be_visible()
    bench.page.dispatch_event("h1", "drop", {"dataTransfer": held})
    expect(bench.page.locator(".drop-here")).to_have_count(0)


def test_a_design_is_dropped_or_opened_and_no_file_is_written_over(open_bench: Opener, serving: Serving):
    bench = open_bench()
    chosen = bench.page.get_by_label("design", exact=True)
    drop(bench, "Yard?.toml", START)
    expect(chosen).to_have_value("Yard-")
    other = START.replace('"3.2 m"', '"2.5 m"')
    drop(bench, "Yard-.toml", other)
    bench.expect_note("kept as Yard--2.toml beside the Yard-.toml that was there")
    expect(bench.typed("ring.perimeter")).to_have_value("2.5 m")
    bench.page.get_by_label("design files").set_input_files(
        {"name": "Yard-.toml", "mimeType": "application/toml", "buffer": START.encode()}
    )
    expect(chosen).to_have_value("Yard-")  # the same text is the same design
    drop(bench, "sweep.s1p", "# Hz S RI R 50\n")
    bench.expect_note("sweeps go on the page Prove")
    bench.expected_complaint = "422"  # the browser reports the refusal
    drop(bench, "bad.toml", "[ring")
    bench.expect_note("bad.toml is not taken in")
    assert serving.file("Yard-").read_text(encoding="utf-8") == START
    assert {path.name for path in serving.folder.glob("designs/*")} == {"Yard-.toml", "Yard--2.toml"}


def test_steps_lead_back_and_forth(open_bench: Opener):
    bench = open_bench()
    perimeter = bench.typed("ring.perimeter")
    first = perimeter.input_value()
    back = bench.page.get_by_role("button", name="undo the last change")
    expect(back).to_be_disabled()
    bench.set("ring.perimeter", "2.50 m")
    bench.set("ring.perimeter", "2.60 m")
    bench.page.locator("main").press("Control+z")
    expect(perimeter).to_have_value("2.50 m")
    back.click()
    expect(perimeter).to_have_value(first)
    expect(back).to_be_disabled()
    bench.page.locator("main").press("Control+Shift+z")
    bench.page.get_by_role("button", name="do again what was undone").click()
    expect(perimeter).to_have_value("2.60 m")
    bench.page.get_by_role("button", name="drop 1 change").click()
    expect(perimeter).to_have_value(first)
    bench.page.locator("main").press("Control+z")
    expect(perimeter).to_have_value("2.60 m")
    bench.settle()
