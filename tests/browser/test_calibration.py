# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps are accepted on the page Prove, and the page Ring shows the prediction with them and without."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from ringwright.antenna.design_file import (
    build_checksum,
    calibration_text,
    parse_design,
    read_calibration,
    text_checksum,
)
from ringwright.antenna.predict import predict
from tests.antenna.layers import layer
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import opener, served
from tests.browser.serving import Serving
from tests.browser.test_prove_page import ProvePage, give
from tests.web.test_calibration_routes import RING, sweep_of

pytestmark = pytest.mark.needs("chromium")


@pytest.fixture
def serving(tmp_path: Path) -> Iterator[Serving]:
    folder = tmp_path / "bench"
    (folder / "designs").mkdir(parents=True)
    (folder / "designs" / "ring.toml").write_text(RING, encoding="utf-8")
    with served(folder) as server:
        yield server


@pytest.fixture
def open_prove(browser, serving: Serving):
    yield from opener(browser, serving, ProvePage)


@pytest.fixture
def open_bench(browser, serving: Serving):
    yield from opener(browser, serving, BenchPage)


def put_layer(serving: Serving) -> None:
    """A capacitor of 1.3 times the declared Q, known to a tenth of what the tolerance states."""
    known = layer(
        shift=(0.2624, 0.0, 0.0, 0.0),
        spread=(0.03, 0.05, 0.0, 0.0),
        text_sha256=text_checksum(RING),
        build_sha256=build_checksum(RING),
        design="Bench ring",
    )
    folder = serving.folder / "calibrations"
    folder.mkdir()
    (folder / "after cure.toml").write_text(calibration_text(known), encoding="utf-8")


def test_sweeps_are_accepted_and_shown_on_the_page_ring(open_prove, serving: Serving, tmp_path: Path):
    q = predict(parse_design(RING, source="ring.toml")).bands[0].q_unloaded
    sweep = tmp_path / "40m.s1p"
    sweep.write_text(sweep_of(0.9 * q)["text"], encoding="ascii")
    page = open_prove("/prove?design=ring").page
    give(page, sweep)
    form = page.get_by_role("form", name="Let the prediction learn from it")
    press = form.get_by_role("button", name="Accept these sweeps")
    expect(press).to_be_disabled()
    form.get_by_label("Calibration").fill("a/b")
    expect(press).to_be_disabled()
    form.get_by_label("Calibration").fill("as built")
    press.press("Enter")
    expect(form).to_contain_text("Accepted as as built, in calibrations/as built.toml.")
    expect(form.get_by_role("row", name="capacitor's Q, times")).to_be_visible()
    assert read_calibration(serving.folder / "calibrations" / "as built.toml").shift[0] < 0.0
    assert (serving.folder / "designs" / "ring.toml").read_text(encoding="utf-8") == RING
    form.get_by_role("button", name="Show it on the page Ring").click()
    switch = page.get_by_label("Predicted")
    expect(switch).to_have_value("as built")
    expect(page.locator(".layer-switch")).to_contain_text("From 40m.s1p, accepted 20")
    expect(page).to_have_url(re.compile(r"/ring\?.*calibration=as\+built"))


def test_a_layer_is_put_on_and_off_and_kept_in_the_address(open_bench, serving: Serving, screen):
    put_layer(serving)
    window = open_bench("/ring?design=ring", screen=screen)
    page = window.page
    switch, said = page.get_by_label("Predicted"), page.locator(".layer-switch")
    expect(switch).to_have_value("")
    switch.select_option("after cure")
    window.settle()
    expect(said).to_contain_text("From 40m.s1p, accepted 2026-06-01.")
    expect(page).to_have_url(re.compile(r"calibration=after\+cure"))
    window.reload()
    expect(switch).to_have_value("after cure")
    expect(said).to_contain_text("Ranges are of the rings that fit.")
    page.go_back()
    window.settle()
    expect(switch).to_have_value("")
    expect(said).not_to_contain_text("accepted 2026")
    overflow = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert page.evaluate(overflow) <= 0


def test_of_another_ring_a_layer_is_not_shown(open_bench, serving: Serving):
    put_layer(serving)
    page = open_bench("/ring?design=ring&calibration=after+cure&set=capacitor.q%3D900").page
    expect(page.locator(".layer-switch")).to_contain_text(
        "after cure is of another ring than this one now is"
    )
    page.get_by_role("button", name="drop 1 change").click()
    expect(page.locator(".layer-switch")).to_contain_text("Ranges are of the rings that fit.")
