# SPDX-License-Identifier: BSD-3-Clause
"""A board without hardware, to try cable, broker and page with: `python -m scripts.bench_board DESIGN --on "7.1 MHz"`.

It is the firmware under MicroPython's unix port (`micropython` in the path or beside the interpreter) with motor, ring
and meter simulated, at the far end of a pseudo-terminal whose address it prints. Its ring has one dip, where the design
has that frequency, and a person at the transmitter who keys when the board's contact lets him.
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

from ringwright.antenna.design_file import parse_design, read_text
from ringwright.antenna.predict import predict
from ringwright.errors import RingwrightError
from ringwright.tuner.design_ring import told_ring
from ringwright.tuner.drive_settings import drive_settings
from ringwright.tuner.table import TuningTable
from ringwright.tuner.table_law import predicted_law
from ringwright.units import to_si
from tests.tuner.bench import BenchBoard

DAY = 86_400
KEYED = 3.8
LOOK_EVERY = 0.2
LETS_GO = 12.0
"""Seconds after which the person at the key lets go, and waits as long."""


def facts_of(path: Path, frequency: str) -> dict[str, object]:
    """A board for a design's drive, and a ring with one dip near where the design has a frequency."""
    design = parse_design(read_text(path), source=str(path))
    prediction = predict(design)
    law = predicted_law(design, prediction)
    ring, curve, hertz = (
        told_ring(design, prediction, law),
        TuningTable(law=law).curve(),
        to_si(frequency, "Hz"),
    )
    band = ring.band_of(hertz)
    if band is None:
        raise SystemExit(f"{frequency} lies in none of the design's bands")
    place = curve.position(hertz)
    width = abs(curve.position(hertz - band.half_width) - place)
    known = drive_settings(design)
    return {
        "dip_at": place + width,
        "half_width": width,
        "backlash": float(ring.slack),
        "start": 300,
        "low_switch_at": known["stop_at"],
        "drive": known,
        "lives_s": DAY,
    }


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("design", type=Path)
    parser.add_argument("--on", default="7.1 MHz", help="the frequency of its ring's dip")
    parser.add_argument(
        "--broker", metavar="USER:PASSWORD@HOST:PORT", help="through a broker, too, as board ring"
    )
    parser.add_argument("--for", dest="seconds", type=float, default=float(DAY), help="seconds until it ends")
    asked = parser.parse_args()
    try:
        facts = facts_of(asked.design, asked.on)
    except RingwrightError as exc:
        print(exc, file=sys.stderr)
        return 2
    if asked.broker is not None:
        who, _, where = asked.broker.rpartition("@")
        user, _, password = who.partition(":")
        host, _, port = where.rpartition(":")
        facts["broker"] = {
            "address": host,
            "port": int(port),
            "user": user,
            "password": password,
            "name": "ring",
        }
    with (
        tempfile.TemporaryDirectory(prefix="ringwright-bench-") as folder,
        BenchBoard(folder, **facts) as bench,
    ):
        print(f"--link serial:{bench.port}", flush=True)
        keep_keying(bench, time.monotonic() + asked.seconds)
    return 0


def keep_keying(bench: BenchBoard, end: float) -> None:
    """Key whenever the board's contact lets, until it is time to go or somebody ends it by Ctrl-C."""
    since = 0.0
    try:
        while time.monotonic() < end:
            is_let, now = not bench.truth()["inhibit"], time.monotonic()
            since = now if not is_let else since
            bench.carrier(KEYED if is_let and (now - since) % (2.0 * LETS_GO) < LETS_GO else 0.0)
            time.sleep(LOOK_EVERY)
    except KeyboardInterrupt:
        pass


if __name__ == "__main__":
    sys.exit(main())
