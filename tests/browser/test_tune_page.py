# SPDX-License-Identifier: BSD-3-Clause
"""A twin is driven from a phone: from cold to tuned, through a pulled cable, past a second page that looks on.

The server runs in the tests' own process, on a clock that a busy machine cannot make jump: what must happen within a
second is read from the session's own times, not from a watch.
"""

import re
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, expect

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.desk.desk import Desk
from ringwright.tuner.clock import SystemClock
from ringwright.tuner.twin_link import AT_REST, PULLED
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import SCREENS
from tests.browser.serving import SOON
from tests.browser.test_access import AXE, THUMB, violations
from tests.web.running import Running, running_server

pytestmark = pytest.mark.needs("chromium")

LONGEST_JUMP = 0.03
SPEED = "2500 steps/s"


class UnhurriedClock(SystemClock):
    """Goes with the computer's, but a time in which nobody looked counts for three hundredths of a second at most."""

    def __init__(self) -> None:
        self._now, self._seen = 0.0, time.monotonic()

    def now(self) -> float:
        seen = time.monotonic()
        self._now += min(seen - self._seen, LONGEST_JUMP)
        self._seen = seen
        return self._now


class TunePage(BenchPage):
    PATH = "/tune?design=terrace"

    def settle(self) -> None:
        self.page.wait_for_selector('main[data-settled="true"] :is(.no-drive, .tune-bench, .ring-drawing)')

    def connect(self) -> None:
        self.page.get_by_role("button", name="Connect the simulated drive of terrace").click()
        self.phase("resting")

    def phase(self, *wanted: str) -> None:
        expect(self.page.locator(".tune-words")).to_have_attribute("data-phase", re.compile("|".join(wanted)))

    def said(self, words: str) -> Locator:
        return self.page.get_by_role("log", name="What happened").locator("li").filter(has_text=words)

    def at(self, words: str) -> float:
        """When the session said so, by its own clock."""
        expect(self.said(words)).to_have_count(1)
        found = re.match(r"([0-9.]+) s", self.said(words).inner_text())
        assert found
        return float(found[1])

    def button(self, name: str, *, exact: bool = True) -> Locator:
        return self.page.get_by_role("button", name=name, exact=exact)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    folder: Path = tmp_path_factory.mktemp("armchair")
    (folder / "designs").mkdir()
    # The drive turns a little slower than the scenario's, so that it is still on its way when the cable is pulled.
    text = shipped_text(TERRACE_OCTAGON).replace("reduction = 5\n", f'reduction = 5\nspeed = "{SPEED}"\n')
    assert SPEED in text
    (folder / "designs" / "terrace.toml").write_text(text, encoding="utf-8")
    bare, _, _ = text.partition("[drive]")
    (folder / "designs" / "bare.toml").write_text(bare, encoding="utf-8")
    desk = Desk(folder)
    desk.drive.make_clock = UnhurriedClock
    with running_server(desk) as running:
        yield running


Opener = Callable[..., TunePage]


@pytest.fixture
def open_tuner(browser: Browser, server: Running) -> Iterator[Opener]:
    windows: list[TunePage] = []

    def open_window(path: str = TunePage.PATH, *, screen: str = "phone") -> TunePage:
        width, height = SCREENS[screen]
        context = browser.new_context(
            viewport={"width": width, "height": height},
            has_touch=screen == "phone",
        )
        context.set_default_timeout(SOON * 1e3)
        window = TunePage(context.new_page(), server.address)
        windows.append(window)
        return window.open(path)

    yield open_window
    for window in windows:
        window.page.context.close()
    server.desk.drive.end()
    for window in windows:
        assert [said for said in window.complaints if not re.search(window.expected_complaint, said)] == []
        assert window.elsewhere == []


def test_from_cold_to_tuned_through_a_pulled_cable(open_tuner: Opener, server: Running):
    phone = open_tuner()
    phone.connect()
    step = phone.page.locator(".tune-readout dd").last
    before = step.inner_text()
    phone.page.get_by_text("More", exact=True).click()
    phone.button("60m").click()
    phone.phase("travelling")
    expect(step).not_to_have_text(before)  # it turns
    expect(step).not_to_have_text(step.inner_text())  # still: a busy machine's heartbeat may have paused
    phone.button("Pull the cable, to see").click()
    lost = phone.at("Lost the drive") - phone.at(PULLED)
    rest = phone.at(AT_REST) - phone.at(PULLED)
    assert 0.0 < lost <= 1.0
    # The last heartbeat may have been sent just before; the board stands 1.5 s after it at the latest.
    assert 0.0 < rest <= 1.5 + 2 * LONGEST_JUMP + 0.2  # 0.2: the longest that a line is on its way
    expect(phone.page.locator(".lost")).to_contain_text("Lost the drive")
    phone.phase("away")
    phone.button("Put the cable in again").click()
    phone.phase("resting")
    expect(phone.page.locator(".lost")).to_have_count(0)
    phone.button("30m").click()
    phone.phase("tuned")
    expect(phone.page.locator(".tune-frequency")).to_contain_text("10.1250")
    expect(phone.page.locator(".tune-words")).to_contain_text("ready, 66 W allowed")
    expect(phone.page.locator(".tune-plot .curve")).to_have_count(1)
    expect(phone.page.locator(".tune-plot .reading").first).to_be_visible()
    expect(phone.page.get_by_text("Tuning table, 1 pair")).to_be_visible()
    swr = float(phone.page.locator(".tune-readout dd").first.inner_text())
    assert 1.0 <= swr < 1.5
    session = server.desk.drive.session
    assert session is not None
    assert session.parts.twin is not None
    assert session.parts.twin.world.monitor.acts == {}


