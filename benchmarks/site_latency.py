# SPDX-License-Identifier: BSD-3-Clause
"""From the hand to the site's picture in a real browser: `python -m benchmarks.site_latency [--moves N] [--json FILE]`.

The height is moved on the site page. Timed from its input event to the end of the frame (two animation frames later,
so up to a frame too long) in which (1) the prediction of all bands is taken in, (2) zones, people's margins and lobes
of the new height stand on the page, (3) the distances to keep of the chosen band. `while dragged`: moves follow each
other every 30 ms without waiting, as under a hand; timed is the age of each prediction as it is drawn.
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
from ringwright.antenna.scenario import FIRST_RING, TERRACE_OCTAGON
from tests.browser.conftest import FLAGS, served
from tests.browser.serving import lay

MOVES = """async (moves) => {
  const slider = document.querySelector('[data-key="site.height"] input[type=range]');
  const frames = () => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)));
  const until = (is) => new Promise((done, fail) => {
    const late = setTimeout(() => fail(new Error('no picture')), 20000);
    const look = () => { if (is()) { clearTimeout(late); eye.disconnect(); done(); } };
    const eye = new MutationObserver(look);
    eye.observe(document.querySelector('main'), {attributes: true, childList: true, subtree: true});
    look();
  });
  const bench = () => document.querySelector('.site-bench');
  const times = {prediction: [], scene: [], distances: []};
  for (let move = 0; move < moves; move++) {
    const seq = bench().dataset.seq;
    slider.value = 420 + 5 * move;
    const began = performance.now();
    const note = async (name) => { await frames(); times[name].push(performance.now() - began); };
    slider.dispatchEvent(new Event('input', {bubbles: true}));
    await until(() => bench().dataset.seq !== seq);
    const drawn = note('prediction');
    await until(() => bench().dataset.settled === 'true');
    await Promise.all([drawn, note('scene')]);
    await until(() => document.querySelector('.keep-away [data-current="true"]'));
    await note('distances');
    await until(() => bench().dataset.whole === 'true');
  }
  return times;
}"""
DRAG = """async (moves) => {
  const slider = document.querySelector('[data-key="site.height"] input[type=range]');
  const bench = document.querySelector('.site-bench');
  const ages = [], sent = new Map();
  const send = WebSocket.prototype.send;
  let made = 0;
  WebSocket.prototype.send = function (text) {
    const message = JSON.parse(text);
    if (message.type === 'predict') sent.set(String(message.seq), made);
    return send.call(this, text);
  };
  const eye = new MutationObserver(() => {
    const of = sent.get(bench.dataset.seq);
    if (of !== undefined) requestAnimationFrame(() => requestAnimationFrame(() => ages.push(performance.now() - of)));
  });
  eye.observe(bench, {attributes: true, attributeFilter: ['data-seq']});
  for (let move = 0; move < moves; move++) {
    slider.value = 300 + 2 * move;
    made = performance.now();
    slider.dispatchEvent(new Event('input', {bubbles: true}));
    await new Promise(done => setTimeout(done, 30));
  }
  await new Promise(done => setTimeout(done, 1500));
  eye.disconnect();
  WebSocket.prototype.send = send;
  return ages;
}"""
CASES = (("first", "a ring over earth"), ("terrace", "a ring over earth beside a railing"))


def measured(page: Page, address: str, name: str, *, moves: int) -> dict[str, list[float]]:
    """Seconds of each move, by what they lead to."""
    page.goto(f"{address}/site?design={name}")
    page.wait_for_selector('.site-bench[data-settled="true"]')
    page.wait_for_selector('.site-bench[data-whole="true"]')
    found = page.evaluate(MOVES, moves)
    found["prediction while dragged"] = page.evaluate(DRAG, 4 * moves)
    return {what: [time / 1e3 for time in times] for what, times in found.items()}


def main() -> None:
    parser = argparse.ArgumentParser(description="Height to redrawn site in a real browser.")
    parser.add_argument("--moves", type=int, default=40)
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures there as well")
    options = parser.parse_args()
    units = unit_times()
    figures: dict[str, list[float]] = {}
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        lay(Path(scratch), first=FIRST_RING, terrace=TERRACE_OCTAGON)
        with served(Path(scratch)) as server:
            browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=list(FLAGS))
            page = browser.new_page(viewport={"width": 1280, "height": 900})
            for design, words in CASES:
                for what, times in measured(page, server.address, design, moves=options.moves).items():
                    figures[f"{what}, three bands, {words}"] = times
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
