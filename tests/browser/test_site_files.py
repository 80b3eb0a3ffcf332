# SPDX-License-Identifier: BSD-3-Clause
"""What is changed on the site ends in the file, comments kept; what cannot be is refused in its place."""

import re
import tomllib
from collections.abc import Iterator

import pytest
from playwright.sync_api import expect

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from tests.browser.conftest import SiteOpener, served
from tests.browser.serving import Serving, lay, put
from tests.browser.site_page import METAL, PEOPLE, SitePage

pytestmark = pytest.mark.needs("chromium")

TERRACE = "/site?design=terrace&band=40m"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    """One for all: what a site was solved for once is known to the next test."""
    folder = tmp_path_factory.mktemp("site")
    lay(folder, terrace=TERRACE_OCTAGON)
    with served(folder) as running:
        yield running


@pytest.fixture
def serving(server: Serving) -> Serving:
    """The folder as it was at first."""
    put(server.file("terrace"), shipped_text(TERRACE_OCTAGON))
    return server


def comments(text: str) -> list[str]:
    return [line.partition("#")[2] for line in text.splitlines() if "#" in line]


def save(site: SitePage) -> None:
    site.page.get_by_role("button", name="Save", exact=True).click()
    site.expect_note("Saved as terrace.toml")
    site.settle()


def open_item(site: SitePage, list_: str, number: int) -> None:
    site.item(list_, number).locator("summary").click()
    expect(site.item(list_, number)).to_have_attribute("open", "")


def test_what_is_placed_drawn_and_raised_is_saved_and_every_comment_stays(
    open_site: SiteOpener, serving: Serving
):
    site = open_site(TERRACE)
    before = serving.file("terrace").read_text(encoding="utf-8")
    site.put_in_front("Place a person")
    site.put_in_front("Draw a railing")
    site.keys(site.page.locator(".height-handle"), "ArrowUp")
    site.keys(site.handle("neighbour's window"), "ArrowRight")
    open_item(site, PEOPLE, 3)
    name = site.item(PEOPLE, 3).get_by_label("name", exact=True)
    name.fill("the gate")
    name.press("Tab")
    site.settle()
    save(site)
    after = serving.file("terrace").read_text(encoding="utf-8")
    assert comments(after) == comments(before)
    place = tomllib.loads(after)["site"]
    assert place["height"] == "1.85 m"
    assert [person["name"] for person in place["people"]][2] == "the gate"
    assert place["people"][0]["at"] == ["3.55 m", "1 m", "2 m"]
    assert [piece["kind"] for piece in place["metal"]] == ["railing", "railing"]
    expect(site.page.get_by_role("button", name="drop ")).to_have_count(0)
    expect(site.item(PEOPLE, 3)).to_have_count(1)


