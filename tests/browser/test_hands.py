# SPDX-License-Identifier: BSD-3-Clause
"""Dragging, typing, choosing: the picture answers, and what cannot be built says so in its place."""

import math
import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Opener

pytestmark = pytest.mark.needs("chromium")


def test_dragging_the_perimeter_moves_everything(open_bench: Opener, screen: str):
    bench = open_bench(screen=screen)
    before = (bench.seq, bench.volts, bench.page.locator(".swr .curve").get_attribute("d"))
    slider = bench.slider("ring.perimeter")
    slider.scroll_into_view_if_needed()
    left, top, width, height = bench.still(slider)
    middle = top + height / 2.0
    bench.page.mouse.move(left + width / 2.0, middle)
    bench.page.mouse.down()
    for share in (0.53, 0.56, 0.6):
        seen = bench.seq
        bench.page.mouse.move(left + width * share, middle)
        bench.wait_for_seq_above(seen)
    bench.page.mouse.up()
    bench.settle()
    assert bench.seq >= before[0] + 3
    assert bench.volts != before[1]
    assert bench.page.locator(".swr .curve").get_attribute("d") != before[2]


def test_typed_perimeter_is_drawn_to_scale(open_bench: Opener):
    bench = open_bench()
    for text, metres in (("4.4 m", 4.4), ("10 ft", 3.048), ("2.5", 2.5)):
        bench.set("ring.perimeter", text)
        # A circle; the dimension line has three digits, so half of its last one may be off, at most 0.5 %.
        assert bench.width == pytest.approx(metres / math.pi, rel=5e-3, abs=0), text


def test_octagon_is_as_wide_across_its_flats_as_euclid_says(open_bench: Opener):
    bench = open_bench()
    bench.set("ring.perimeter", "4.40 m")
    bench.slider("ring.shape").press("ArrowLeft")
    bench.settle()
    across_flats = (1.0 + math.sqrt(2.0)) * 4.40 / 8.0
    assert bench.width == pytest.approx(across_flats, rel=5e-3, abs=0)


def test_power_raises_the_gap_voltage_by_its_square_root(open_bench: Opener):
    bench = open_bench()
    bench.set("power", "10 W")
    low = bench.volts
    bench.set("power", "40 W")
    assert bench.volts == pytest.approx(2.0 * low, rel=1e-2, abs=0)  # three digits shown of each


def test_impossible_value_explains_itself_beside_the_control(open_bench: Opener, screen: str):
    bench = open_bench(screen=screen)
    picture = bench.page.locator(".ring-drawing").inner_html()
    bench.type("ring.perimeter", "200 m")
    control = bench.page.locator('[data-key="ring.perimeter"]')
    refusal = control.get_by_role("alert")
    expect(refusal).to_contain_text("100 m")
    field = bench.typed("ring.perimeter")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_attribute("aria-describedby", refusal.get_attribute("id") or "none")
    assert bench.page.locator(".ring-drawing").inner_html() == picture  # the last one that works stays
    bench.set("ring.perimeter", "3.0 m")
    expect(refusal).to_have_count(0)


def test_no_text_is_guessed_at(open_bench: Opener):
    bench = open_bench()
    refusal = bench.page.locator('[data-key="ring.perimeter"]').get_by_role("alert")
    for text in ("3,2 m", "22 pF", "a lot", "-1 m", "nan m", "<b>1 m</b>"):
        bench.type("ring.perimeter", text)
        expect(refusal).to_be_visible()
        expect(bench.typed("ring.perimeter")).to_have_value(text)
        expect(refusal.locator("b")).to_have_count(0)
        bench.set("ring.perimeter", "3.0 m")
        expect(refusal).to_have_count(0)


def test_bands_are_chips_and_at_least_one_stays(open_bench: Opener):
    bench = open_bench()
    chips = bench.page.locator('[data-key="bands"]')
    chips.get_by_role("button", name="17m").click()
    bench.settle()
    expect(bench.page.locator(".band-row")).to_have_count(4)
    for name in ("40m", "30m", "20m", "17m"):
        chip = chips.get_by_role("button", name=name, exact=True)
        chip.click()
        expect(chip).to_have_attribute("aria-pressed", "false")
    expect(chips.get_by_role("alert")).to_be_visible()
    expect(bench.page.locator(".band-row")).not_to_have_count(0)


def test_segment_tells_watts_ohms_and_what_to_do(open_bench: Opener):
    bench = open_bench()
    segment = bench.band("30m").locator("button.ink-capacitor")
    segment.click()
    detail = bench.band("30m").locator(".address-detail")
    bench.expect_all(
        detail, ("capacitor", "W", "dB", "S-points", "m\N{GREEK CAPITAL LETTER OMEGA}", "Less of it")
    )
    segment.click()
    expect(detail).to_have_count(0)


def test_explained_figure_says_what_the_table_says(open_bench: Opener):
    bench = open_bench()
    table = bench.page.request.get(f"{bench.address}/api/v1/figures").json()["figures"]
    figure = next(one for one in table if one["key"] == "q_unloaded")
    bench.page.get_by_role("button", name="Explain").click()
    bench.page.locator(".match-words").get_by_title(figure["label"], exact=True).click()
    parts = (figure[part] for part in ("definition", "formula", "source", "validity"))
    bench.expect_all(bench.page.locator(".explanation"), parts)


def test_imperial_changes_what_is_read_and_written(open_bench: Opener):
    bench = open_bench()
    in_feet = re.compile(r" ft$")
    bench.page.get_by_role("button", name="lengths in metres").click()
    expect(bench.typed("ring.perimeter")).to_have_value(in_feet)
    bench.slider("ring.perimeter").press("ArrowRight")
    bench.settle()
    on_a_rule = re.compile(
        r"^(coupling loop )?\d+( \d+/(2|4|8|16|32))? in$"
    )  # as the sheet for the bench has it
    expect(bench.page.locator(".dimension text")).to_have_text(on_a_rule)
    expect(bench.page.locator(".ring-drawing .coupling .note").first).to_have_text(on_a_rule)
    expect(bench.typed("coupling.diameter")).to_have_value(re.compile(r" in$"))
    expect(bench.page.locator(".ring-drawing")).not_to_contain_text(re.compile(r"\d\s?mm"))
    bench.reload()
    expect(bench.typed("ring.perimeter")).to_have_value(in_feet)


def test_an_empty_text_leaves_the_key_to_its_default(open_bench: Opener):
    bench = open_bench()
    bench.set("coupling.clearance", "40 mm")
    bench.set("coupling.clearance", "")
    expect(bench.page.locator('[data-key="coupling.clearance"] .default')).to_be_visible()
