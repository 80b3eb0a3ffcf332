# SPDX-License-Identifier: BSD-3-Clause
"""For every hand and eye: rules of accessibility, Tab order, keys, room for a thumb.

The rules are axe-core's (WCAG 2.2, levels A and AA). It comes with the client's own tools: `npm ci` in web-client.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.bench_page import BenchPage
from tests.browser.conftest import Opener

pytestmark = pytest.mark.needs("chromium")

AXE = Path(__file__).parents[2] / "web-client/node_modules/axe-core/axe.min.js"
RULES = {
    "runOnly": [
        "wcag2a",
        "wcag2aa",
        "wcag21a",
        "wcag21aa",
        "wcag22aa",
        "best-practice",
    ]
}
THUMB = 44  # px, WCAG 2.2 success criterion 2.5.5


TRANSITIONS_END = """() => new Promise(done => { const look = () => {
    const moving = document.getAnimations().some(one => one instanceof CSSTransition && one.playState === "running");
    if (moving) requestAnimationFrame(look); else done(null); }; requestAnimationFrame(look); })"""


def violations(bench: BenchPage) -> list[str]:
    """What breaks a rule, with the place, in light and in dark: of the other light only what it can change is asked."""
    bench.page.evaluate(AXE.read_text(encoding="utf-8"))
    found = _broken(bench, RULES)
    theme = bench.page.evaluate("document.documentElement.dataset.theme")
    _light(bench, "light" if theme == "dark" else "dark")
    found += _broken(bench, {"runOnly": ["color-contrast", "link-in-text-block"]})
    _light(bench, theme)
    return found


def _light(bench: BenchPage, theme: str) -> None:
    bench.page.evaluate("theme => { document.documentElement.dataset.theme = theme; }", theme)


def _broken(bench: BenchPage, rules: dict[str, list[str]]) -> list[str]:
    bench.page.evaluate(TRANSITIONS_END)  # a colour on its way to another is nobody's to judge
    found: dict[str, Any] = bench.page.evaluate("rules => axe.run(document, rules)", rules)
    return [
        f"{rule['id']}: {node['target']} {node['failureSummary']}"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]


def with_everything_open(bench: BenchPage) -> None:
    bench.page.get_by_role("button", name="Pin A").click()
    bench.set("ring.perimeter", "3.9 m")
    for fold in bench.page.locator("summary").all():
        fold.press("Enter")
    bench.page.get_by_role("button", name="Explain").press("Enter")
    bench.page.locator(".match-words .figure-ask").first.press("Enter")
    expect(bench.page.locator(".explanation")).to_be_visible()
    bench.band("20m").locator("button.ink-sky").press("Enter")
    bench.type("coupling.diameter", "40 m")
    expect(bench.page.locator(".refusal")).to_be_visible()


def while_naming(bench: BenchPage) -> None:
    bench.page.get_by_role("button", name="Save").click()
    expect(bench.page.get_by_role("dialog")).to_be_visible()


@pytest.mark.skipif(not AXE.exists(), reason="left out: needs axe-core, `npm ci` in web-client")
@pytest.mark.parametrize("state", [with_everything_open, while_naming])
def test_no_rule_of_accessibility_is_broken(
    open_bench: Opener, screen: str, state: Callable[[BenchPage], None]
):
    bench = open_bench(screen=screen)
    state(bench)
    assert violations(bench) == []


def test_tab_goes_from_top_to_bottom_and_shows_where_it_is(open_bench: Opener):
    bench = open_bench()
    seen: list[str] = []
    for _ in range(80):
        bench.page.keyboard.press("Tab")
        here = bench.page.evaluate(
            """() => { const at = document.activeElement; if (!at || at === document.body) return null;
            const all = [...document.querySelectorAll('*')];
            return {place: all.indexOf(at), name: at.getAttribute('aria-label') || at.innerText || at.id,
                    outline: getComputedStyle(at).outlineStyle}; }"""
        )
        if here is None or (seen and here["name"] == seen[0]):
            break
        assert here["outline"] != "none", here
        seen.append(here["name"])
    order = [
        seen.index(name)
        for name in ("Skip to the page", "design", "Explain", "Ring", "control-ring-perimeter")
    ]
    assert order == sorted(order)
    assert sum("per cent" in name for name in seen) == 3  # each watt bar is one stop
    assert seen.index("control-ring-perimeter") < seen.index("control-power")


def test_arrow_keys_walk_along_the_watt_bar(open_bench: Opener):
    bench = open_bench()
    bar = bench.band("20m").locator(".watt-bar button")
    bar.first.focus()
    for number in (1, 2):
        bench.page.keyboard.press("ArrowRight")
        expect(bar.nth(number)).to_be_focused()
    bench.page.keyboard.press("Enter")
    expect(bench.band("20m").locator(".address-detail")).to_be_visible()


def test_every_key_press_moves_a_slider_one_way(open_bench: Opener):
    bench = open_bench()
    for fold in bench.page.locator(".control-group summary").all():
        fold.click()
    for key in ("ring.perimeter", "capacitor.q", "power", "ring.joints", "coupling.squash"):
        slider = bench.slider(key)
        values = []
        for _ in range(4):
            before = slider.get_attribute("aria-valuetext") or ""
            slider.press("ArrowRight")
            expect(slider).not_to_have_attribute("aria-valuetext", before)
            values.append(float((slider.get_attribute("aria-valuetext") or "").split()[0]))
        assert values == sorted(set(values)), key


def test_every_control_has_room_for_a_thumb(open_bench: Opener):
    bench = open_bench(screen="phone")
    small = bench.page.locator("button, select, input, summary, nav a").evaluate_all(
        """(nodes, thumb) => nodes.filter(node => node.offsetParent && node.getBoundingClientRect().height < thumb)
            .map(node => node.outerHTML.slice(0, 120))""",
        THUMB,
    )
    assert small == []


def test_result_is_read_out_when_the_hand_rests(open_bench: Opener):
    bench = open_bench()
    bench.set("ring.perimeter", "3.6 m")
    bench.page.wait_for_function(
        """() => [...document.querySelectorAll('[role=status]')]
            .some(node => /40m: [\\d.]+ per cent/.test(node.textContent))"""
    )
