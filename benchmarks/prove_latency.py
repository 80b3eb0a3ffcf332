# SPDX-License-Identifier: BSD-3-Clause
"""From the file let go to the curves drawn, in a real browser: `python -m benchmarks.prove_latency [--drops N]`.

A sweep of 10,001 points is dropped on the page Prove. The time runs between two marks of the page's own clock: the
drop event, and the end of the frame in which its card stands with verdict, SWR curve and fitted circle (two animation
frames after they came into the page, so up to a frame too long). In between the file is read, sent, parsed, fitted,
set against the prediction, sent back and drawn. The design was predicted before, as it is for whoever has a design on
the bench; the suspects, which come later, are not in it. Each drop is of another file, so that nothing is remembered.
Needs Chromium on the path. Units as in `make bench`.
"""

import argparse
import json
import shutil
import tempfile
from pathlib import Path

import numpy as np
from playwright.sync_api import Page, sync_playwright

from benchmarks.unit import unit_times
from ringwright.antenna.scenario import TERRACE_OCTAGON
from tests.browser.conftest import FLAGS, served
from tests.browser.serving import lay
from tests.browser.test_prove_record import long_sweep

DROP = """async ({name, text}) => {
  const held = new DataTransfer();
  held.items.add(new File([text], name));
  const frame = () => new Promise(requestAnimationFrame);
  const isDrawn = () => {
    const card = document.querySelector(`.sweep-card[data-file="${name}"]`);
    return card !== null && card.querySelector('.verdict') !== null
      && card.querySelector('.swr svg.plot .curve') !== null && card.querySelector('svg.reflection .curve') !== null;
  };
  const drawn = new Promise((done, fail) => {
    setTimeout(() => fail(new Error(`${name} was not drawn`)), 30000);
    const eye = new MutationObserver(() => { if (isDrawn()) { eye.disconnect(); done(); } });
    eye.observe(document.body, {childList: true, subtree: true});
  });
  performance.mark('let go');
  const how = {dataTransfer: held, bubbles: true, cancelable: true};
  document.querySelector('h1').dispatchEvent(new DragEvent('drop', how));
  await drawn;
  await frame();
  await frame();
  performance.mark('drawn');
  return performance.measure(name, 'let go', 'drawn').duration;
}"""


def drops(page: Page, count: int) -> list[float]:
    """Seconds of each drop; the page is empty before each."""
    times = []
    for number in range(count):
        name, text = f"{number}.s1p", long_sweep(7.09e6 + 100.0 * number)
        times.append(float(page.evaluate(DROP, {"name": name, "text": text})) / 1e3)
        page.get_by_role("button", name=f"Take off {name}").click()
        page.wait_for_selector(".nothing-yet")
    return times


def main() -> None:
    parser = argparse.ArgumentParser(description="A 10,001-point sweep from the drop to its curves.")
    parser.add_argument("--drops", type=int, default=15)
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures there as well")
    options = parser.parse_args()
    units = unit_times()
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        folder = Path(scratch) / "terrace"
        lay(folder, terrace=TERRACE_OCTAGON)
        with served(folder) as server:
            browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=list(FLAGS))
            page = browser.new_page(viewport={"width": 1280, "height": 900})
            page.goto(f"{server.address}/prove?design=terrace")
            page.wait_for_selector('main[data-settled="true"] .nothing-yet')
            times = drops(page, options.drops)
            browser.close()
    unit = float(np.median(units + unit_times()))
    median, p95 = np.percentile(times, [50.0, 95.0])
    print(f"{median * 1e3:.0f} ms median, {p95 * 1e3:.0f} ms at 95 %, {len(times)} drops of 10,001 points")
    print(f"{median / unit:.1f} and {p95 / unit:.1f} units; 1 unit = {unit * 1e3:.2f} ms in this run")
    if options.json:
        options.json.write_text(json.dumps({"unit_s": unit, "times_s": times}, indent=2) + "\n")


if __name__ == "__main__":
    main()
