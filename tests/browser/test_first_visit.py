# SPDX-License-Identifier: BSD-3-Clause
"""A newcomer with an empty folder has a live ring."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Request, expect

from ringwright.antenna.figures.addresses import ADDRESS_MARKS
from ringwright.antenna.scenario import RUCKSACK_BRAID, TERRACE_OCTAGON
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import Opener, served
from tests.browser.serving import Serving, lay

pytestmark = pytest.mark.needs("chromium")

SLIVER = 3.0  # px
LARGEST_PAGE = 400_000  # bytes over the wire at a first visit, the promise of the page


def test_empty_folder_opens_a_live_ring(open_bench: Opener, serving: Serving, screen: str):
    bench = open_bench("/", screen=screen)
    expect(bench.page).to_have_url(f"{serving.address}/ring")
    expect(bench.page.locator(".band-row")).to_have_count(3)
    assert bench.volts > 0.0
    expect(bench.page.locator(".swr .curve")).to_have_count(1)
    expect(bench.page.locator(".reflection .curve")).to_have_count(1)
    assert list(serving.folder.rglob("*.toml")) == []  # looking at a ring writes nothing


def test_an_address_without_a_design_opens_the_one_of_the_folder_written_last(
    browser: Browser, tmp_path: Path
):
    lay(tmp_path, terrace=TERRACE_OCTAGON)
    with served(tmp_path) as server:
        page = browser.new_page()
        page.goto(server.address)
        expect(page).to_have_url(f"{server.address}/ring?design=terrace")
        for path in ("tune", "record"):  # one way in for all of them
            page.goto(f"{server.address}/{path}?band=30m")
            expect(page).to_have_url(f"{server.address}/{path}?band=30m&design=terrace")
            expect(page.get_by_label("design", exact=True)).to_have_value("terrace")
        page.get_by_label("design", exact=True).select_option("")  # the first ring, asked for by name
        expect(page).to_have_url(f"{server.address}/record?band=30m&design=")
        page.reload()
        expect(page.get_by_label("design", exact=True)).to_have_value("")
        page.go_back()
        expect(page.get_by_label("design", exact=True)).to_have_value("terrace")
        lay(tmp_path, braid=RUCKSACK_BRAID)
        page.goto(server.address)
        expect(page).to_have_url(f"{server.address}/ring?design=braid")
        expect(page.get_by_text("This is braid, the design written last; the other one is")).to_be_visible()
        page.get_by_label("design", exact=True).select_option("terrace")
        expect(page).to_have_url(f"{server.address}/ring?design=terrace")
        page.close()


def test_nothing_sticks_out_sideways(open_bench: Opener, screen: str):
    bench = open_bench(screen=screen)
    excess = bench.page.evaluate(
        "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    )
    assert excess == 0


def test_page_is_light_and_comes_from_here(browser: Browser, serving: Serving):
    context = browser.new_context()  # a memory with nothing in it
    finished: list[Request] = []
    page = context.new_page()
    page.on("requestfinished", lambda request: finished.append(request))  # noqa: PLW0108 -- a plain method is refused
    BenchPage(page, serving.address).open("/")
    page.wait_for_load_state("networkidle")
    sizes = [request.sizes() for request in finished]
    weight = sum(size["responseBodySize"] + size["responseHeadersSize"] for size in sizes)
    context.close()
    assert len(finished) >= 6  # page, script, style, type, and what it asks
    assert 0 < weight < LARGEST_PAGE


def test_watt_bar_shows_each_share_of_the_prediction(open_bench: Opener):
    bench = open_bench()
    answer = bench.page.request.post(f"{bench.address}/api/v1/predict", data={}).json()
    for band in answer["prediction"]["bands"]:
        shares = {name: share for name, share in band["watts_pct"].items() if share is not None}
        shares.pop("sum")
        bar = bench.band(band["band"]).locator(".watt-bar")
        widths = bar.locator("button").evaluate_all(
            "nodes => nodes.map(node => node.getBoundingClientRect().width)"
        )
        order = [mark.name for mark in ADDRESS_MARKS if mark.name in shares]
        whole = sum(widths)
        for name, width in zip(order, widths, strict=True):
            # A sliver keeps 3 px so that it can be seen; the others give way by as much. Half a pixel for rounding.
            expected = [share / sum(shares.values()) * whole for share in shares.values()]
            given = sum(max(SLIVER - one, 0.0) for one in expected)
            mine = shares[name] / sum(shares.values()) * whole
            assert width == pytest.approx(max(mine, SLIVER), abs=given + 0.5)


def test_addresses_look_the_same_here_as_on_the_terminal(open_bench: Opener):
    bench = open_bench()
    root = bench.page.locator(":root")
    for mark in ADDRESS_MARKS:
        colour = root.evaluate(f"node => getComputedStyle(node).getPropertyValue('--{mark.name}')")
        assert str(colour).upper() == mark.colour
    names = (
        bench.band("20m")
        .locator(".watt-bar button")
        .evaluate_all("nodes => nodes.map(node => node.getAttribute('aria-label'))")
    )
    shown = [re.sub(r", [\d.]+ per cent", "", name) for name in names]
    assert shown == [mark.words for mark in ADDRESS_MARKS if mark.words in shown]


def test_per_cent_always_stands_beside_decibels(open_bench: Opener):
    bench = open_bench()
    bench.page.locator(".folded summary").first.click()
    expect(bench.page.locator(".folded[open] .figure-list").first).to_be_visible()
    for text in bench.page.locator(".band-sky, .figure-list dd:has-text('%')").all_inner_texts():
        assert "dB" in text or text.startswith("100")  # the sum of all is no share


def test_every_page_is_one_tap_away_on_any_screen(open_bench, screen):
    bench = open_bench(screen=screen)
    links = bench.page.locator("nav.pages a")
    expect(links).to_have_count(8)
    for link in links.all():
        expect(link).to_be_in_viewport(ratio=1.0)
