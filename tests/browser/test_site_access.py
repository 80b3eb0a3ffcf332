# SPDX-License-Identifier: BSD-3-Clause
"""The site for every hand and eye: rules of accessibility, Tab order, room for a thumb, a phone in the hand."""

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import expect

from ringwright.antenna.scenario import TERRACE_OCTAGON
from tests.browser.conftest import SiteOpener, served
from tests.browser.serving import Serving, lay
from tests.browser.site_page import PEOPLE, SitePage
from tests.browser.test_access import AXE, THUMB, violations

pytestmark = pytest.mark.needs("chromium")

TERRACE = "/site?design=terrace&band=40m"


@pytest.fixture(scope="module")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("site")
    lay(folder, terrace=TERRACE_OCTAGON)
    with served(folder) as server:
        yield server


def at_rest(site: SitePage) -> None:
    site.wait_for_distances()
    expect(site.page.get_by_role("switch")).to_be_visible()


def with_everything_open(site: SitePage) -> None:
    at_rest(site)
    site.page.get_by_role("button", name="informed (occupational)").press("Enter")
    site.page.get_by_role("button", name="Point the null at noise").press("Enter")
    site.page.get_by_role("switch").press("Enter")
    site.page.get_by_role("button", name="Explain").press("Enter")
    site.wait_for_distances()  # which are drawn anew, and folded, for each picture
    for fold in site.page.locator("summary").all():
        fold.press("Enter")
    site.page.locator(".advised .figure-ask").first.press("Enter")
    expect(site.page.locator(".explanation")).to_be_visible()


def with_a_person_over_the_limit_and_one_to_place(site: SitePage) -> None:
    site.set("power", "400 W")
    site.item(PEOPLE, 1).locator("summary").press("Enter")
    field = site.coordinate(PEOPLE, 1, "neighbour's window, spot, x")
    field.fill("0.9 m")
    field.press("Enter")
    at_rest(site)
    expect(site.page.locator(".person-mark.exceeds").first).to_be_visible()
    site.page.get_by_role("button", name="Place a person").press("Enter")
    expect(site.page.locator(".placing-room")).to_be_visible()


def in_space(site: SitePage) -> None:
    site.page.get_by_role("button", name="pace", exact=False).first.press("Enter")
    expect(site.page.locator("canvas")).to_be_visible()
    expect(site.page.get_by_text("Drawing the pattern")).to_have_count(0)
    at_rest(site)


def refused(site: SitePage) -> None:
    at_rest(site)
    site.type("site.height", "3,2 m")
    expect(site.page.get_by_role("alert").first).to_be_visible()


def drop_all(site: SitePage) -> None:
    """Back to what the file has, with nothing to place."""
    for name in ("Cancel", "drop "):
        button = site.page.get_by_role("button", name=name)
        if button.count() > 0:
            button.press("Enter")
    site.settle()


@pytest.mark.skipif(not AXE.exists(), reason="left out: needs axe-core, `npm ci` in web-client")
@pytest.mark.parametrize(
    "states",
    [(refused, with_everything_open), (with_a_person_over_the_limit_and_one_to_place, in_space)],
    ids=["refused, then everything open", "over the limit, then in space"],
)
def test_no_rule_of_accessibility_is_broken(
    open_site: SiteOpener, screen: str, states: tuple[Callable[[SitePage], None], ...]
):
    site = open_site(TERRACE, screen=screen)
    for state in states:
        state(site)
        assert violations(site) == [], state.__name__
        drop_all(site)


def test_everything_that_can_be_dragged_is_reached_by_tab_and_says_what_it_is(open_site: SiteOpener):
    site = open_site(TERRACE)
    at_rest(site)
    seen: list[str] = []
    for _ in range(90):
        site.page.keyboard.press("Tab")
        here = site.page.evaluate(
            """() => { const at = document.activeElement; if (!at || at === document.body) return null;
            const shown = at.matches('.handle') ? getComputedStyle(at.querySelector('.finger')).stroke
                                                : getComputedStyle(at).outlineStyle;
            return {name: at.getAttribute('aria-label') || at.innerText || at.id, shown}; }"""
        )
        if here is None or (seen and here["name"] == seen[0]):
            break
        assert here["shown"] != "none", here
        seen.append(here["name"])
    wanted = (
        "Side view along the axis", "height of the ring's lowest point", "railing, one end", "neighbour's window, at",
        "height of the cut", "the ring, turned", "Place a person", "control-site-height",
    )  # fmt: skip
    for name in wanted:
        assert any(each.startswith(name) for each in seen), (name, seen)


def test_every_control_and_handle_has_room_for_a_thumb(open_site: SiteOpener):
    site = open_site(TERRACE, screen="phone")
    at_rest(site)
    for fold in site.page.locator("summary").all():
        fold.press("Enter")
    small = site.page.locator("button, select, input, summary, nav a, .handle .finger").evaluate_all(
        """(nodes, thumb) => nodes.filter(node => node.getClientRects().length
                && node.getBoundingClientRect().height < thumb && node.checkVisibility())
            .map(node => node.outerHTML.slice(0, 120))""",
        THUMB,
    )
    assert small == []


def test_a_phone_shows_one_cut_at_a_time_and_nothing_beside_the_page(open_site: SiteOpener):
    site = open_site(TERRACE, screen="phone")
    at_rest(site)
    section, plan = site.page.locator(".cut.section"), site.page.locator(".cut.plan")
    expect(section).to_have_count(1)
    expect(plan).to_have_count(0)
    site.page.get_by_role("button", name="Plan", exact=True).click()
    expect(section).to_have_count(0)
    expect(plan).to_have_count(1)
    width, page = site.page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert width <= page


def test_the_picture_stays_in_sight_while_the_controls_are_in_hand(open_site: SiteOpener):
    site = open_site(TERRACE, screen="phone")
    at_rest(site)
    slider = site.slider("transmit_share")
    slider.scroll_into_view_if_needed()
    site.still(slider)
    top, foot, control = site.page.evaluate(
        """([frame, slider]) => { const {top, bottom} = frame.getBoundingClientRect();
            return [top, bottom, slider.getBoundingClientRect().top]; }""",
        [site.page.locator(".site-frame").element_handle(), slider.element_handle()],
    )
    assert top >= 0.0
    assert control > foot - 1.0


def test_a_finger_drags_the_ring_and_the_page_stays(open_site: SiteOpener):
    site = open_site(TERRACE, screen="phone")
    at_rest(site)
    before = site.typed("site.height").input_value()
    left, top, width, height = site.still(site.page.locator(".height-handle .finger"))
    x, y = left + width / 2.0, top + height / 2.0
    session = site.page.context.new_cdp_session(site.page)

    def touch(kind: str, *points: tuple[float, float]) -> None:
        session.send(
            "Input.dispatchTouchEvent",
            {"type": kind, "touchPoints": [{"x": left, "y": top} for left, top in points]},
        )

    scrolled = site.page.evaluate("scrollY")
    touch("touchStart", (x, y))
    for step in range(1, 6):
        touch("touchMove", (x, y - 10.0 * step))
    touch("touchEnd")
    site.settle()
    expect(site.typed("site.height")).not_to_have_value(before)
    assert site.page.evaluate("scrollY") == scrolled


def test_the_result_is_read_out_when_the_hand_rests(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.keys(site.page.locator(".height-handle"), "Shift+ArrowUp")
    site.page.wait_for_function(
        """() => [...document.querySelectorAll('[role=status]')]
            .some(node => /Every limit is kept for everyone placed/.test(node.textContent))"""
    )
