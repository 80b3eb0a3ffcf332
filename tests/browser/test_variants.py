# SPDX-License-Identifier: BSD-3-Clause
"""Pins, bands and the address: back, bookmark and a second window show what was there."""

import pytest

from tests.browser.conftest import Opener

pytestmark = pytest.mark.needs("chromium")


def test_pin_stays_as_a_ghost_in_every_plot(open_bench: Opener, screen: str):
    bench = open_bench(screen=screen)
    ring = bench.page.locator(".ring-drawing > .ghost path").first
    curve = bench.page.locator(".swr .curve").get_attribute("d")
    bench.page.get_by_role("button", name="Pin A").click()
    bench.set("ring.perimeter", "4.0 m")
    assert ring.count() == 1
    assert bench.page.locator(".swr .ghost-curve.pin-A").count() == 1
    assert bench.page.locator(".reflection .ghost-curve.pin-A").count() == 1
    assert bench.page.locator(".ghost-bar.pin-A").count() == 3
    assert bench.page.locator(".swr .curve:not(.ghost-curve)").get_attribute("d") != curve
    bench.page.get_by_role("button", name="remove variant A").click()
    assert bench.page.locator(".ghost, .ghost-curve, .ghost-bar").count() == 0


def test_pinned_variant_is_taken_up_again(open_bench: Opener):
    bench = open_bench()
    bench.set("ring.perimeter", "2.50 m")
    bench.page.get_by_role("button", name="Pin A").click()
    bench.set("ring.perimeter", "5.00 m")
    bench.page.get_by_role("button", name="take up variant A").click()
    bench.page.wait_for_function(
        "() => document.querySelector('[data-key=\"ring.perimeter\"] .typed').value == '2.50 m'"
    )


def test_address_brings_everything_back(open_bench: Opener):
    first = open_bench()
    first.set("ring.perimeter", "2.90 m")
    first.page.get_by_role("button", name="Pin A").click()
    first.set("ring.perimeter", "3.70 m")
    first.band("20m").locator(".band-name").click()
    first.page.wait_for_url("**/ring?*3.70*")
    second = open_bench(first.page.url.removeprefix(first.address))
    assert second.typed("ring.perimeter").input_value() == "3.70 m"
    assert second.band("20m").locator(".band-name").get_attribute("aria-pressed") == "true"
    second.page.locator(".swr .ghost-curve.pin-A").wait_for()
    for one in (first, second):
        one.page.wait_for_function(
            "() => document.querySelector('.swr figcaption').innerText.startsWith('20m')"
        )
    curves = [one.page.locator(".swr .curve").all() for one in (first, second)]
    assert [c.get_attribute("d") for c in curves[0]] == [c.get_attribute("d") for c in curves[1]]


def test_back_leads_to_the_band_before(open_bench: Opener):
    bench = open_bench()
    bench.band("30m").locator(".band-name").click()
    bench.band("20m").locator(".band-name").click()
    bench.page.go_back()
    bench.page.wait_for_function(
        "() => document.querySelector('.swr figcaption').innerText.startsWith('30m')"
    )
    bench.page.go_back()
    bench.page.wait_for_function(
        "() => document.querySelector('.swr figcaption').innerText.startsWith('40m')"
    )


def test_address_with_nonsense_still_opens_a_ring(open_bench: Opener):
    bench = open_bench("/ring?band=nowhere&pin-a=set%3Dx.y%253D1&set=ring.shape%3Doctagon")
    assert bench.page.locator(".band-row.chosen").get_attribute("data-band") == "40m"
    bench.note("Variant A").wait_for()
    bench.expected_complaint = "422"  # the browser reports the refused variant


def test_light_is_remembered(open_bench: Opener):
    bench = open_bench(dark=True)
    root = bench.page.locator(":root")
    assert root.get_attribute("data-theme") == "dark"
    bench.page.get_by_role("button", name="dark; change to light").click()
    bench.page.reload()
    bench.page.wait_for_selector(".ring-drawing")
    assert root.get_attribute("data-theme") == "light"
