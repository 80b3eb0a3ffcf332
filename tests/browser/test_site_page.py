# SPDX-License-Identifier: BSD-3-Clause
"""The site in a real browser: raised, turned, people placed, railings drawn, by hand and by key; it answers live."""

import re
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
    typed = site.typed("site.height").input_value()
    said = typed.replace(" m", "0 m" if len(typed) == 5 else " m")
    expect(handle).to_have_attribute("aria-valuetext", said)


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
    margin = site.item(PEOPLE, 1).locator("summary")
    before = (zone.get_attribute("d") or "none", margin.inner_text())
    site.keys(site.page.locator(".height-handle"), "Shift+ArrowUp", "Shift+ArrowUp")
    expect(zone).not_to_have_attribute("d", before[0])
    expect(margin).not_to_have_text(before[1], use_inner_text=True)


def test_the_ring_is_turned_by_hand_and_by_keys(open_site: SiteOpener):
    site = open_site(TERRACE)
    handle = site.page.locator(".turn-handle")
    lobe = site.page.locator(".cut.plan .lobe-edge")
    before = lobe.get_attribute("d") or "none"
    site.drag(handle, -20.0, -40.0)
    turned = to_si(site.typed("site.turn").input_value(), "rad")
    assert turned > 0.2  # up on paper is from x towards y
    expect(lobe).not_to_have_attribute("d", before)
    site.keys(handle, "Shift+ArrowUp")
    assert to_si(site.typed("site.turn").input_value(), "rad") == pytest.approx(
        turned + 0.2617993878,
        rel=1e-6,
        abs=0,  # 15 degrees
    )


def test_a_person_is_placed_where_the_plan_is_pressed(open_site: SiteOpener, screen: str):
    site = open_site(TERRACE, screen=screen)
    site.page.get_by_role("button", name="Place a person").click()
    expect(site.page.locator(".placing-room")).to_be_visible()
    site.page.mouse.click(*site.on_plan(0.2, 0.75))
    site.wait_for_fields()
    site.settle()
    x, y, z = site.metres(PEOPLE, 3, "person 3, spot")
    assert x < -0.5
    assert y < -0.5
    assert z == pytest.approx(1.2, rel=1e-6, abs=0)
    site.expect_standing("person 3", "passes")


