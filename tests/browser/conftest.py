# SPDX-License-Identifier: BSD-3-Clause
"""A real browser on a real server. Chromium is the system's own; nothing is downloaded."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

from ringwright.desk.desk import Desk
from tests.browser.bench_page import BenchPage
from tests.browser.serving import SOON, Serving
from tests.browser.site_page import SitePage
from tests.web.running import running_server

expect.set_options(timeout=SOON * 1e3)

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
SCREENS = {"wide": (1280, 900), "phone": (390, 844)}

Opener = Callable[..., BenchPage]
SiteOpener = Callable[..., SitePage]
Page = TypeVar("Page", bound=BenchPage)


@pytest.fixture(scope="module")  # its event loop must be gone before other tests run theirs
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=list(FLAGS))
        yield chromium
        chromium.close()


@contextmanager
def served(folder: Path) -> Iterator[Serving]:
    """By a thread of the tests' own: what the program imports and what an earth was solved for is there already."""
    with running_server(Desk(folder)) as running:
        yield Serving(folder, running.address)


@pytest.fixture(scope="session")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    """For all tests that leave the folder as it was; modules whose tests do not have one each in its place."""
    with served(tmp_path_factory.mktemp("bench")) as server:
        yield server


@pytest.fixture(params=SCREENS)
def screen(request: pytest.FixtureRequest) -> str:
    """Tests that ask for it run on each screen."""
    return str(request.param)


def opener(browser: Browser, serving: Serving, kind: type[Page]) -> Iterator[Callable[..., Page]]:
    """Open windows on a page; at the end no window may have complained or asked another machine."""
    windows: list[Page] = []

    def open_window(path: str = kind.PATH, *, screen: str = "wide", dark: bool = False) -> Page:
        width, height = SCREENS[screen]
        context = browser.new_context(
            viewport={"width": width, "height": height},
            has_touch=screen == "phone",
            color_scheme="dark" if dark else "light",
        )
        context.set_default_timeout(SOON * 1e3)
        window = kind(context.new_page(), serving.address)
        windows.append(window)
        return window.open(path)

    yield open_window
    for window in windows:
        window.page.context.close()
        window.assert_quiet()


@pytest.fixture
def open_bench(browser: Browser, serving: Serving) -> Iterator[Opener]:
    """Open a window on the bench."""
    yield from opener(browser, serving, BenchPage)


@pytest.fixture
def open_site(browser: Browser, serving: Serving) -> Iterator[SiteOpener]:
    """Open a window on the site."""
    yield from opener(browser, serving, SitePage)