def test_two_pages_and_stop_from_the_one_that_looks_on(open_tuner: Opener):
    phone = open_tuner()
    phone.connect()
    computer = open_tuner(screen="wide")
    phone.button("60m").click()
    expect(phone.page.locator(".tune-holder")).to_contain_text("this page holds control")
    expect(computer.page.locator(".tune-holder")).to_contain_text("a phone holds control, 1 more looks on")
    computer.page.locator(".stop").click()
    phone.phase("stopped")
    expect(phone.page.locator(".tune-words")).to_have_text("STOP holds")
    computer.button("Take over").click()
    expect(phone.page.locator(".tune-holder")).to_contain_text("a computer holds control")
    computer.button("Release STOP").click()
    computer.phase("resting")
    expect(phone.button("40m")).to_be_disabled()
    expect(
        phone.page.get_by_text("a computer holds control: take it over to move the drive.")
    ).to_be_in_viewport()
    phone.button("Take over").click()
    expect(phone.button("40m")).to_be_enabled()
    expect(computer.page.locator(".tune-holder")).to_contain_text("a phone holds control")


@pytest.mark.parametrize("key", ["Escape", "Space"])
def test_stop_has_its_keys_on_every_page(open_tuner: Opener, key: str):
    phone = open_tuner()
    phone.connect()
    ring = open_tuner("/ring?design=terrace", screen="wide") if key == "Escape" else phone
    expect(ring.page.locator(".stop")).to_be_visible()
    phone.button("60m").click()
    phone.phase("travelling", "asking")
    ring.page.get_by_role("button", name="Explain").focus()
    ring.page.keyboard.press(key)
    phone.phase("stopped")
    expect(ring.page.get_by_role("button", name="Explain")).to_have_attribute("aria-pressed", "false")
    phone.button("Release STOP").press("Enter")  # buttons answer to Enter
    phone.phase("resting")
    typed = phone.page.get_by_label("frequency in megahertz")
    typed.focus()
    phone.page.keyboard.type("7 .1")  # Space in a text field is a blank
    expect(typed).to_have_value("7 .1")
    phone.phase("resting")


def test_a_tap_on_a_nudge_goes_as_far_as_its_label_says(open_tuner: Opener):
    phone = open_tuner()
    phone.connect()
    phone.page.get_by_label("frequency in megahertz").fill("7.1")
    phone.button("Only go there").click()
    expect(phone.said("Standing where the table has 7.1000 MHz")).to_have_count(1)
    nudge = phone.button("+0.5 kHz")
    nudge.scroll_into_view_if_needed()
    x, y, width, height = phone.still(nudge)
    before = int(phone.page.locator(".tune-readout dd").last.inner_text())
    phone.page.mouse.click(x + width / 2, y + height / 2)  # held till the page says "nudging" it may be two
    expect(phone.said("Nudged by +0.5 kHz, -5 steps; stands where the table has 7.1005 MHz")).to_have_count(1)
    expect(phone.page.locator(".tune-readout dd").last).to_have_text(str(before - 5))


def test_what_is_typed_wrong_says_so(open_tuner: Opener):
    phone = open_tuner()
    phone.connect()
    phone.page.get_by_label("frequency in megahertz").fill("seven")
    expect(phone.page.get_by_text("Write megahertz from 1.8 to 54")).to_be_visible()
    expect(phone.button("Tune")).to_be_disabled()
    phone.page.get_by_label("frequency in megahertz").fill("14.2")
    phone.button("Tune").click()
    expect(phone.said("none of the design's bands")).to_have_count(1)


def test_a_design_without_a_drive_says_so_before_anything_is_pressed(open_tuner: Opener):
    phone = open_tuner("/tune?design=bare")
    expect(phone.page.get_by_text("The design states no drive: add a [drive] to its file.")).to_be_visible()
    expect(phone.button("Connect the simulated drive of bare")).to_be_disabled()
    expect(phone.button("Take the terrace octagon instead")).to_be_enabled()


def test_a_drive_that_was_let_go_is_connected_again(open_tuner: Opener, server: Running):
    phone = open_tuner()
    phone.connect()
    server.desk.drive.end()
    expect(phone.button("Connect the simulated drive of terrace")).to_be_visible()
    expect(phone.page.locator(".stop")).to_have_count(0)
    phone.connect()


def test_it_is_for_every_hand_and_eye(open_tuner: Opener, screen: str):
    page = open_tuner(screen=screen)
    assert violations(page) == []
    page.connect()
    for fold in page.page.locator("summary").all():
        fold.press("Enter")
    assert AXE.exists()
    assert violations(page) == []
    small = page.page.evaluate(
        """thumb => [...document.querySelectorAll(".tune-bench button, .stop, .tune-bench input")]
            .filter(one => { const box = one.getBoundingClientRect(); return box.height < thumb || box.width < thumb })
            .map(one => one.textContent || one.ariaLabel)""",
        THUMB,
    )
    assert small == []
    assert page.page.evaluate("document.documentElement.scrollWidth") <= SCREENS[screen][0]


def test_stop_is_on_the_screen_of_a_phone_whatever_is_scrolled(open_tuner: Opener):
    phone = open_tuner()
    phone.connect()
    stop = phone.page.locator(".stop")
    for where in ("0", "document.body.scrollHeight"):
        phone.page.evaluate(f"window.scrollTo(0, {where})")
        expect(stop).to_be_in_viewport(ratio=1.0)
    phone.page.evaluate("window.scrollTo(0, 0)")
    for part in (".tune-frequency", ".tune-plot", ".band-chips", ".nudges"):
        expect(phone.page.locator(part)).to_be_in_viewport(ratio=1.0)