def test_a_name_half_typed_outlives_what_comes_in(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.put_in_front("Place a person")  # and opens it
    name = site.item(PEOPLE, 3).get_by_label("name", exact=True)
    name.fill("the gate")
    site.wait_for_distances()  # which come after the picture, and draw the list anew
    expect(name).to_have_value("the gate")
    name.press("Escape")
    expect(name).to_have_value("person 3")
    name.fill("the door")
    name.press("Enter")
    site.wait_for_distances()
    expect(site.item(PEOPLE, 3).locator("summary")).to_have_text(
        re.compile(r"^\s*the door"), use_inner_text=True
    )


def test_what_is_taken_out_is_gone_from_the_file_and_the_rest_keeps_its_words(
    open_site: SiteOpener, serving: Serving
):
    site = open_site(TERRACE)
    open_item(site, PEOPLE, 1)
    site.page.get_by_role("button", name="Take neighbour's window out").click()
    site.settle()
    save(site)
    place = tomllib.loads(serving.file("terrace").read_text(encoding="utf-8"))["site"]
    assert [person["name"] for person in place["people"]] == ["operator's chair behind the wall"]
    assert len(place["metal"]) == 1


def test_undo_brings_back_what_was_taken_out(open_site: SiteOpener):
    site = open_site(TERRACE)
    open_item(site, METAL, 1)
    site.page.get_by_role("button", name="Take railing out").click()
    site.settle()
    expect(site.item(METAL, 1)).to_have_count(0)
    site.page.get_by_role("button", name="drop 1 change").click()
    site.settle()
    expect(site.item(METAL, 1)).to_have_count(1)


def test_the_address_holds_what_was_placed(open_site: SiteOpener):
    site = open_site(TERRACE)
    site.put_in_front("Place a person")
    site.page.wait_for_url("**person+3**")
    site.reload()
    expect(site.item(PEOPLE, 3)).to_have_count(1)
    site.page.get_by_role("link", name="Ring").click()
    expect(site.page.locator(".ring-drawing")).to_be_visible()
    site.page.go_back()
    site.settle()


WRONG_SPOTS = (
    ("neighbour's window, spot, x", "3,2 m", "comma"),
    ("neighbour's window, spot, z", "-1 m", "under the earth"),
    ("neighbour's window, spot, y", "far away", "does not read as a length"),
    ("neighbour's window, spot, y", "5 pF", "capacitance"),
)


def test_a_spot_that_cannot_be_says_so_in_its_place(open_site: SiteOpener):
    site = open_site(TERRACE)
    lobe = site.page.locator(".cut.plan .lobe-edge")
    open_item(site, PEOPLE, 1)
    refusal = site.item(PEOPLE, 1).get_by_role("alert")
    for label, text, said in WRONG_SPOTS:
        picture = lobe.get_attribute("d") or "none"
        field = site.coordinate(PEOPLE, 1, label)
        field.fill(text)
        field.press("Enter")
        expect(refusal).to_contain_text(said)
        expect(site.page.get_by_text("This is the last site that works.")).to_have_count(1)
        expect(lobe).to_have_attribute("d", picture)
        field.fill("2 m")
        field.press("Enter")
        site.settle()
        expect(refusal).to_have_count(0)


def test_a_railing_through_the_ring_is_refused_and_can_be_led_away(open_site: SiteOpener):
    site = open_site(TERRACE)
    open_item(site, METAL, 1)
    for point in ("from", "to"):
        for axis, text in (("y", "0 m"), ("z", "1.8 m")):
            field = site.coordinate(METAL, 1, f"railing, {point}, {axis}")
            field.fill(text)
            field.press("Enter")
    expect(site.page.get_by_role("alert").first).to_contain_text("metal")


def test_after_one_is_taken_out_a_refusal_still_finds_the_right_one(open_site: SiteOpener):
    site = open_site(TERRACE)
    open_item(site, PEOPLE, 1)
    site.page.get_by_role("button", name="Take neighbour's window out").click()
    site.settle()
    open_item(site, PEOPLE, 2)
    field = site.coordinate(PEOPLE, 2, "operator's chair behind the wall, spot, z")
    field.fill("-1 m")
    field.press("Enter")
    expect(site.item(PEOPLE, 2).get_by_role("alert")).to_be_visible()


def test_a_list_that_others_changed_too_is_shown_and_mine_takes_its_place(
    open_site: SiteOpener, serving: Serving
):
    site = open_site(TERRACE)
    site.keys(site.handle("neighbour's window"), "ArrowRight")
    path = serving.file("terrace")
    text = path.read_text(encoding="utf-8")
    theirs = '[[site.people]]\nname = "new first"\nat = ["9 m", "9 m", "1 m"]\n\n[[site.people]]'
    put(path, text.replace("[[site.people]]", theirs, 1))
    site.expect_note("was changed elsewhere, also site.people[1].at")
    site.expected_complaint = "409"
    site.page.get_by_role("button", name="Save", exact=True).click()
    expect(site.page.get_by_role("dialog")).to_be_visible()
    assert path.read_text(encoding="utf-8").count("new first") == 1
    site.page.get_by_role("button", name="Mine in dispute").click()
    site.expect_note("Saved as terrace.toml")
    place = tomllib.loads(path.read_text(encoding="utf-8"))["site"]
    assert [person["name"] for person in place["people"]] == [
        "neighbour's window",
        "operator's chair behind the wall",
    ]
    assert place["people"][0]["at"] == ["3.55 m", "1 m", "2 m"]


def test_a_named_earth_becomes_constants_and_a_name_again(open_site: SiteOpener, serving: Serving):
    site = open_site(TERRACE)
    earth = site.page.get_by_label("earth", exact=True)
    earth.select_option("constants of your own")
    site.settle()
    expect(site.typed("site.conductivity")).to_have_value("5 mS/m")
    site.set("site.conductivity", "12 mS/m")
    save(site)
    place = tomllib.loads(serving.file("terrace").read_text(encoding="utf-8"))["site"]
    assert (place["conductivity"], place["permittivity"]) == ("12 mS/m", 13)
    assert "earth" not in place
    earth.select_option("wet ground")
    site.settle()
    expect(site.page.locator('[data-key="site.conductivity"]')).to_have_count(0)
    expect(site.page.locator('[data-key="site.earth"]')).to_contain_text("P.527")
