# SPDX-License-Identifier: BSD-3-Clause
"""The site in a real browser: raised, turned, people placed, railings drawn, by hand and by key; it answers live."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import expect

from ringwright.antenna.scenario import RUCKSACK_BRAID, TERRACE_OCTAGON
from ringwright.units import to_si
from tests.browser.conftest import SiteOpener, served
from tests.browser.serving import Serving, lay
from tests.browser.site_page import METAL, PEOPLE, SitePage

pytestmark = pytest.mark.needs("chromium")

TERRACE = "/site?design=terrace&band=40m"
WINDOW, CHAIR = "neighbour's window", "operator's chair behind the wall"


@pytest.fixture(scope="module")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("site")
    lay(folder, terrace=TERRACE_OCTAGON, rucksack=RUCKSACK_BRAID)
    high = (folder / "designs" / "terrace.toml").read_text().replace('height = "1.8 m"', 'height = "12 m"')
    (folder / "designs" / "balcony.toml").write_text(high)
    with served(folder) as server:
        yield server


def metres(text: str) -> float:
    """A length as the page writes it, with a narrow space."""
    return to_si(text.replace("\N{NARROW NO-BREAK SPACE}", " "), "m")


def height_of(site: SitePage) -> float:
    return to_si(site.typed("site.height").input_value(), "m")


def test_the_ring_is_raised_by_dragging_it(open_site: SiteOpener, screen: str):
    site = open_site(TERRACE, screen=screen)
    before = height_of(site)
    handle = site.page.locator(".height-handle")
    site.drag(handle, 0.0, -60.0)
    assert height_of(site) > before + 0.5
    assert handle.get_attribute("aria-valuetext") == site.typed("site.height").input_value().replace(
        " m", "0 m" if len(site.typed("site.height").input_value()) == 5 else " m"
    )


def test_the_ring_is_raised_by_keys(open_site: SiteOpener):
    site = open_site(TERRACE)
    before = height_of(site)
    handle = site.page.locator(".height-handle")
    site.keys(handle, "ArrowUp", "ArrowUp", "ArrowDown")
    assert height_of(site) == pytest.approx(before + 0.05, rel=1e-9, abs=0)
    site.keys(handle, "Shift+ArrowUp")
    assert height_of(site) == pytest.approx(before + 0.55, rel=1e-9, abs=0)


def test_raising_the_ring_moves_the_zones_and_the_margins(open_site: SiteOpener):
    site = open_site(TERRACE)
    zone = site.page.locator(".cut.section .zone-edge").first
    before = (zone.get_attribute("d"), site.item(PEOPLE, 1).locator("summary").inner_text())
    site.keys(site.page.locator(".height-handle"), "Shift+ArrowUp", "Shift+ArrowUp")
    after = (zone.get_attribute("d"), site.item(PEOPLE, 1).locator("summary").inner_text())
    assert after[0] != before[0]
    assert after[1] != before[1]


def test_the_ring_is_turned_by_hand_and_by_keys(open_site: SiteOpener):
    site = open_site(TERRACE)
    handle = site.page.locator(".turn-handle")
    lobe = site.page.locator(".cut.plan .lobe-edge")
    before = lobe.get_attribute("d")
    site.drag(handle, -20.0, -40.0)
    turned = to_si(site.typed("site.turn").input_value(), "rad")
    assert turned > 0.2  # up on paper is from x towards y
    assert lobe.get_attribute("d") != before
    site.keys(handle, "Shift+ArrowUp")
    assert to_si(site.typed("site.turn").input_value(), "rad") == pytest.approx(
        turned + 0.2617993878,
        rel=1e-6,
        abs=0,  # 15 degrees
    )


def test_a_person_is_placed_where_the_plan_is_pressed(open_site: SiteOpener, screen: str):
    site = open_site(TERRACE, screen=screen)
    site.page.get_by_role("button", name="Place a person").click()
    site.page.mouse.click(*site.on_plan(0.2, 0.75))
    site.settle()
    x, y, z = site.metres(PEOPLE, 3, "person 3, spot")
    assert x < -0.5
    assert y < -0.5
    assert z == pytest.approx(1.2, rel=1e-6, abs=0)
    assert site.standing("person 3") == "passes"


def test_a_person_at_the_ring_exceeds_in_shape_and_words(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.set("power", "100 W")
    site.page.get_by_role("button", name="Place a person").click()
    ring = site.page.locator(".cut.plan .plan-ring").bounding_box()
    assert ring is not None
    site.page.mouse.click(ring["x"] + ring["width"] / 2.0, ring["y"] + ring["height"] / 2.0 + 6.0)
    site.settle()
    site.page.wait_for_selector(".cut.plan .person-mark.exceeds path.sign")
    assert "exceeds" in site.item(PEOPLE, 3).locator("summary").inner_text()
    assert "dB over" in site.drawn(".cut.plan .note.margin.exceeds")
    assert site.standing(CHAIR) == "passes"


def test_a_person_is_moved_on_either_cut(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.item(PEOPLE, 2).locator("summary").click()
    before = site.metres(PEOPLE, 2, f"{CHAIR}, spot")
    site.drag(site.handle(CHAIR), 40.0, 0.0)
    x, y, z = site.metres(PEOPLE, 2, f"{CHAIR}, spot")
    assert x > before[0] + 0.3
    assert (y, z) == (before[1], before[2])
    site.drag(site.handle(CHAIR, "section"), 0.0, -40.0)
    after = site.metres(PEOPLE, 2, f"{CHAIR}, spot")
    assert after[2] > z + 0.3
    assert after[0] == x  # the side view looks across it


def test_a_railing_is_drawn_from_press_to_release(open_site: SiteOpener, screen: str):
    site = open_site(TERRACE, screen=screen)
    site.page.get_by_role("button", name="Draw a railing").click()
    start, end = site.on_plan(0.15, 0.75), site.on_plan(0.4, 0.9)
    site.page.mouse.move(*start)
    site.page.mouse.down()
    site.page.mouse.move(start[0] + 20.0, start[1] + 10.0)
    site.page.mouse.move(*end)
    site.page.mouse.up()
    site.settle()
    first, second = (site.metres(METAL, 2, f"railing, {end}") for end in ("from", "to"))
    assert second[0] > first[0] + 0.5
    assert second[1] < first[1] - 0.2
    assert first[2] == second[2] == pytest.approx(0.9, rel=1e-6, abs=0)
    assert site.page.locator(".site-metal .metal-line").count() >= 2


def test_a_press_without_a_way_is_no_railing(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.page.get_by_role("button", name="Draw a railing").click()
    site.page.mouse.click(*site.on_plan(0.3, 0.8))
    assert site.item(METAL, 2).count() == 0
    site.page.keyboard.press("Escape")
    site.page.get_by_role("button", name="Cancel").click()
    assert site.page.locator(".placing-room").count() == 0


def test_everything_goes_by_keys_alone(open_site: SiteOpener):
    site = open_site(TERRACE)
    for tool, list_, name, number in (
        ("Place a person", PEOPLE, "person 3", 3),
        ("Draw a railing", METAL, "railing", 2),
    ):
        site.page.get_by_role("button", name=tool).press("Enter")
        site.page.get_by_role("button", name="Put one in front of the ring").press("Enter")
        site.settle()
        place = "spot" if list_ == PEOPLE else "from"
        before = site.metres(list_, number, f"{name}, {place}")
        handle = site.handle(name).nth(0 if list_ == PEOPLE else 2)
        site.keys(handle, "ArrowRight", "Shift+ArrowUp")
        after = site.metres(list_, number, f"{name}, {place}")
        assert after[0] - before[0] == pytest.approx(0.05, rel=1e-6, abs=0)
        assert after[1] - before[1] == pytest.approx(0.5, rel=1e-6, abs=0)
        site.keys(handle, "Delete")
        assert site.item(list_, number).count() == 0


def test_enter_on_a_person_opens_the_fields_and_every_limit_there(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.handle(WINDOW).press("Enter")
    name = site.item(PEOPLE, 1).get_by_label("name", exact=True)
    expect(name).to_be_focused()
    rows = site.item(PEOPLE, 1).locator(".person-limits tbody tr")
    assert rows.count() == 5  # every limit that has a level at 7.1 MHz, none merged
    margins = [float(row.locator("td").first.inner_text().split()[0]) for row in rows.all()]
    least = site.item(PEOPLE, 1).locator("summary").inner_text()
    assert f"{min(margins):.1f} dB below" in least


def test_limits_and_tiers_are_chosen_and_drawn_each_by_itself(open_site: SiteOpener):
    site = open_site(TERRACE)
    assert site.zones == {"icnirp-2020-whole-body public", "icnirp-2010-instantaneous public"}
    for name in ("FCC 1.1310", "ICNIRP 2020, whole body", "informed (occupational)"):
        site.page.get_by_role("button", name=name).click()
        site.settle()
    assert site.zones == {
        f"{name} {tier}"
        for name in ("fcc-1.1310", "icnirp-2010-instantaneous")
        for tier in ("public", "occupational")
    }
    site.wait_for_distances()
    assert site.page.locator(".advised li").count() == 4


def test_distances_to_keep_come_first_and_hold_the_others(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.wait_for_distances()
    site.page.get_by_text("every limit, direction by direction").click()
    table = site.page.locator(".keep-away table")
    heads = table.locator("thead th").all_inner_texts()
    assert heads[:2] == ["limit", "keep away"]
    assert "not valid here" in heads[-1]
    for row in table.locator("tbody tr").all():
        cells = row.locator("td").all_inner_texts()
        advised, others = metres(cells[0]), [metres(cell) for cell in cells[1:6]]
        assert advised >= max(others) == others[-1]


def test_a_figure_explains_itself(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.wait_for_distances()
    site.page.get_by_role("button", name="Explain").click()
    site.page.locator(".advised .figure-ask").first.click()
    said = site.page.locator(".explanation").inner_text()
    table = site.page.request.get(f"{site.address}/api/v1/site").json()["figures"]
    figure = next(one for one in table if one["key"] == "by_limit.distance_advised_m")
    for part in ("label", "definition", "formula", "source", "validity"):
        assert figure[part] in said


def test_feet_are_never_fewer_than_the_metres(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.wait_for_distances()
    exact = [metres(text) for text in site.page.locator(".advised strong").all_inner_texts()]
    site.page.get_by_role("button", name="lengths in metres").click()
    feet = [metres(text) for text in site.page.locator(".advised strong").all_inner_texts()]
    assert all(0.0 <= shown - true < 0.0305 for shown, true in zip(feet, exact, strict=True))
    site.page.locator(".height-handle").press("ArrowUp")
    site.settle()
    assert site.typed("site.height").input_value() == "6 ft"  # 1.8 m and a tenth of a foot, to the tenth


def test_the_null_follows_the_noise(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.page.get_by_role("button", name="Point the null at noise").click()
    handle = site.page.locator(".noise-handle")
    start = float(handle.get_attribute("aria-valuenow") or 0)
    site.keys(handle, "Shift+ArrowRight", "Shift+ArrowRight")
    assert float(handle.get_attribute("aria-valuenow") or 0) == (start + 30.0) % 360.0
    # Bearings turn the other way than azimuths; the metal shifts the null a little against the ring.
    assert to_si(site.typed("site.turn").input_value(), "rad") == pytest.approx(-0.5236, rel=0.2, abs=0)
    site.page.get_by_text("Noise from").first.wait_for()


def test_the_pattern_in_space_is_turned_by_hand_and_by_keys(open_site: SiteOpener, screen: str):
    site = open_site(TERRACE, screen=screen)
    site.page.get_by_role("button", name="Space" if screen == "phone" else "Pattern in space").click()
    canvas = site.page.locator("canvas")
    site.page.get_by_text("Drawing the pattern").wait_for(state="detached")
    seen = [(canvas.get_attribute("aria-label"), canvas.screenshot())]
    canvas.press("ArrowLeft")
    seen.append((canvas.get_attribute("aria-label"), canvas.screenshot()))
    box = canvas.bounding_box()
    assert box is not None
    site.page.mouse.move(box["x"] + 100, box["y"] + 100)
    site.page.mouse.down()
    site.page.mouse.move(box["x"] + 200, box["y"] + 100)
    site.page.mouse.up()
    seen.append((canvas.get_attribute("aria-label"), canvas.screenshot()))
    assert len({label for label, _ in seen}) == len({picture for _, picture in seen}) == 3


def test_one_switch_takes_the_metal_away_and_brings_it_back(open_site: SiteOpener):
    near = "".join(
        f"&set=site.metal%5B1%5D.{end}%3D%5B%22{x}+m%22%2C%220.4+m%22%2C%220.9+m%22%5D"
        for end, x in (("from", -2), ("to", 2))
    )
    site = open_site(TERRACE + near)
    switch = site.page.get_by_role("switch")
    switch.wait_for()
    rows = {
        row.locator("th").inner_text(): row.locator("td").all_inner_texts()
        for row in site.page.locator(".compared tbody tr").all()
    }
    assert rows["unloaded Q"][0] != rows["unloaded Q"][1]
    for expected in ("true", "false"):
        switch.click()
        site.settle()
        assert switch.get_attribute("aria-checked") == expected
        assert site.page.locator(".site-metal.gone").count() == (2 if expected == "true" else 0)


@pytest.mark.parametrize("path", ["/site", "/site?design=rucksack", "/site?set=ring.plane%3Dhorizontal",
                                  "/site?set=site.earth%3Dfree+space", "/site?set=site.earth%3Dperfect+earth",
                                  TERRACE + "&set=feedline.outside%3Dstraight+down"])  # fmt: skip
def test_every_kind_of_site_is_drawn(open_site: SiteOpener, path: str):
    site = open_site(path)
    site.wait_for_distances()
    assert site.page.locator(".cut.section .lobe-edge").count() == 1
    assert site.page.locator(".cut.plan .plan-ring").count() == 1


def test_another_design_never_shows_the_last_ones_distances(open_site: SiteOpener):
    # A keep-out distance of one ring under the name of another would be taken for advice.
    site = open_site(TERRACE)
    site.wait_for_distances()
    site.page.evaluate(
        """() => {
            window.seen = [];
            const look = () => {
                const bench = document.querySelector(".site-bench");
                const shown = document.querySelector('.keep-away [data-current="true"] .advised');
                window.seen.push([bench?.dataset.seq, shown?.textContent ?? null]);
                requestAnimationFrame(look);
            };
            look();
        }"""
    )
    first = site.page.evaluate("() => window.seen[0]")
    site.page.get_by_label("design", exact=True).select_option("rucksack")
    site.page.wait_for_function(
        "(seq) => document.querySelector('.site-bench').dataset.seq !== seq", arg=first[0]
    )
    site.wait_for_distances()
    later = [
        text for seq, text in site.page.evaluate("() => window.seen") if seq != first[0] and text is not None
    ]
    assert later
    assert first[1] not in later


def test_the_plan_opens_where_people_near_a_high_ring_are(open_site: SiteOpener):
    site = open_site("/site?design=balcony&band=40m")
    plan = site.page.locator(".cut.plan")
    plan.wait_for()
    site.page.wait_for_function(
        "() => document.querySelector('.cut.plan').getAttribute('aria-label').includes('12.')"
    )
