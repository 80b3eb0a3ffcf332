# SPDX-License-Identifier: BSD-3-Clause
"""From an order to what the board says of it, over a terminal and a broker: `python -m benchmarks.link_latency`.

The far end is the firmware under MicroPython's unix port, reading every 20 ms. Two times each: to the acknowledgement
of an order, and to the first status that shows what was ordered (`inhibit` turned on and off), as a page would see
it. Orders come at all times between two readings alike, as a person's do. Medians, 95th centiles and the most, in
milliseconds, on this machine's loopback; exit code 1 where a median to the status is 20 ms or more.
"""

import argparse
import itertools
import statistics
import sys
import tempfile
import threading
import time
from pathlib import Path

from ringwright.tuner.device import Link
from ringwright.tuner.links.address import Access, BrokerAddress, SerialAddress
from ringwright.tuner.links.open import met_link
from ringwright.tuner.messages import Acknowledgement, HostLine, Inhibit, Status
from ringwright.tuner.messages_text import host_text, parse_board_line
from tests.tuner.bench import BenchBoard
from tests.tuner.links.far_ends import PASSWORD, USER, Broker

PATIENCE = 5.0
READING, GOLDEN = 0.020, 0.618
"""Seconds from reading to reading; steps of this part of it meet all its moments alike."""


def measure(link: Link, times: int) -> tuple[list[float], list[float]]:
    """Milliseconds to the acknowledgement, and to the status that shows it."""
    news, numbers = threading.Event(), itertools.count(time.time_ns() // 1_000_000 + 60_000)
    link.notify(news.set)
    answered, shown = [], []
    for turn in range(times):
        seq, is_on = next(numbers), turn % 2 == 0
        time.sleep(READING * (turn * GOLDEN % 1.0))
        link.received()
        began = time.perf_counter()
        link.send(host_text(HostLine(seq, Inhibit(is_on))))
        is_answered = is_shown = False
        while not (is_answered and is_shown):
            if not news.wait(PATIENCE):
                raise SystemExit("nothing more came from the board")
            news.clear()
            for line in link.received():
                said, now = parse_board_line(line), 1e3 * (time.perf_counter() - began)
                if isinstance(said, Acknowledgement) and said.answers == seq:
                    is_answered = True
                    answered.append(now)
                elif isinstance(said, Status) and is_answered and said.is_inhibited == is_on and not is_shown:
                    is_shown = True
                    shown.append(now)
    return answered, shown


def row(name: str, found: list[float]) -> str:
    ordered = sorted(found)
    return f"{name:<32} {statistics.median(ordered):7.2f} {ordered[int(0.95 * len(ordered))]:7.2f} {ordered[-1]:7.2f}"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--times", type=int, default=300)
    times = parser.parse_args().times
    print(f"{'milliseconds, ' + str(times) + ' orders':<32} {'median':>7} {'95 %':>7} {'most':>7}")
    with tempfile.TemporaryDirectory(prefix="ringwright-latency-") as folder:
        broker = Broker(Path(folder))
        broker.start()
        (Path(folder) / "board").mkdir()
        facts = {
            "address": "127.0.0.1",
            "port": broker.port,
            "user": USER,
            "password": PASSWORD,
            "name": "bench",
        }
        where = BrokerAddress(host="127.0.0.1", port=broker.port, user=USER, name="bench", is_tls=False)
        worst = 0.0
        with BenchBoard(Path(folder) / "board", broker=facts, lives_s=3600) as bench:
            for name, access in (
                ("terminal", Access(SerialAddress(bench.port))),
                ("broker", Access(where, PASSWORD)),
            ):
                link = met_link(access, wall_milliseconds=lambda: time.time_ns() // 1_000_000)
                answered, shown = measure(link, times)
                link.close()
                print(row(f"{name}: to the acknowledgement", answered))
                print(row(f"{name}: to the status", shown))
                worst = max(worst, statistics.median(shown))
        broker.kill()
    return 0 if worst < 20.0 else 1


if __name__ == "__main__":
    sys.exit(main())
