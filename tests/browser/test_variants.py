# SPDX-License-Identifier: BSD-3-Clause
"""Pins, bands and the address: back, bookmark and a second window show what was there."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Opener

pytestmark = pytest.mark.needs("chromium")

BAND = {name: re.compile(f"^{name}") for name in ("40m", "30m", "20m")}
"""How the caption of the chosen band begins."""


def test_pin_stays_as_a_ghost_in_every_plot(open_bench: Opener, screen: str):
    bench = open_bench(screen=screen)
    ring = bench.page.locator(".ring-drawing > .ghost path").first
    curve = bench.page.locator(".swr .curve").get_attribute("d")
    bench.page.get_by_role("button", name="Pin A").click()
    bench.set("ring.perimeter", "4.0 m")
    expect(ring).to_have_count(1)
    expect(bench.page.locator(".swr .ghost-curve.pin-A")).to_have_count(1)
    expect(bench.page.locator(".reflection .ghost-curve.pin-A")).to_have_count(1)
    expect(bench.page.locator(".ghost-bar.pin-A")).to_have_count(3)
    expect(bench.page.locator(".swr .curve:not(.ghost-curve)")).not_to_have_attribute("d", curve or "none")
    bench.page.get_by_role("button", name="remove variant A").click()
    expect(bench.page.locator(".ghost, .ghost-curve, .ghost-bar")).to_have_count(0)


def test_pinned_variant_is_taken_up_again(open_bench: Opener):
    bench = open_bench()
    bench.set("ring.perimeter", "2.50 m")
    bench.page.get_by_role("button", name="Pin A").click()
    bench.set("ring.perimeter", "5.00 m")
    bench.page.get_by_role("button", name="take up variant A").click()
    expect(bench.typed("ring.perimeter")).to_have_value("2.50 m")


def test_address_brings_everything_back(open_bench: Opener):
    first = open_bench()
    first.set("ring.perimeter", "2.90 m")
    first.page.get_by_role("button", name="Pin A").click()
    first.set("ring.perimeter", "3.70 m")
    first.band("20m").locator(".band-name").click()
    first.page.wait_for_url("**/ring?*3.70*")
    second = open_bench(first.page.url.removeprefix(first.address))
    expect(second.typed("ring.perimeter")).to_have_value("3.70 m")
    expect(second.band("20m").locator(".band-name")).to_have_attribute("aria-pressed", "true")
    for one in (first, second):
        expect(one.page.locator(".swr .ghost-curve.pin-A")).to_be_attached()
        expect(one.page.locator(".swr figcaption")).to_contain_text(BAND["20m"], use_inner_text=True)
        one.settle()
    drawn = "nodes => nodes.map(node => node.getAttribute('d'))"
    curves = [one.page.locator(".swr .curve").evaluate_all(drawn) for one in (first, second)]
    assert len(curves[0]) == 2
    assert curves[0] == curves[1]


def test_back_leads_to_the_band_before(open_bench: Opener):
    bench = open_bench()
    bench.band("30m").locator(".band-name").click()
    bench.band("20m").locator(".band-name").click()
    bench.page.go_back()
    expect(bench.page.locator(".swr figcaption")).to_contain_text(BAND["30m"], use_inner_text=True)
    bench.page.go_back()
    expect(bench.page.locator(".swr figcaption")).to_contain_text(BAND["40m"], use_inner_text=True)


def test_address_with_nonsense_still_opens_a_ring(open_bench: Opener):
    bench = open_bench("/ring?band=nowhere&pin-a=set%3Dx.y%253D1&set=ring.shape%3Doctagon")
    expect(bench.page.locator(".band-row.chosen")).to_have_attribute("data-band", "40m")
    bench.expect_note("Variant A")
    bench.expected_complaint = "422"  # the browser reports the refused variant


def test_light_is_remembered(open_bench: Opener):
    bench = open_bench(dark=True)
    root = bench.page.locator(":root")
    expect(root).to_have_attribute("data-theme", "dark")
    bench.page.get_by_role("button", name="dark; change to light").click()
    expect(root).to_have_attribute("data-theme", "light")
    bench.reload()
    expect(root).to_have_attribute("data-theme", "light")
