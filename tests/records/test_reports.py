# SPDX-License-Identifier: BSD-3-Clause
"""Reception reports in the record: kept once, given back, exported and rebuilt."""

import json
from dataclasses import fields, replace
from datetime import UTC, datetime

import numpy as np
import pytest

from ringwright.air.comparison import compare
from ringwright.air.files import Delivered, read_reports
from ringwright.air.reports import Reports
from ringwright.errors import RecordFileError
from ringwright.records.records import Records
from tests.air.campaigns import Campaign, made
from tests.records.recording import workspace_in

ROWS = """time,frequency_mhz,receiver,locator,snr_db,power_w,antenna
2026-05-01T12:00:00Z,7.0386,QX1AB,JN58td,-12,5,ring
2026-05-01T12:02:00Z,7.0386,QX1AB,JN58td,-9.5,5,dipole
2026-05-01T12:02:00Z,10.1387,QX2AB,,,,
"""


def read() -> Reports:
    return read_reports([Delivered("a.csv", ROWS.encode())], now=datetime(2026, 6, 1, tzinfo=UTC)).reports


def test_reports_come_back_as_they_were(records):
    reports = read()
    assert records.add_reports(reports) == 3
    kept = records.reports()
    for field in fields(Reports):
        one, other = getattr(reports, field.name), getattr(kept, field.name)
        if isinstance(one, np.ndarray):
            np.testing.assert_array_equal(one, other)
        else:
            assert one == other


def test_the_same_report_is_kept_once_whatever_file_it_comes_in(records):
    assert records.add_reports(read()) == 3
    assert records.add_reports(read()) == 0
    assert records.add_reports(replace(read(), power=np.array([5.0, 6.0, np.nan]))) == 1
    assert len(records.reports()) == 4


def test_a_comparison_of_the_record_is_that_of_the_files(records):
    reports = made(Campaign(reports=800, true_db=-3.0, slot=120.0), np.random.default_rng(1))
    records.add_reports(reports)
    assert compare(records.reports(), "A", "B").difference == pytest.approx(
        compare(reports, "A", "B").difference, rel=1e-9, abs=0
    )


def test_reports_survive_the_round_trip_through_plain_files(records, tmp_path):
    records.add_reports(read())
    assert records.export(tmp_path / "plain").reports == 3
    other = workspace_in(tmp_path / "other")
    with Records.open(other) as rebuilt:
        assert rebuilt.import_(tmp_path / "plain").reports == 3
        assert rebuilt.import_(tmp_path / "plain").reports == 0
        assert rebuilt.reports().receivers == records.reports().receivers


@pytest.mark.parametrize(
    "damage",
    [
        {"band": "41m"},
        {"power": -1.0},
        {"latitude": None},
        {"at": "yesterday"},
        {"heard_me": 2},
        {"taste": 1},
    ],
)
def test_a_damaged_line_is_refused(records, tmp_path, damage):
    records.add_reports(read())
    records.export(tmp_path / "plain")
    file = tmp_path / "plain" / "reports.jsonl"
    first, *others = file.read_text(encoding="utf-8").splitlines()
    file.write_text("\n".join([json.dumps(json.loads(first) | damage), *others, ""]), encoding="utf-8")
    with (
        Records.open(workspace_in(tmp_path / "other")) as rebuilt,
        pytest.raises(RecordFileError, match=r"reports\.jsonl:1"),
    ):
        rebuilt.import_(tmp_path / "plain")


def test_an_empty_record_has_no_reports(records):
    assert len(records.reports()) == 0
