# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps as a job: each judged by itself, what cannot be read says so, the folder is read and never left.

The sweeps are of a resonator in the textbooks' form (D. Kajfez; A. P. Gregory, NPL Report MAT 58, 2021), whose figures
are chosen here, not of the program's own ring.
"""

import os
import time
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.desk.design_folder import DesignFolder
from ringwright.desk.drafts import drafted_design
from ringwright.desk.jobs import JobCancelledError
from ringwright.desk.proof_curves import MOST_POINTS, proof_curves
from ringwright.desk.proof_figures import PROOF_FIGURES
from ringwright.desk.proving import Delivered, judged_by, proving
from ringwright.desk.recording import RecordBook
from ringwright.desk.sweep_files import SweepFiles
from ringwright.desk.watch import SweepChange, SweepWatch
from ringwright.errors import NameRefusedError, SweepFileError
from ringwright.proof.columns import Columns
from ringwright.proof.document import proof_document
from ringwright.records.records import Records
from tests.records.recording import add

SOON = 300.0  # seconds; a bound against hanging on a busy machine, not a wait
F, Q, COUPLING, OFF, DELAY = 7.1e6, 500.0, 0.8, 0.95, 20e-9
FREE = {"site.earth": "free space", "site.metal": None, "bands": ["40m"], "feedline": None}
DESIGN = drafted_design(shipped_text(TERRACE_OCTAGON), FREE)


def resonator(points=201, widths=6.0):
    """Frequency [Hz] and reflection of one resonance behind a cable."""
    q_loaded = Q / (1.0 + COUPLING)
    f = F * (1.0 + np.linspace(-widths, widths, points) / q_loaded)
    share = 2.0 * COUPLING / (1.0 + COUPLING)
    circle = 1.0 - share / (1.0 + 2j * q_loaded * (f / F - 1.0))
    return f, OFF * circle * np.exp(-2j * np.pi * f * DELAY)


def touchstone(f, response):
    rows = (f"{a:.1f} {b.real:.7f} {b.imag:.7f}" for a, b in zip(f, response, strict=True))
    return ("# Hz S RI R 50\n" + "\n".join(rows) + "\n").encode()


GOOD_FILE = touchstone(*resonator())
GOOD = Delivered(name="good.s1p", content=GOOD_FILE)
DAMAGED = Delivered(name="damaged.s1p", content=b"# Hz S RI R 50\n7.0e6 0.1 zero\n")


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "sweeps").mkdir()
    return SweepFiles(tmp_path)


@pytest.fixture(scope="module")
def prediction():
    return predict(DESIGN)


def judged_of(job) -> Any:
    """What it found of each sweep, as soon as it has."""
    end = time.monotonic() + SOON
    while (judged := judged_by(job)) is None:
        assert time.monotonic() < end
        time.sleep(0.01)
    return judged


@pytest.fixture
def prove(folder, prediction):
    return lambda *delivered: proving(DESIGN, delivered, folder=folder, known=lambda _: prediction)


def test_a_damaged_file_says_so_and_takes_nothing_from_the_others(prove):
    job = prove(DAMAGED, GOOD).start()
    proof = job.result(SOON)
    bad, good = judged_of(job)
    assert bad.problem.startswith("damaged.s1p:2:")
    assert bad.comparison is None
    assert good.problem is None
    document = proof_document(proof)
    assert [sweep["file"] for sweep in document["sweeps"]] == ["good.s1p"]
    # No noise but the file's seven digits; 1e-3 is far above and far below what the page tells apart.
    assert document["sweeps"][0]["q_unloaded"] == pytest.approx(Q, rel=1e-3, abs=0)
    assert document["sweeps"][0]["coupling"] == pytest.approx(COUPLING, rel=1e-3, abs=0)
    assert sum(suspect["probability"] for suspect in document["diagnosis"]) == pytest.approx(
        1, rel=1e-9, abs=0
    )


def test_the_curves_are_those_without_the_cable(prove):
    job = prove(Delivered(name="long.s1p", content=touchstone(*resonator(points=10_001)))).start()
    (judged,) = judged_of(job)
    job.cancel()
    curves = proof_curves(judged.sweep, judged.comparison)
    assert len(curves.points) <= MOST_POINTS
    share = 2.0 * COUPLING / (1.0 + COUPLING)
    circle = 1.0 - share / (1.0 + 2j * Q / (1.0 + COUPLING) * (curves.points / F - 1.0))
    # The open end of the circle may be turned by what the fit takes for the coupling loop; its sizes may not.
    assert curves.response is not None
    assert abs(curves.response) == pytest.approx(abs(circle), rel=2e-3, abs=0)
    assert curves.predicted_swr is not None
    assert curves.predicted_swr_range is not None
    low, high = curves.predicted_swr_range
    assert np.all(low <= curves.predicted_swr)
    assert np.all(curves.predicted_swr <= high)
    # SWR of a matched end: (1 + |G|)/(1 - |G|) with |G| = (1 - k)/(1 + k), so 1/k below a match.
    assert curves.fitted_swr is not None
    assert curves.fitted_swr.min() == pytest.approx(1.0 / COUPLING, rel=2e-3, abs=0)


def test_readings_have_an_swr_and_no_circle(prove):
    f, response = resonator(points=9, widths=1.5)
    size = abs(response) / OFF
    text = "; ".join(
        f"{a / 1e6:.4f} MHz {b:.2f}" for a, b in zip(f, (1.0 + size) / (1.0 - size), strict=True)
    )
    job = prove(Delivered(name="readings 1", content=text.encode(), is_readings=True)).start()
    job.result(SOON)
    (judged,) = judged_of(job)
    curves = proof_curves(judged.sweep, judged.comparison)
    assert curves.response is None
    assert curves.fitted is None
    assert curves.swr is not None
    assert judged.comparison.fit.q_unloaded.low < Q < judged.comparison.fit.q_unloaded.high


def test_nothing_readable_is_no_proof_and_no_error(prove):
    job = prove(DAMAGED, Delivered(name="gone.s1p", content=None)).start()
    assert job.result(SOON) is None
    assert all(each.problem and each.problem.startswith(each.name) for each in judged_of(job))


def test_a_proof_that_is_cancelled_keeps_what_was_found_of_each_sweep(prove):
    job = prove(GOOD)
    job.cancel()
    job.start()
    with pytest.raises(JobCancelledError):
        job.result(SOON)
    assert judged_of(job)[0].comparison is not None


@pytest.mark.parametrize(
    "name", ["../secret.s1p", "/etc/passwd", "a/b.s1p", "..", "", "con.s1p", ".hidden.s1p"]
)
def test_no_name_leads_out_of_the_folder(folder, tmp_path, name):
    (tmp_path / "secret.s1p").write_bytes(b"secret")
    with pytest.raises(NameRefusedError):
        folder.read(name)


def test_what_leads_elsewhere_or_is_no_sweep_is_not_listed(folder, tmp_path):
    sweeps = tmp_path / "sweeps"
    (tmp_path / "secret.s1p").write_bytes(b"secret")
    (sweeps / "away.s1p").symlink_to(tmp_path / "secret.s1p")
    (sweeps / "folder.s1p").mkdir()
    (sweeps / "photo.png").write_bytes(b"")
    (sweeps / "40m.s1p").write_bytes(GOOD_FILE)
    assert list(folder.stamps()) == ["40m.s1p"]
    assert folder.read("40m.s1p") == GOOD_FILE
    with pytest.raises(NameRefusedError):
        folder.read("away.s1p")


def test_a_file_too_large_for_a_sweep_is_not_read(folder, tmp_path):
    with (tmp_path / "sweeps" / "huge.csv").open("wb") as file:
        file.truncate(100_000_000)
    with pytest.raises(SweepFileError, match="100 MB"):
        folder.read("huge.csv")


def test_a_workspace_without_the_folder_has_no_sweeps(tmp_path):
    assert SweepFiles(tmp_path).stamps() == {}


HALVES = "c26d7757b5540ad43f288bc4d70a80e2f57e737b368103aebe1487738599b8bd"
"""Of `half and half`, by `sha256sum`."""


def test_a_new_file_is_told_of_once_it_has_come_to_rest(folder, tmp_path):
    path = tmp_path / "sweeps" / "40m.s1p"
    watch = SweepWatch(folder, RecordBook(DesignFolder(tmp_path)))
    path.write_bytes(b"half")
    assert watch.look() == []  # it may still be written
    path.write_bytes(b"half and half")
    os.utime(path, (1, 1))
    assert watch.look() == []
    assert watch.look() == [SweepChange("40m.s1p", is_there=True, sha256=HALVES)]
    assert watch.look() == []
    path.unlink()
    assert watch.look() == [SweepChange("40m.s1p", is_there=False)]
    assert watch.look() == []


def test_a_file_that_was_recorded_is_told_from_one_that_was_put_there(folder, tmp_path):
    (tmp_path / "designs").mkdir()
    watch = SweepWatch(folder, RecordBook(DesignFolder(tmp_path)))
    with Records.open(tmp_path) as records:
        add(records, b"recorded", name="kept.s1p")
    (tmp_path / "sweeps" / "put.s1p").write_bytes(b"put")
    assert watch.look() == []
    assert {change.name: change.is_recorded for change in watch.look()} == {
        "kept.s1p": True,
        "put.s1p": False,
    }
    # The analyser writes another sweep under the name of a recorded one: that is a new sweep.
    (tmp_path / "sweeps" / "kept.s1p").write_bytes(b"another sweep")
    assert watch.look() == []
    assert [change.is_recorded for change in watch.look()] == [False]


TABLE = b"QRG;A;B\n" + b"".join(
    b"%.4f;%.6f;%.6f\n" % (f / 1e3, g.real, g.imag) for f, g in zip(*resonator(61), strict=True)
)
COLUMNS = ("frequency=QRG", "frequency_unit=kHz", "real=2", "imaginary=3")


def test_columns_are_asked_for_once_and_remembered_by_the_workspace(folder, prove, tmp_path):
    table = Delivered(name="table.csv", content=TABLE)
    (asked,) = judged_of(prove(table).start())
    assert asked.headings == ("QRG", "A", "B")
    assert "no column is the frequency" in asked.problem
    (told,) = judged_of(prove(replace(table, columns=COLUMNS)).start())
    assert told.comparison.fit.q_unloaded.value == pytest.approx(Q, rel=1e-3, abs=0)
    # Another file of the same headings, in another run of the program.
    again = SweepFiles(tmp_path).columns.read(TABLE, source="next.csv", named=None)
    assert len(again.frequency) == 61
    (wrong,) = judged_of(prove(replace(table, columns=("colour=3",))).start())
    assert "names no column" in wrong.problem
    (still,) = judged_of(prove(table).start())
    assert still.problem is None


def test_a_memory_that_cannot_be_kept_keeps_no_sweep_from_being_read(folder, tmp_path):
    (tmp_path / "sweep-columns.json").mkdir()
    columns = Columns.of(COLUMNS, source="table.csv")
    assert len(folder.columns.read(TABLE, source="table.csv", named=columns).frequency) == 61
    with pytest.raises(SweepFileError, match="no column is the frequency"):
        folder.columns.read(TABLE, source="table.csv", named=None)


def test_every_figure_that_a_page_shows_is_a_key_of_the_document(prove):
    document = proof_document(prove(GOOD).start().result(SOON))
    stated = {
        f"{group}.{key}"
        for group, entry in (
            ("sweeps", document["sweeps"][0]),
            ("diagnosis", document["diagnosis"][0]),
            ("next_measurement", document["next_measurement"]),
        )
        for key in entry
    }
    assert set(PROOF_FIGURES) <= stated