def test_a_person_at_the_ring_exceeds_in_shape_and_words(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.set("power", "100 W")
    site.page.get_by_role("button", name="Place a person").click()
    expect(site.page.locator(".placing-room")).to_be_visible()
    left, top, width, height = site.still(site.page.locator(".cut.plan .plan-ring"))
    site.page.mouse.click(left + width / 2.0, top + height / 2.0 + 6.0)
    site.wait_for_fields()
    site.settle()
    expect(site.page.locator(".cut.plan .person-mark.exceeds path.sign")).to_be_visible()
    expect(site.item(PEOPLE, 3).locator("summary")).to_contain_text("exceeds", use_inner_text=True)
    expect(site.page.locator(".cut.plan .note.margin.exceeds")).to_contain_text("dB over")
    site.expect_standing(CHAIR, "passes")


def test_a_person_is_moved_on_either_cut(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.item(PEOPLE, 2).locator("summary").click()
    expect(site.item(PEOPLE, 2)).to_have_attribute("open", "")
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
    expect(site.page.locator(".placing-room")).to_be_visible()
    start, end = site.on_plan(0.15, 0.75), site.on_plan(0.4, 0.9)
    site.page.mouse.move(*start)
    site.page.mouse.down()
    site.page.mouse.move(start[0] + 20.0, start[1] + 10.0)
    site.page.mouse.move(*end)
    site.page.mouse.up()
    site.wait_for_fields()
    site.settle()
    first, second = (site.metres(METAL, 2, f"railing, {end}") for end in ("from", "to"))
    assert second[0] > first[0] + 0.5
    assert second[1] < first[1] - 0.2
    assert first[2] == second[2] == pytest.approx(0.9, rel=1e-6, abs=0)
    expect(site.page.locator(".site-metal .metal-line").nth(1)).to_be_attached()


def test_a_press_without_a_way_is_no_railing(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.page.get_by_role("button", name="Draw a railing").click()
    room = site.page.locator(".placing-room")
    expect(room).to_be_visible()
    site.page.mouse.click(*site.on_plan(0.3, 0.8))
    expect(site.page.locator(".metal-line.drawn")).to_have_count(0)  # the press is over
    expect(site.item(METAL, 2)).to_have_count(0)
    site.page.keyboard.press("Escape")
    site.page.get_by_role("button", name="Cancel").click()
    expect(room).to_have_count(0)


def test_everything_goes_by_keys_alone(open_site: SiteOpener):
    site = open_site(TERRACE)
    for tool, list_, name, number in (
        ("Place a person", PEOPLE, "person 3", 3),
        ("Draw a railing", METAL, "railing", 2),
    ):
        site.put_in_front(tool)
        place = "spot" if list_ == PEOPLE else "from"
        before = site.metres(list_, number, f"{name}, {place}")
        handle = site.handle(name).nth(0 if list_ == PEOPLE else 2)
        site.keys(handle, "ArrowRight", "Shift+ArrowUp")
        after = site.metres(list_, number, f"{name}, {place}")
        assert after[0] - before[0] == pytest.approx(0.05, rel=1e-6, abs=0)
        assert after[1] - before[1] == pytest.approx(0.5, rel=1e-6, abs=0)
        site.keys(handle, "Delete")
        expect(site.item(list_, number)).to_have_count(0)


def test_enter_on_a_person_opens_the_fields_and_every_limit_there(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.handle(WINDOW).press("Enter")
    name = site.item(PEOPLE, 1).get_by_label("name", exact=True)
    expect(name).to_be_focused()
    rows = site.item(PEOPLE, 1).locator(".person-limits tbody tr")
    expect(rows).to_have_count(5)  # every limit that has a level at 7.1 MHz, none merged
    texts = rows.evaluate_all("nodes => nodes.map(node => node.querySelector('td').innerText)")
    least = min(float(text.split()[0]) for text in texts)
    expect(site.item(PEOPLE, 1).locator("summary")).to_contain_text(f"{least:.1f} dB below")


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
    expect(site.page.locator(".advised li")).to_have_count(4)


def test_distances_to_keep_come_first_and_hold_the_others(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.wait_for_distances()
    site.page.get_by_text("every limit, direction by direction").click()
    table = site.page.locator(".keep-away table")
    expect(table).to_be_visible()
    heads, *rows = table.evaluate(
        "table => [...table.rows].map(row => [...row.cells].map(cell => cell.innerText))"
    )
    assert heads[:2] == ["limit", "keep away"]
    assert "not valid here" in heads[-1]
    assert rows
    for _, *cells in rows:
        advised, others = metres(cells[0]), [metres(cell) for cell in cells[1:6]]
        assert advised >= max(others) == others[-1]


def test_a_figure_explains_itself(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.wait_for_distances()
    site.page.get_by_role("button", name="Explain").click()
    site.page.locator(".advised .figure-ask").first.click()
    table = site.page.request.get(f"{site.address}/api/v1/site").json()["figures"]
    figure = next(one for one in table if one["key"] == "by_limit.distance_advised_m")
    parts = (figure[part] for part in ("label", "definition", "formula", "source", "validity"))
    site.expect_all(site.page.locator(".explanation"), parts)


def test_feet_are_never_fewer_than_the_metres(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.wait_for_distances()
    advised = site.page.locator(".advised strong")
    exact = [metres(text) for text in advised.all_inner_texts()]
    site.page.get_by_role("button", name="lengths in metres").click()
    expect(advised).to_have_text([re.compile("ft")] * len(exact))
    feet = [metres(text) for text in advised.all_inner_texts()]
    assert all(0.0 <= shown - true < 0.0305 for shown, true in zip(feet, exact, strict=True))
    site.page.locator(".height-handle").press("ArrowUp")
    site.settle()
    expect(site.typed("site.height")).to_have_value("6 ft")  # 1.8 m and a tenth of a foot, to the tenth


def test_the_null_follows_the_noise(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.page.get_by_role("button", name="Point the null at noise").click()
    site.settle()
    handle = site.page.locator(".noise-handle")
    start = int(handle.get_attribute("aria-valuenow") or 0)
    site.keys(handle, "Shift+ArrowRight", "Shift+ArrowRight")
    expect(handle).to_have_attribute("aria-valuenow", str((start + 30) % 360))
    # Bearings turn the other way than azimuths; the metal shifts the null a little against the ring.
    assert to_si(site.typed("site.turn").input_value(), "rad") == pytest.approx(-0.5236, rel=0.2, abs=0)
    expect(site.page.get_by_text("Noise from").first).to_be_visible()


def painted(site: SitePage, before: tuple[str, str] | None = None) -> tuple[str, str]:
    """The canvas in words and as a picture, once both are others than before."""
    label, picture = site.page.wait_for_function(
        """before => { const canvas = document.querySelector("canvas");
            const now = [canvas.getAttribute("aria-label"), canvas.toDataURL()];
            return (before === null || now.every((one, at) => one !== before[at])) && now; }""",
        arg=before,
    ).json_value()
    return label, picture


def test_the_pattern_in_space_is_turned_by_hand_and_by_keys(open_site: SiteOpener, screen: str):
    site = open_site(TERRACE, screen=screen)
    site.page.get_by_role("button", name="Space" if screen == "phone" else "Pattern in space").click()
    canvas = site.page.locator("canvas")
    expect(canvas).to_be_visible()
    expect(site.page.get_by_text("Drawing the pattern")).to_have_count(0)
    site.settle()
    seen = [painted(site)]
    canvas.press("ArrowLeft")
    seen.append(painted(site, seen[-1]))
    left, top, *_ = site.still(canvas)
    site.page.mouse.move(left + 100, top + 100)
    site.page.mouse.down()
    site.page.mouse.move(left + 200, top + 100)
    site.page.mouse.up()
    seen.append(painted(site, seen[-1]))
    assert len({label for label, _ in seen}) == len({picture for _, picture in seen}) == 3


def test_one_switch_takes_the_metal_away_and_brings_it_back(open_site: SiteOpener):
    near = "".join(
        f"&set=site.metal%5B1%5D.{end}%3D%5B%22{x}+m%22%2C%220.4+m%22%2C%220.9+m%22%5D"
        for end, x in (("from", -2), ("to", 2))
    )
    site = open_site(TERRACE + near)
    switch = site.page.get_by_role("switch")
    expect(switch).to_be_visible()
    quality = site.page.locator(".compared tbody tr", has_text="unloaded Q").locator("td")
    expect(quality).to_have_count(2)
    as_it_is, metal_gone = quality.all_inner_texts()
    assert as_it_is != metal_gone
    for expected in ("true", "false"):
        switch.click()
        site.settle()
        expect(switch).to_have_attribute("aria-checked", expected)
        expect(site.page.locator(".site-metal.gone")).to_have_count(2 if expected == "true" else 0)


@pytest.mark.parametrize("path", ["/site?design=", "/site?design=rucksack", "/site?set=ring.plane%3Dhorizontal",
                                  "/site?set=site.earth%3Dfree+space", "/site?set=site.earth%3Dperfect+earth",
                                  TERRACE + "&set=feedline.outside%3Dstraight+down"])  # fmt: skip
def test_every_kind_of_site_is_drawn(open_site: SiteOpener, path: str):
    site = open_site(path)
    site.wait_for_distances()
    expect(site.page.locator(".cut.section .lobe-edge")).to_have_count(1)
    expect(site.page.locator(".cut.plan .plan-ring")).to_have_count(1)


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
    expect(site.page.locator(".site-bench")).not_to_have_attribute("data-seq", first[0])
    site.wait_for_distances()
    later = site.page.wait_for_function(
        """first => { const later = window.seen.filter(([seq, text]) => seq !== first && text !== null);
            return later.length > 0 && later.map(([, text]) => text); }""",
        arg=first[0],
    ).json_value()
    assert first[1] not in later


def test_the_plan_opens_where_people_near_a_high_ring_are(open_site: SiteOpener):
    site = open_site("/site?design=balcony&band=40m")
    expect(site.page.locator(".cut.plan")).to_have_attribute("aria-label", re.compile(r"12\."))
