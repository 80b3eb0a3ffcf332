# SPDX-License-Identifier: BSD-3-Clause
"""Pictures of the pages for README and docs: `python -m scripts.make_pictures [--out FOLDER]`. Needs Chromium.

The terrace octagon of the scenario, wide and on a phone, by day and by night.
"""

import argparse
import shutil
import tempfile
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from tests.browser.conftest import FLAGS, SCREENS, served

SETTLE = 600  # ms: fonts, and the answer to the last change


def hold_up(page: Page) -> None:
    """The ring with a variant pinned and one address opened."""
    page.get_by_role("button", name="Pin A").click()
    page.get_by_label("perimeter, typed").fill("4.9 m")
    page.get_by_label("perimeter, typed").press("Enter")
    page.wait_for_timeout(SETTLE)
    page.locator(".band-row.chosen button.ink-ring").click()
    page.locator("main").evaluate("main => { main.scrollTop = 0; window.scrollTo(0, 0); }")


def main() -> None:
    parser = argparse.ArgumentParser(description="Pictures of the pages for README and docs.")
    parser.add_argument("--out", type=Path, default=Path("docs/pictures"), metavar="FOLDER")
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    name = Path(TERRACE_OCTAGON).stem
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        folder = Path(scratch) / "terrace"
        (folder / "designs").mkdir(parents=True)
        (folder / "designs" / f"{name}.toml").write_text(shipped_text(TERRACE_OCTAGON), encoding="utf-8")
        with served(folder) as server:
            browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=list(FLAGS))
            for screen, (width, height) in SCREENS.items():
                for light in ("light", "dark"):
                    page = browser.new_page(
                        viewport={"width": width, "height": height},
                        color_scheme="dark" if light == "dark" else "light",
                        has_touch=screen == "phone",
                    )
                    page.goto(f"{server.address}/ring?design={name}&band=40m")
                    page.wait_for_selector(".ring-drawing")
                    page.wait_for_timeout(SETTLE)
                    if screen == "wide":
                        hold_up(page)
                    page.wait_for_timeout(SETTLE)
                    path = options.out / f"ring-{screen}-{light}.png"
                    page.screenshot(path=path)
                    print(path)
                    page.close()
            browser.close()


if __name__ == "__main__":
    main()
