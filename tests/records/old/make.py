# SPDX-License-Identifier: BSD-3-Clause
"""Make the records of earlier programs again, by those programs: `python -m tests.records.old.make`, in a clone.

Each is filled by the program of a commit, taken from git, and kept as the SQL that SQLite dumps of it, with the marks
of the file on top, so that one can read what is in it.
"""

import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

COMMITS: Mapping[int, str] = {1: "931fdc2", 2: "384358e"}
"""The last commit whose program wrote a version of the record."""
HERE = Path(__file__).parent
_FILL = """
import sqlite3, sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
from ringwright.proof.estimate import Estimate, Flag
from ringwright.records.records import Records
from ringwright.records.result import Result

workspace = Path(sys.argv[1])
for name in ("designs", "sweeps"):
    (workspace / name).mkdir(parents=True)
start = datetime(2026, 5, 1, 12, tzinfo=UTC)
design = 'format = 1\\nname = "Terrace octagon"\\n'

def result(q):
    return Result(
        frequency=Estimate.additive(7.1e6, 30.0), q_unloaded=Estimate.factor(q, 0.02),
        q_loaded=Estimate.factor(q / 2.0, 0.02), coupling=Estimate.factor(1.1, 0.02), swr_min=None,
        bandwidth_half_power=Estimate.factor(7.1e6 / q, 0.02), resistance_total=Estimate.factor(0.1, 0.02),
        efficiency_pct=Estimate.factor(20.0, 0.2),
        flags=(Flag(code="few_points", text="4 points lie in the dip"),),
    )

with Records.open(workspace) as records:
    for k in range(3):
        records.add_sweep(
            b"# Hz S RI R 50\\n7100000 0.%d 0.2\\n" % k, name="sweep \\u03a9.s1p",
            measured_at=start + timedelta(days=k), design=design + "# %d\\n" % (k // 2), result=result(500.0 + k),
            band="40m", build="first", temperature=18.5 if k else None, note="after the rain" if k else "",
        )
    records.add_note("a joint soldered anew", at=start)
    if hasattr(records, "add_tuning"):
        from ringwright.records.tuning import Found, Outcome, TraceReading, Tuning, TuningPairs
        from ringwright.tuner.table_point import Point
        reading = TraceReading(after=0.1, position=8_990, reflection=0.1, forward=4.0)
        records.add_tuning(
            Tuning(at=start, table="octagon", band="40m", frequency=7.1e6,
                   outcome=Outcome.TUNED,
                   found=Found(expected=8_996.5, position=9_000, swr=1.1, carrier=1.2, trace=(reading,) * 3)),
            design=design,
        )
        points = tuple(Point(position=9_000 - k, frequency=7.1e6 + k, at=start) for k in range(3))
        records.keep_table("octagon", TuningPairs(points=points, site="terrace"))

link = sqlite3.connect(workspace / "records.sqlite")
for mark in ("application_id", "user_version"):
    print(f"PRAGMA {mark} = {link.execute(f'PRAGMA {mark}').fetchone()[0]};")
print("\\n".join(link.iterdump()))
"""


def main() -> None:
    for version, commit in COMMITS.items():
        with tempfile.TemporaryDirectory() as name:
            tree = Path(name)
            packed = subprocess.run(["git", "archive", commit, "src"], capture_output=True, check=True).stdout
            subprocess.run(["tar", "-x", "-C", tree], input=packed, check=True)
            made = subprocess.run(
                [sys.executable, "-c", _FILL, tree / "terrace"],
                env=os.environ | {"PYTHONPATH": str(tree / "src"), "PYTHONIOENCODING": "utf-8"},
                cwd=tree,
                capture_output=True,
                encoding="utf-8",
                check=True,
            )
        (HERE / f"version-{version}.sql").write_text(made.stdout, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
