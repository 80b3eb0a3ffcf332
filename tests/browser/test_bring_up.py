# SPDX-License-Identifier: BSD-3-Clause
"""A new drive is brought up on the page, and a real one is driven over a terminal; phone and wide."""

import contextlib
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, expect

from ringwright.desk.desk import Desk
from ringwright.tuner.links.address import Access, SerialAddress
from tests.browser.conftest import SCREENS
from tests.browser.serving import SOON
from tests.browser.test_access import THUMB, violations
from tests.browser.test_tune_page import TunePage
from tests.tuner.links.far_sessions import OnACable, quick_text
from tests.web.running import Running, running_server

pytestmark = pytest.mark.needs("chromium")


@pytest.fixture(scope="module")
def cable(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OnACable]:
    made = OnACable(tmp_path_factory.mktemp("cable"))
    yield made
    made.close()


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory, cable: OnACable) -> Iterator[Running]:
    folder: Path = tmp_path_factory.mktemp("mast")
    (folder / "designs").mkdir()
    (folder / "designs" / "terrace.toml").write_text(quick_text(), encoding="utf-8")
    desk = Desk(folder)
    desk.drive.access = Access(SerialAddress(str(cable.place.port)))
    with running_server(desk) as running:
        yield running
        desk.drive.end()


Opener = Callable[[str], TunePage]


@pytest.fixture
def open_tuner(browser: Browser, server: Running) -> Iterator[Opener]:
    windows: list[TunePage] = []

    def open_window(screen: str) -> TunePage:
        width, height = SCREENS[screen]
        context = browser.new_context(
            viewport={"width": width, "height": height},
            has_touch=screen == "phone",
            color_scheme="dark" if screen == "wide" else "light",
        )
        context.set_default_timeout(SOON * 1e3)
        window = TunePage(context.new_page(), server.address)
        windows.append(window)
        return window.open(TunePage.PATH)

    yield open_window
    for window in windows:
        window.page.context.close()
    server.desk.drive.end()
    for window in windows:
        assert [said for said in window.complaints if not re.search(window.expected_complaint, said)] == []
        assert window.elsewhere == []


def first_steps(phone: TunePage) -> Locator:
    """Connected, and the first step done; where the next one is."""
    phone.page.get_by_role("button", name="Connect the drive at serial:").click()
    phone.phase("resting")
    expect(phone.page.locator(".tune-holder")).to_contain_text("terrace at serial:")
    phone.page.get_by_text("Bring the drive up, 0 of 6 steps done").press("Enter")
    phone.button("Begin").click()
    expect(phone.page.get_by_text("Bring the drive up, 1 of 6 steps done")).to_be_visible()
    phone.button("Go on").click()
    now = phone.page.get_by_role("region", name="Bringing the drive up")
    expect(now).to_contain_text("Turn the right way")
    expect(now).to_contain_text("Is the transmitter off")
    return now


def assert_fit_for_a_hand(phone: TunePage) -> None:
    assert violations(phone) == []
    small = phone.page.evaluate(
        """thumb => [...document.querySelectorAll(".bring-up-now button, .bring-up-list button")]
            .filter(one => one.getBoundingClientRect().height < thumb).map(one => one.textContent)""",
        THUMB,
    )
    assert small == []
    assert phone.page.evaluate("document.documentElement.scrollWidth") <= SCREENS["phone"][0]


def test_the_first_steps_on_a_real_line_and_what_is_not_seen(open_tuner: Opener, cable: OnACable):
    phone = open_tuner("phone")
    now = first_steps(phone)
    now.get_by_role("button", name="yes").click()
    expect(now).to_contain_text("Which way did the capacitor go?")
    assert_fit_for_a_hand(phone)
    now.get_by_role("button", name="it did not move").click()
    expect(now.get_by_role("alert")).to_contain_text("nothing turns; look at its supply")
    now.get_by_role("button", name="Do the step again").click()
    now.get_by_role("button", name="yes").click()
    now.get_by_role("button", name="that way").click()
    expect(phone.page.get_by_text("Bring the drive up, 2 of 6 steps done")).to_be_visible()
    phone.button("Go on").click()
    now.get_by_role("button", name="yes").click()
    phone.phase("referencing", "nudging")
    phone.page.locator(".stop").click()
    expect(now.get_by_role("alert")).to_contain_text("STOP holds")
    phone.button("Release STOP").click()
    # Another page sees how far it is, and the cable that is pulled.
    wide = open_tuner("wide")
    expect(wide.page.get_by_text("Bring the drive up, 2 of 6 steps done")).to_be_visible()
    assert violations(wide) == []
    cable.place.cut()
    expect(wide.page.locator(".lost")).to_contain_text("Lost the drive")
    expect(wide.said("is gone: unplugged")).to_have_count(1)
    cable.place.mend()
    wide.phase("resting")
    now.get_by_role("button", name="Leave it for now").click()
    expect(now).to_have_count(0)
    press_until_it_goes(phone)


def press_until_it_goes(phone: TunePage) -> None:
    """A press in the moment in which the line comes back is refused in words, and pressed again."""
    words = phone.page.locator(".tune-words")
    goes = re.compile("referencing|travelling|asking")
    for _ in range(5):
        phone.button("30m").click()
        with contextlib.suppress(AssertionError):
            expect(words).to_have_attribute("data-phase", goes, timeout=10_000)
            return
    expect(words).to_have_attribute("data-phase", goes)


def test_a_line_to_nobody_is_told_and_the_simulated_one_is_still_there(
    open_tuner: Opener, server: Running, cable: OnACable
):
    kept, server.desk.drive.access = server.desk.drive.access, Access(SerialAddress("/dev/none-such"))
    try:
        phone = open_tuner("phone")
        phone.page.get_by_role("button", name="Connect the drive at serial:/dev/none-such").click()
        expect(phone.page.get_by_role("alert")).to_contain_text("there is no port /dev/none-such")
        phone.connect()
    finally:
        server.desk.drive.access = kept
