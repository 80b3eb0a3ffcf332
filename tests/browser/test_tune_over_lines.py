# SPDX-License-Identifier: BSD-3-Clause
"""A phone's page drives the firmware under MicroPython over a real terminal and a real broker, and is cut off."""

import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from ringwright.desk.desk import Desk
from ringwright.tuner.links.address import Access, BrokerAddress, SerialAddress
from ringwright.tuner.session import SHOW_EVERY, TURN
from tests.browser.conftest import SCREENS
from tests.browser.serving import SOON
from tests.browser.test_tune_page import TunePage
from tests.tuner.bench import BenchBoard
from tests.tuner.links.far_ends import PASSWORD, USER, Broker
from tests.tuner.links.far_sessions import quick_text
from tests.tuner.links.test_firmware_over_links import facts
from tests.web.running import running_server

pytestmark = pytest.mark.needs("chromium", "micropython")


class Line:
    """The board and its line, which can be cut; `said`: what the session told since it was connected."""

    def __init__(self, bench: BenchBoard, access: Access, broker: Broker | None) -> None:
        self.bench, self.access, self._broker = bench, access, broker
        self.said: list[dict[str, Any]] = []

    def cut(self) -> None:
        if self._broker is None:
            self.bench.is_pulled = True
        else:
            self._broker.kill()

    def mend(self) -> None:
        self.bench.is_pulled = False
        if self._broker is not None:
            self._broker.start()

    def hear(self, document: dict[str, Any]) -> None:
        """As the person at the transmitter, who keys 4 W when told and lets go when told."""
        self.said.append(document)
        if document.get("word") in {"key low", "key up"}:
            self.bench.carrier(3.8 if document["word"] == "key low" else 0)


@contextmanager
def laid(kind: str, folder: Path) -> Iterator[Line]:
    """A line of a kind with a board at its end."""
    if kind == "terminal":
        with BenchBoard(folder, **facts()) as bench:
            yield Line(bench, Access(SerialAddress(bench.port)), None)
        return
    broker = Broker(folder)
    broker.start()
    own = {"address": "127.0.0.1", "port": broker.port, "user": USER, "password": PASSWORD, "name": "bench"}
    where = BrokerAddress(host="127.0.0.1", port=broker.port, user=USER, name="bench", is_tls=False)
    try:
        with BenchBoard(folder, **facts(broker=own)) as bench:
            yield Line(bench, Access(where, PASSWORD), broker)
    finally:
        broker.kill()


@pytest.fixture(
    params=["terminal", pytest.param("broker", marks=pytest.mark.needs("mosquitto", "mosquitto_passwd"))]
)
def line(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Line]:
    with laid(request.param, tmp_path) as one:
        yield one


@pytest.fixture
def phone(browser: Browser, tmp_path: Path, line: Line) -> Iterator[TunePage]:
    workspace = tmp_path / "mast"
    (workspace / "designs").mkdir(parents=True)
    (workspace / "designs" / "terrace.toml").write_text(quick_text(), encoding="utf-8")
    desk = Desk(workspace)
    desk.drive.access = line.access
    desk.drive.listen(line.hear)
    with running_server(desk) as server:
        width, height = SCREENS["phone"]
        context = browser.new_context(viewport={"width": width, "height": height}, has_touch=True)
        context.set_default_timeout(SOON * 1e3)
        with closing(context):
            window = TunePage(context.new_page(), server.address)
            yield window.open(TunePage.PATH)
            assert window.complaints == []
            assert window.elsewhere == []
        desk.drive.end()


def told_late(said: list[dict[str, Any]]) -> float:
    """Seconds from the cut to the word of it, less what the machine itself stood still."""
    last = [each["word"] if each["type"] == "told" else "" for each in said].index("link lost")
    times = [each["at_s"] for each in said[: last + 1] if each["type"] in {"state", "told"}]
    stood = max((after - before for before, after in pairwise(times)), default=0.0)
    return float(times[-1] - times[0]) - max(0.0, stood - SHOW_EVERY - 2.0 * TURN)


def at_rest(bench: BenchBoard) -> dict[str, Any]:
    """How things are once no more pulses come, which the board sees to by its own clock within 1.5 s.

    A busy machine makes that clock's seconds long; `tests/tuner/test_board.py` counts them.
    """
    end = time.monotonic() + SOON
    before = bench.truth()
    while time.monotonic() < end:
        time.sleep(0.5)
        now = bench.truth()
        if now["pulses"] == before["pulses"]:
            return now
        before = now
    raise AssertionError(f"it still moves: {before}")


def test_tuned_stopped_cut_and_recovered_from_a_phone(phone: TunePage, line: Line):
    bench = line.bench
    phone.button(f"Connect the drive at {line.access.address}").click()
    phone.phase("resting")
    phone.button("30m").click()  # whatever it counts, the end stop comes first
    phone.phase("tuned")
    expect(phone.page.locator(".tune-frequency")).to_contain_text("10.1250")
    expect(phone.page.locator(".tune-words")).to_contain_text("ready")
    dip, width = bench.facts["dip_at"], bench.facts["half_width"]
    assert abs(bench.truth()["rotor"] - dip) < 0.3 * width  # SWR within 0.1 of the best

    bench.carrier(0)
    phone.button("60m").click()
    phone.phase("travelling")
    phone.page.locator(".stop").click()
    phone.phase("stopped")
    expect(phone.page.locator(".tune-words")).to_have_text("STOP holds")
    expect(phone.button("60m")).to_be_disabled()
    phone.page.wait_for_function("() => document.querySelector('.stop-says').textContent === 'holds'")
    before = bench.truth()
    phone.button("Release STOP").click()
    phone.phase("resting")
    assert bench.truth()["pulses"] == before["pulses"]  # a release moves nothing

    phone.button("60m").click()
    phone.phase("travelling")
    since = len(line.said)
    line.cut()
    expect(phone.page.locator(".lost")).to_contain_text(
        "Lost the drive: it stops by itself. Stop transmitting."
    )
    assert told_late(line.said[since:]) <= 1.0
    expect(phone.button("30m")).to_be_disabled()
    expect(phone.page.locator(".stop-says")).to_have_text("stop transmitting")
    assert at_rest(bench)["inhibit"] is True

    line.mend()
    expect(phone.page.locator(".lost")).to_have_count(0)
    phone.phase("resting")
    phone.button("30m").click()
    phone.phase("tuned")
    assert abs(bench.truth()["rotor"] - dip) < 0.3 * width
