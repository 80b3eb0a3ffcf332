# SPDX-License-Identifier: BSD-3-Clause
"""Pictures of the pages for README and docs: `python -m scripts.make_pictures [--out FOLDER] [PAGE...]`.

Needs Chromium. The terrace octagon of the scenario, wide and on a phone, by day and by night.
"""

import argparse
import shutil
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from ringwright.antenna.scenario import TERRACE_OCTAGON
from scripts.picture_record import fill, sweep_text
from tests.browser.conftest import FLAGS, SCREENS, served
from tests.browser.serving import lay

NAME = Path(TERRACE_OCTAGON).stem
TRAVEL = 600_000  # ms: the drive goes at its own pace, and so does a busy machine
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


def prove_two(page: Page, _screen: str) -> None:
    """Two sweeps that show too little Q, judged and weighed, not kept yet."""
    page.wait_for_selector('main[data-settled="true"] .choose-files')
    with tempfile.TemporaryDirectory() as scratch:
        files = [Path(scratch) / f"{band}.s1p" for band in ("60m", "30m")]
        for file, (at, q, coupling) in zip(
            files, ((5.3585e6, 700.0, 0.62), (10.12e6, 470.0, 0.62)), strict=True
        ):
            file.write_text(sweep_text(at, q=q, coupling=coupling, seed=int(at)), encoding="ascii")
        page.get_by_label("sweep files").set_input_files(files)
        page.get_by_text("Measure this next").wait_for(timeout=TRAVEL)
    page.evaluate("window.scrollTo(0, 0)")


def read_the_year(page: Page, _screen: str) -> None:
    """The record of a year, its mended joint chosen."""
    page.wait_for_selector(".band-moved")
    page.wait_for_selector(".trend-plot")
    page.get_by_role("listbox").focus()
    page.keyboard.press("End")
    for _ in range(30):
        if page.locator('.entry[aria-label*="joint 5 remade, silver"][aria-selected="true"]').count():
            break
        page.keyboard.press("ArrowLeft")
    page.evaluate("document.activeElement.blur()")


def tune_in(page: Page, screen: str) -> None:
    """The simulated drive brought to a dip; the page before may have connected it, and holds control still."""
    page.wait_for_selector(".no-drive, .tune-bench")
    if page.locator(".no-drive").count():
        page.get_by_role("button", name="Connect the simulated").click()
    page.wait_for_selector('[data-phase="resting"], [data-phase="tuned"]')
    take = page.get_by_role("button", name="Take over")
    if take.count():
        take.click()
    page.get_by_role("button", name="30m" if screen == "phone" else "40m", exact=True).click()
    page.wait_for_selector('[data-phase="asking"], [data-phase="searching"]', timeout=TRAVEL)
    page.wait_for_selector('[data-phase="tuned"]', timeout=TRAVEL)


PICTURES: tuple[tuple[str, str, Callable[[Page, str], None], tuple[str, ...]], ...] = (
    ("ring", f"/ring?design={NAME}&band=40m", hold_up, tuple(SCREENS)),
    ("site", f"/site?design={NAME}&band=40m", walk_round, tuple(SCREENS)),
    ("space", f"/site?design={NAME}&band=30m", look_at_the_pattern, ("wide",)),
    ("tune", f"/tune?design={NAME}", tune_in, tuple(SCREENS)),
    ("prove", f"/prove?design={NAME}", prove_two, tuple(SCREENS)),
    ("record", f"/record?design={NAME}", read_the_year, tuple(SCREENS)),
)


def take(browser: Browser, address: str, out: Path, *, wanted: Sequence[str] = ()) -> None:
    """Every page that is wanted, all of them if none is named, on every screen, by day and by night."""
    for what, path, prepare, screens in PICTURES:
        if wanted and what not in wanted:
            continue
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
    parser.add_argument("pages", nargs="*", metavar="PAGE", help="only these, as in: prove record")
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        folder = Path(scratch) / "terrace"
        lay(folder, **{NAME: TERRACE_OCTAGON})
        fill(folder, NAME)
        with served(folder) as server:
            browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=list(FLAGS))
            take(browser, server.address, options.out, wanted=options.pages)
            browser.close()


if __name__ == "__main__":
    main()
