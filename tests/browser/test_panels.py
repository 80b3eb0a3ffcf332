# SPDX-License-Identifier: BSD-3-Clause
"""Coupling, capacitor and drive beside the ring: what is found can be taken, what cannot stand or land says so."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Locator, expect

from ringwright.antenna.scenario import TERRACE_OCTAGON
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import Opener, served
from tests.browser.serving import Serving, lay
from tests.browser.test_access import violations

pytestmark = pytest.mark.needs("chromium")

TERRACE = "/ring?design=terrace"
FIND, END = "Find the best for all bands", "End the search"


@pytest.fixture(scope="module")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("panels")
    lay(folder, terrace=TERRACE_OCTAGON)
    with served(folder) as server:
        yield server


def panel(bench: BenchPage, name: str) -> Locator:
    return bench.page.get_by_role("region", name=name, exact=True)


def find(bench: BenchPage) -> None:
    bench.page.get_by_role("button", name=FIND).click()
    expect(bench.page.locator(".match-figure")).to_be_visible()


def worst_swr(bench: BenchPage) -> float:
    rows = bench.page.locator(".least-swr .figure").all_inner_texts()
    return max(float(re.match(r"[\d.]+", row).group()) for row in rows)  # type: ignore[union-attr]


def test_the_coupling_found_can_be_taken_and_gives_what_was_promised(open_bench: Opener, screen: str):
    bench = open_bench(TERRACE, screen=screen)
    bench.set("coupling.diameter", "300 mm")
    before = worst_swr(bench)
    find(bench)
    promised = float(re.search(r"SWR ([\d.]+) on the worst", panel(bench, "Coupling").inner_text()).group(1))  # type: ignore[union-attr]
    bench.page.get_by_role("button", name="Take it").click()
    bench.settle()
    assert worst_swr(bench) == pytest.approx(promised, rel=1e-2, abs=0)  # two digits after the point of each
    assert promised < 1.2
    assert before > 2.0
    expect(bench.page.get_by_role("button", name="It is on the bench")).to_be_disabled()


def test_a_search_is_ended_and_says_how_far_it_came(open_bench: Opener):
    bench = open_bench(TERRACE)
    bench.page.get_by_role("button", name="vary squash and clearance, too").click()
    bench.page.get_by_role("button", name=FIND).click()
    expect(panel(bench, "Coupling").get_by_text(re.compile(r"\d+ tried"))).to_be_visible()
    bench.page.get_by_role("button", name=END).click()
    expect(panel(bench, "Coupling").get_by_text("Ended early")).to_be_visible()
    expect(bench.page.get_by_role("button", name=FIND)).to_be_visible()


def test_what_was_found_for_another_ring_is_not_offered(open_bench: Opener):
    bench = open_bench(TERRACE)
    find(bench)
    bench.set("ring.perimeter", "4.0 m")
    expect(panel(bench, "Coupling")).to_contain_text("another draft")
    expect(bench.page.get_by_role("button", name="Take it")).to_have_count(0)


def test_a_capacitor_that_does_not_stand_it_is_marked(open_bench: Opener):
    bench = open_bench(TERRACE)
    capacitor = panel(bench, "Capacitor")
    expect(capacitor.locator(".measure-bar")).not_to_have_count(0)
    expect(capacitor.locator(".measure-bar.over")).to_have_count(0)
    bench.set("power", "400 W")
    expect(capacitor.locator(".measure-bar.over")).to_have_count(1)


def test_bands_stand_on_the_travel_in_the_order_of_their_capacitance(open_bench: Opener):
    bench = open_bench(TERRACE)
    travel = panel(bench, "Capacitor").locator(".travel-place")
    expect(travel).to_have_count(3)
    places = travel.evaluate_all(
        "nodes => Object.fromEntries(nodes.map(node => [node.innerText, parseFloat(node.style.left)]))"
    )
    assert places["30m"] < places["40m"] < places["60m"]


def test_a_coarser_drive_lands_outside_the_tenth(open_bench: Opener):
    bench = open_bench(TERRACE)
    drive = panel(bench, "Drive")
    expect(drive.get_by_role("img", name=re.compile("lands within"))).to_have_count(1)
    drive.locator("summary").press("Enter")
    expect(drive).to_contain_text("reduction needed", use_inner_text=True)


def test_the_panels_keep_the_rules_of_access(open_bench: Opener, screen: str):
    bench = open_bench(TERRACE, screen=screen)
    find(bench)
    for fold in bench.page.locator(".panels summary").all():
        fold.press("Enter")
    assert violations(bench) == []
