# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps go from the page Prove into the record with what the person says of them, and the page says where they lie."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import expect

from ringwright.antenna.scenario import TERRACE_OCTAGON
from ringwright.records.records import Records
from tests.browser.conftest import opener, served
from tests.browser.serving import Serving, lay
from tests.browser.test_prove_page import READINGS, ProvePage, give
from tests.cli.test_prove import Q0, reflection, touchstone

pytestmark = pytest.mark.needs("chromium")

MANY = 10_001
"""Points: as many as the finest of analysers store."""


@pytest.fixture
def serving(tmp_path: Path) -> Iterator[Serving]:
    folder = tmp_path / "terrace"
    lay(folder, terrace=TERRACE_OCTAGON)
    with served(folder) as server:
        yield server


@pytest.fixture
def open_prove(browser, serving: Serving):
    yield from opener(browser, serving, ProvePage)


def long_sweep(at: float = 7.09e6) -> str:
    """A Touchstone text of `MANY` points over twenty widths of the resonator in `tests.cli.test_prove`."""
    f = at * (1.0 + np.linspace(-10.0, 10.0, MANY) / Q0)
    g = reflection(f, at=at)
    rows = (f"{one:.1f} {value.real:.7f} {value.imag:.7f}" for one, value in zip(f, g, strict=True))
    return "\n".join(["# Hz S RI R 50", *rows, ""])


def test_sweeps_are_kept_with_what_is_said_of_them(open_prove, serving: Serving, tmp_path: Path):
    page = open_prove().page
    form = page.get_by_role("form", name="Keep in the record")
    expect(page.locator(".choose-files")).to_be_visible()
    expect(form).to_have_count(0)
    give(page, touchstone(tmp_path / "good.s1p", at=7.09e6))
    page.get_by_label("SWR readings of one band").fill(READINGS)
    page.get_by_role("button", name="Add readings").click()
    keep = form.get_by_role("button", name="Keep these 2 sweeps")
    expect(keep).to_be_enabled()
    form.get_by_label("Build").fill("as built")
    form.get_by_label("Outside").fill("warm")
    expect(form.locator(".refusal")).to_contain_text("is no temperature")
    expect(keep).to_be_disabled()
    form.get_by_label("Outside").fill("4,5")
    form.get_by_label("Note").fill("dry")
    keep.press("Enter")
    kept = form.get_by_role("list", name="Kept in the record")
    expect(kept).to_contain_text("good.s1p is kept as sweep 1, sweeps/good.s1p.")
    expect(kept).to_contain_text("sweeps/40m readings.csv.")
    expect(form).to_contain_text("records.sqlite")
    expect(keep).to_have_count(0)
    with Records.open(serving.folder) as records:
        first, second = sorted(records.sweeps(), key=lambda sweep: sweep.number)
    assert (first.build, first.temperature, first.note) == ("as built", 4.5, "dry")
    assert first.measured_at.timestamp() == int((tmp_path / "good.s1p").stat().st_mtime)
    assert (second.file, second.band) == ("40m readings.csv", "40m")
    form.get_by_role("link", name="Record").click()
    expect(page.locator('.entry[data-entry="sweep 1"]')).to_be_visible()


def test_a_file_is_kept_byte_for_byte_and_does_not_come_back_by_the_folder(
    open_prove, serving: Serving, tmp_path: Path
):
    """A byte of an old code page in a comment; the copy in sweeps/ is the sweep on the page, not a second one."""
    path = touchstone(tmp_path / "old.s1p", at=7.09e6)
    path.write_bytes(b"! gel\xf6tet\r\n" + path.read_bytes())
    wide = tmp_path / "wide.s1p"
    wide.write_bytes(path.read_bytes().decode("latin-1").encode("utf-16"))
    page = open_prove().page
    give(page, path, wide)
    expect(page.locator(".sweep-card .refusal")).to_contain_text("the file is UTF-16 text")
    page.get_by_role("button", name="Take off wide.s1p").click()
    page.get_by_label("SWR readings of one band").fill(READINGS)
    page.get_by_role("button", name="Add readings").click()
    form = page.get_by_role("form", name="Keep in the record")
    form.get_by_role("button", name="Keep these 2 sweeps").click()
    expect(form.get_by_role("list", name="Kept in the record")).to_contain_text("sweeps/40m readings.csv")
    assert (serving.folder / "sweeps" / "old.s1p").read_bytes() == path.read_bytes()
    touchstone(serving.folder / "sweeps" / "stranger.s1p", at=7.08e6)  # told of after the two that were kept
    names = page.locator(".on-the-page .sweep-name")
    expect(names.filter(has_text="stranger.s1p")).to_be_visible()
    expect(names).to_have_count(3)
    expect(page.get_by_role("button", name="Take old.s1p")).to_have_count(0)


def test_another_draft_is_another_result_and_a_label_that_cannot_be_kept_says_so(open_prove, tmp_path: Path):
    window = open_prove()
    page = window.page
    window.expected_complaint = "422"
    give(page, touchstone(tmp_path / "good.s1p", at=7.09e6))
    form = page.get_by_role("form", name="Keep in the record")
    form.get_by_label("Build").fill("7")
    form.get_by_role("button", name="Keep this sweep").click()
    expect(form.locator(".refusal")).to_contain_text("cannot be a build's name")
    form.get_by_label("Build").fill("")
    form.get_by_role("button", name="Keep this sweep").click()
    expect(form.get_by_role("list", name="Kept in the record")).to_contain_text("sweep 1")
    page.goto(window.address + "/prove?design=terrace&set=ring.joints%3D4")
    give(page, tmp_path / "good.s1p")
    form.get_by_role("button", name="Keep this sweep").click()
    expect(form.get_by_role("list", name="Kept in the record")).to_contain_text("is kept as sweep 1")


def test_a_sweep_of_ten_thousand_points_is_read_fitted_and_drawn(open_prove):
    """How long it takes: `benchmarks/prove_latency.py`."""
    page = open_prove().page
    held = page.evaluate_handle(
        """text => { const held = new DataTransfer();
            held.items.add(new File([text], 'long.s1p')); return held; }""",
        long_sweep(),
    )
    page.dispatch_event("h1", "drop", {"dataTransfer": held})
    card = page.locator('.sweep-card[data-file="long.s1p"]')
    expect(card.locator(".verdict")).to_contain_text(f"Q {Q0:.0f}")
    expect(card.locator(".swr svg.plot .curve").last).to_be_visible()
