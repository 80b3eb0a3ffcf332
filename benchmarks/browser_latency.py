# SPDX-License-Identifier: BSD-3-Clause
"""From the hand to the picture in a real browser: `python -m benchmarks.browser_latency [--moves N] [--json FILE]`.

A slider is moved; the time runs from its input event to the end of the frame in which the ring, the bars and the
curves of all bands stand redrawn from a new full-wave solution (two animation frames after the page has taken the
answer in, so up to a frame too long). The first picture is timed from the navigation on, with an empty cache.
Needs Chromium on the path. Units as in `make bench`.
"""

import argparse
import json
import shutil
import tempfile
from pathlib import Path

import numpy as np
from playwright.sync_api import Browser, Page, sync_playwright

from benchmarks.unit import unit_times
from tests.browser.conftest import FLAGS, served

MOVES = """async ({key, moves, from}) => {
  const slider = document.querySelector(`[data-key="${key}"] input[type=range]`);
  const bench = document.querySelector('.bench');
  const frame = () => new Promise(requestAnimationFrame);
  const times = [];
  for (let move = 0; move < moves; move++) {
    const seq = bench.dataset.seq;
    const answered = new Promise((done, fail) => {
      setTimeout(() => fail(new Error(`no picture of move ${move}: ${slider.value}`)), 10000);
      const eye = new MutationObserver(() => { if (bench.dataset.seq !== seq) { eye.disconnect(); done(); } });
      eye.observe(bench, {attributes: true, attributeFilter: ['data-seq']});
    });
    slider.value = from + 4 * move;
    const began = performance.now();
    slider.dispatchEvent(new Event('input', {bubbles: true}));
    await answered;
    await frame();
    await frame();
    times.push(performance.now() - began);
    await new Promise(done => setTimeout(done, 30));
  }
  return times;
}"""
FIRST_PICTURES = 7
FREE_SPACE = "/ring?set=site.earth%3Dfree+space"
CASES = (
    (FREE_SPACE, "ring.perimeter", "perimeter, free space"),
    (FREE_SPACE, "coupling.diameter", "coupling loop, free space"),
    (FREE_SPACE, "capacitor.q", "capacitor Q, free space"),
    ("/", "ring.perimeter", "perimeter, over earth"),
    ("/", "site.height", "height, over earth"),
)


def first_picture(browser: Browser, address: str) -> float:
    """Seconds from the navigation to the first drawn ring, in a browser that has seen nothing yet."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.add_init_script(
        """new MutationObserver((_, eye) => { if (document.querySelector('.ring-drawing')) {
            eye.disconnect(); requestAnimationFrame(() => requestAnimationFrame(() => {
                window.firstPicture = performance.now(); })); } }
            ).observe(document, {childList: true, subtree: true});"""
    )
    page.goto(address)
    page.wait_for_function("() => window.firstPicture !== undefined")
    seconds = float(page.evaluate("window.firstPicture")) / 1e3
    context.close()
    return seconds


def redraws(page: Page, key: str, moves: int) -> list[float]:
    """Seconds of each move of a slider."""
    times = page.evaluate(MOVES, {"key": key, "moves": moves, "from": 420})
    return [time / 1e3 for time in times]


def main() -> None:
    parser = argparse.ArgumentParser(description="Slider to redrawn picture in a real browser.")
    parser.add_argument("--moves", type=int, default=80)
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures there as well")
    options = parser.parse_args()
    units = unit_times()
    figures: dict[str, list[float]] = {}
    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder)) as server,
        sync_playwright() as playwright,
    ):
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=list(FLAGS))
        figures["first picture, empty cache"] = [
            first_picture(browser, server.address) for _ in range(FIRST_PICTURES)
        ]
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        for path, key, name in CASES:
            page.goto(server.address + path)
            page.wait_for_selector(".ring-drawing")
            figures[f"{name}, three bands"] = redraws(page, key, options.moves)
        browser.close()
    unit = float(np.median(units + unit_times()))
    print(f"{'median':>9} {'95 %':>9} {'':3}{'median':>7} {'95 %':>7}  calls")
    for name, times in figures.items():
        median, p95 = np.percentile(times, [50.0, 95.0])
        in_units = f"{median / unit:9.1f} {p95 / unit:7.1f} units"
        print(f"{median * 1e3:6.0f} ms {p95 * 1e3:6.0f} ms {in_units} {len(times):4d}  {name}")
    print(f"1 unit = {unit * 1e3:.2f} ms in this run")
    if options.json:
        options.json.write_text(json.dumps({"unit_s": unit, "times_s": figures}, indent=2) + "\n")


if __name__ == "__main__":
    main()
