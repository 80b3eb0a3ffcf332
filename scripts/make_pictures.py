# SPDX-License-Identifier: BSD-3-Clause
"""Pictures of the pages for README and docs: `python -m scripts.make_pictures [--out FOLDER]`. Needs Chromium.

The terrace octagon of the scenario, wide and on a phone, by day and by night.
"""

import argparse
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from ringwright.antenna.scenario import TERRACE_OCTAGON
from tests.browser.conftest import FLAGS, SCREENS, served
from tests.browser.serving import lay

NAME = Path(TERRACE_OCTAGON).stem
SETTLE = 600  # ms: fonts, and the answer to the last change


def hold_up(page: Page, screen: str) -> None:
    """The ring; on a wide screen with a variant pinned and one address opened."""
    page.wait_for_selector(".ring-drawing")
    page.wait_for_timeout(SETTLE)
    if screen == "wide":
        page.get_by_role("button", name="Pin A").click()
        page.get_by_label("perimeter, typed").fill("4.9 m")
        page.get_by_label("perimeter, typed").press("Enter")
        page.wait_for_timeout(SETTLE)
        page.locator(".band-row.chosen button.ink-ring").click()
        page.locator("main").evaluate("main => { main.scrollTop = 0; window.scrollTo(0, 0); }")


def walk_round(page: Page, screen: str) -> None:
    """The site with more power than usual; on a wide screen with one more limit drawn."""
    page.wait_for_selector('.site-bench[data-settled="true"]')
    page.get_by_label("power, typed").fill("100 W")
    page.get_by_label("power, typed").press("Enter")
    if screen == "wide":
        page.get_by_role("button", name="EU 1999/519").click()
    page.wait_for_timeout(SETTLE)
    page.wait_for_selector('.site-bench[data-whole="true"]')
    page.evaluate("window.scrollTo(0, 0)")


def look_at_the_pattern(page: Page, screen: str) -> None:
    """The pattern in space."""
    page.wait_for_selector('.site-bench[data-settled="true"]')
    page.get_by_role("button", name="Space" if screen == "phone" else "Pattern in space").click()
    page.wait_for_selector('.site-bench[data-whole="true"]')
    page.evaluate("document.activeElement.blur()")


PICTURES: tuple[tuple[str, str, Callable[[Page, str], None], tuple[str, ...]], ...] = (
    ("ring", f"/ring?design={NAME}&band=40m", hold_up, tuple(SCREENS)),
    ("site", f"/site?design={NAME}&band=40m", walk_round, tuple(SCREENS)),
    ("space", f"/site?design={NAME}&band=30m", look_at_the_pattern, ("wide",)),
)


def take(browser: Browser, address: str, out: Path) -> None:
    """Every page on every screen, by day and by night."""
    for what, path, prepare, screens in PICTURES:
        for screen in screens:
            width, height = SCREENS[screen]
            for light in ("light", "dark"):
                page = browser.new_page(
                    viewport={"width": width, "height": height},
                    color_scheme="dark" if light == "dark" else "light",
                    has_touch=screen == "phone",
                )
                page.goto(address + path)
                prepare(page, screen)
                page.wait_for_timeout(SETTLE)
                picture = out / f"{what}-{screen}-{light}.png"
                page.screenshot(path=picture)
                print(picture)
                page.close()


def main() -> None:
    parser = argparse.ArgumentParser(description="Pictures of the pages for README and docs.")
    parser.add_argument("--out", type=Path, default=Path("docs/pictures"), metavar="FOLDER")
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        folder = Path(scratch) / "terrace"
        lay(folder, **{NAME: TERRACE_OCTAGON})
        with served(folder) as server:
            browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=list(FLAGS))
            take(browser, server.address, options.out)
            browser.close()


if __name__ == "__main__":
    main()
