# SPDX-License-Identifier: BSD-3-Clause
"""A million reports read, joined, compared and drawn: `python -m benchmarks.air_million [ROWS]`.

Prints seconds, seconds of the processor (other programs take no part in them) and memory. The promise is under 30 s on
two cores and under 2 GB.
"""

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

ROWS = 1_000_000
PROMISED_SECONDS, PROMISED_BYTES = 30.0, 2e9


def write_reports(path: Path, rows: int) -> None:
    """A table of made-up reports: 20 000 receivers at as many places, two antennas."""
    rng = np.random.default_rng(1)
    receiver = rng.zipf(1.3, size=rows) % 20_000
    letters = np.array(list("ABCDEFGHIJKLMNOPQR"))
    squares = rng.integers(0, [18, 18, 10, 10, 24, 24], size=(20_000, 6))
    locators = [
        f"{letters[a]}{letters[b]}{c}{d}{chr(97 + e)}{chr(97 + f)}" for a, b, c, d, e, f in squares.tolist()
    ]
    start = np.datetime64("2026-01-01T00:00:00")
    times = np.datetime_as_string(
        start + np.sort(rng.integers(0, 20_000_000, size=rows)).astype("timedelta64[s]")
    )
    megahertz = rng.choice([5.3545, 7.0386, 10.1387, 14.0956], size=rows)
    snr, antenna = rng.normal(-12.0, 8.0, size=rows).round(1), rng.choice(["ring", "dipole"], size=rows)
    with path.open("w", encoding="utf-8", newline="\n") as file:
        file.write("time,frequency_mhz,receiver,locator,snr_db,power_w,antenna\n")
        file.writelines(
            f"{when}Z,{f},QX{who},{locators[who]},{level},5,{wire}\n"
            for when, f, who, level, wire in zip(times, megahertz, receiver, snr, antenna, strict=True)
        )


def main() -> int:
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else ROWS
    with tempfile.TemporaryDirectory() as folder:
        table, drawing = Path(folder) / "reports.csv", Path(folder) / "map.svg"
        write_reports(table, rows)
        command = [sys.executable, "-c", _PROGRAM, str(table), str(drawing)]
        began = time.perf_counter()
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        seconds = time.perf_counter() - began
    document, used, _ = done.stdout.rsplit("\n", 2)
    peak, processor = map(float, used.split())
    found = json.loads(document)["reports"]
    print(f"{found['read']} rows, {found['kept']} kept, {len(found['rejected'])} rejected")
    words = len(done.stderr.splitlines())
    print(
        f"{seconds:.1f} s, {processor:.1f} s of the processor, {peak / 1e6:.0f} MB at most, {words} lines told"
    )
    return 0 if processor < PROMISED_SECONDS and peak < PROMISED_BYTES else 1


_PROGRAM = """
import resource, sys
from ringwright.cli.program import run
code = run(["air", sys.argv[1], "--locator", "JJ00aa", "--compare", "ring", "dipole", "--map", sys.argv[2], "--json"])
used = resource.getrusage(resource.RUSAGE_SELF)
print(used.ru_maxrss * 1024, used.ru_utime + used.ru_stime)
sys.exit(code)
"""


if __name__ == "__main__":
    sys.exit(main())
