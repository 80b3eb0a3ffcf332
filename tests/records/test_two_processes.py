# SPDX-License-Identifier: BSD-3-Clause
"""Two processes that write to one workspace at once lose and garble nothing of each other's."""

import hashlib
import subprocess
import sys
import tomllib

from ringwright.desk.design_folder import DesignFolder
from ringwright.records.records import Records
from ringwright.records.tuning import TuningPairs
from tests.records.recording import integrity, point, workspace_in

ROUNDS = 12
KEYS = ("first", "second")
DESIGN = "# of both\n" + "".join(f"{key} = 0 # {key}\n" for key in KEYS)
WRITER = """
import sys
from pathlib import Path
from ringwright.desk.design_folder import DesignFolder, FileChangedMeanwhileError
from ringwright.errors import RecordError, StorageError
from ringwright.records.records import Records
from ringwright.records.tuning import TuningPairs
from tests.records.recording import add, point, tuning
from tests.records.test_two_processes import KEYS, ROUNDS

workspace, own = Path(sys.argv[1]), int(sys.argv[2])
folder = DesignFolder(workspace)

def until_done(act):  # as a person whose disk or record was busy
    while True:
        try:
            return act()
        except (FileChangedMeanwhileError, RecordError, StorageError) as exc:
            assert "try again" in str(exc) or isinstance(exc, FileChangedMeanwhileError), exc

def save():
    text = folder.read("ring")
    old = next(line for line in text.splitlines() if line.startswith(KEYS[own]))
    folder.write("ring", text.replace(old, f"{KEYS[own]} = {number} # {KEYS[own]}"), over=text)

print("ready", flush=True)
sys.stdin.readline()
known = TuningPairs(points=(), site="home")
with Records.open(workspace) as records:
    for number in range(1, ROUNDS + 1):
        content = b"%d %d\\n" % (own, number) * 500
        until_done(lambda: add(records, content, days=number))
        until_done(lambda: records.add_tuning(tuning(days=number, frequency=7e6 + own), design="format = 1\\n"))
        mine = TuningPairs(points=(*known.points, point(number, 7e6 + own)), site="home")
        until_done(lambda: records.keep_table("octagon", mine, over=known))
        known = mine
        until_done(save)
"""


def test_two_processes_at_once_lose_nothing_of_each_others(tmp_path):
    workspace = workspace_in(tmp_path / "terrace")
    folder = DesignFolder(workspace)
    folder.write("ring", DESIGN, over=None)
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", WRITER, str(workspace), str(own)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for own in (0, 1)
    ]
    for writer in writers:
        assert writer.stdout is not None
        assert writer.stdout.readline() == "ready\n"
    for writer in writers:
        assert writer.stdin is not None
        writer.stdin.write("go\n")
        writer.stdin.flush()
    for writer in writers:
        _, said = writer.communicate()
        assert writer.returncode == 0, said
    with Records.open(workspace) as records:
        found = {sweep.sha256: sweep.file for sweep in records.sweeps()}
        assert records.lost() == ()
        assert len(records.tunings()) == 2 * ROUNDS
        kept = {(each.position, each.frequency) for each in records.table("octagon").points}
    contents = {b"%d %d\n" % (own, n) * 500 for own in (0, 1) for n in range(1, ROUNDS + 1)}
    assert found.keys() == {hashlib.sha256(content).hexdigest() for content in contents}
    assert {(workspace / "sweeps" / file).read_bytes() for file in found.values()} == contents
    assert kept == {(n, 7e6 + own) for own in (0, 1) for n in range(1, ROUNDS + 1)}
    assert tomllib.loads(folder.read("ring")) == dict.fromkeys(KEYS, ROUNDS)
    assert folder.read("ring").startswith("# of both\n")
    assert [path.name for path in (workspace / "designs").iterdir()] == ["ring.toml"]
    assert integrity(workspace) == "ok"


def test_what_others_changed_of_a_tuning_table_stays_changed(records):
    first, second, third, fourth = (point(n, 7e6 + n) for n in range(4))
    before = TuningPairs(points=(first, second), site="home")
    records.keep_table("octagon", before)
    records.keep_table("octagon", TuningPairs(points=(second, third), site="roof"))  # somebody else
    records.keep_table("octagon", TuningPairs(points=(first, second, fourth), site="home"), over=before)
    assert records.table("octagon").site == "roof"
    assert set(records.table("octagon").points) == {second, third, fourth}
    records.keep_table("octagon", before)
    assert records.table("octagon") == before
