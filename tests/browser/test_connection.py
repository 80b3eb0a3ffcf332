# SPDX-License-Identifier: BSD-3-Clause
"""The live line: one request in flight, a server that starts again under the page, two windows."""

import json
import math
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, WebSocket, expect

from ringwright.units import to_si
from tests.browser.bench_page import BenchPage
from tests.browser.conftest import SCREENS, Opener, opener, served
from tests.browser.serving import Program, Serving, put

pytestmark = pytest.mark.needs("chromium")


@pytest.fixture(scope="module")
def program(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Program]:
    """The program itself, which can be ended and started again."""
    program = Program(tmp_path_factory.mktemp("again"))
    program.start()
    yield program
    program.stop()


@pytest.fixture
def open_program(browser: Browser, program: Program) -> Iterator[Opener]:
    yield from opener(browser, program, BenchPage)


@pytest.fixture
def serving(tmp_path: Path) -> Iterator[Serving]:
    with served(tmp_path) as server:
        yield server


def test_server_restart_keeps_the_sliders(open_program: Opener, program: Program):
    windows = [open_program(screen=screen) for screen in SCREENS]
    for bench in windows:
        bench.expected_complaint = "ERR_CONNECTION_REFUSED|WebSocket"  # the browser reports each failed try
        bench.set("ring.perimeter", "3.33 m")
    program.stop()
    for bench in windows:
        expect(bench.page.locator(".offline")).to_be_visible()
        bench.type("coupling.diameter", "0.25 m")  # the hand goes on while nobody answers
    program.start()
    for bench in windows:
        expect(bench.page.locator(".offline")).to_have_count(0)
        bench.settle()
        expect(bench.page.locator(".coupling text")).to_contain_text("0.25 m")
        expect(bench.typed("ring.perimeter")).to_have_value("3.33 m")
        bench.set("ring.perimeter", "3.50 m")


def test_server_restart_takes_up_a_file_that_changed_meanwhile(open_program: Opener, program: Program):
    bench = open_program()
    bench.expected_complaint = "ERR_CONNECTION_REFUSED|WebSocket"
    bench.save_as("one")
    program.stop()
    path = program.file("one")
    put(path, path.read_text(encoding="utf-8").replace('"3.2 m"', '"6.28 m"'))
    program.start()
    bench.expect_note("was changed elsewhere")
    expect(bench.page.locator(".dimension text")).to_have_text("2.00 m")


def test_one_request_is_in_flight_however_fast_the_hand(open_bench: Opener):
    bench = open_bench()
    flight: list[str] = []

    def sent(payload: str | bytes) -> None:
        message = json.loads(payload)
        if "seq" in message:  # other lines of the page ask nothing of the solver
            flight.append(f"ask {message['seq']}")

    def received(payload: str | bytes) -> None:
        message = json.loads(payload)
        if message["type"] in {"prediction", "problem"}:
            flight.append(f"answer {message['seq']}")

    def opened(line: WebSocket) -> None:
        line.on("framesent", sent)
        line.on("framereceived", received)

    bench.page.on("websocket", opened)
    bench.reload()
    slider = bench.slider("ring.perimeter")
    slider.evaluate(
        """slider => { for (let i = 0; i < 200; i++) {
            slider.value = 400 + i; slider.dispatchEvent(new Event('input', {bubbles: true})); } }"""
    )
    bench.settle()
    wanted = to_si(bench.typed("ring.perimeter").input_value(), "m")
    # A circle; the dimension line has three digits, so half of its last one may be off.
    assert bench.width == pytest.approx(wanted / math.pi, rel=5e-3, abs=0)
    asks = [step for step in flight if step.startswith("ask")]
    assert flight == [f"{what} {seq}" for seq in range(1, len(asks) + 1) for what in ("ask", "answer")]
    assert len(asks) < 20  # of 200 moves: what was overtaken was never sent


def test_two_windows_are_two_drafts_of_one_folder(open_bench: Opener):
    one, two = open_bench(), open_bench(screen="phone")
    one.set("ring.perimeter", "2.22 m")
    two.set("ring.perimeter", "6.66 m")
    expect(one.typed("ring.perimeter")).to_have_value("2.22 m")
    one.save_as("shared")
    expect(two.page.locator("option", has_text="shared")).to_be_attached()  # it appears by itself
    two.page.get_by_role("combobox", name="design").select_option("shared")
    expect(two.typed("ring.perimeter")).to_have_value("2.22 m")
    two.page.go_back()  # the draft that was not saved is still there
    expect(two.typed("ring.perimeter")).to_have_value("6.66 m")
