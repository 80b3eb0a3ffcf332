# SPDX-License-Identifier: BSD-3-Clause
"""Tables of reports: columns told, named or remembered; units; what is merged."""

from datetime import UTC, datetime

import numpy as np
import pytest

from ringwright.air.columns import Columns, remember
from ringwright.air.files import Delivered, read_reports
from ringwright.air.table import PLAIN_HEADINGS
from ringwright.errors import ReportFileError, ReportsError

NOW = datetime(2026, 6, 1, tzinfo=UTC)


def read(text, *, columns=(), memory="", name="reports.csv"):
    return read_reports(
        [Delivered(name, text.encode())],
        now=NOW,
        columns=Columns.of(columns) if columns else None,
        memory=memory,
    )


def test_our_own_table_needs_no_telling():
    reports = read(
        f"{PLAIN_HEADINGS}\n2026-05-01T12:00:00+02:00,7.0386,qx1ab,jn58TD,-12.5,2.5,ring\n"
    ).reports
    assert datetime.fromtimestamp(reports.time[0], UTC) == datetime(2026, 5, 1, 10, tzinfo=UTC)
    assert (reports.frequency[0], reports.snr[0], reports.power[0]) == (7.0386e6, -12.5, 2.5)
    assert (reports.receivers, reports.antennas) == (("QX1AB",), ("ring",))
    assert (reports.places[0].latitude, reports.places[0].longitude) == pytest.approx(
        (48.14583, 11.625), abs=1e-4
    )


def test_units_in_headings_decimal_commas_and_a_date_by_itself():
    text = (
        "Date;UTC;Freq (kHz);Reporter;Grid;SNR [dB];Power dBm;Mode\n"
        "2026-05-01;12:34;7038,6;QX1AB;JN58;-12,5;37;DATA\n"
    )
    reports = read(text).reports
    assert datetime.fromtimestamp(reports.time[0], UTC) == datetime(2026, 5, 1, 12, 34, tzinfo=UTC)
    assert reports.frequency[0] == pytest.approx(7.0386e6, rel=1e-12, abs=0)
    assert (reports.snr[0], reports.modes) == (-12.5, ("DATA",))
    assert reports.power[0] == pytest.approx(5.0119, rel=1e-4, abs=0)  # 37 dBm


def test_latitude_and_longitude_are_a_place():
    text = "time,band,receiver,lat,lon\n2026-05-01T12:00,40m,QX1AB,-33.5,151.25\n2026-05-01T12:01,40m,QX1AB,91,0\n"
    reading = read(text)
    assert (reading.reports.places[0].latitude, reading.reports.places[0].longitude) == (-33.5, 151.25)
    assert "no place" in reading.rejected[0].reason


def test_columns_are_named_by_heading_or_number_and_remembered():
    text = "t\tqrg\twho\n2026-05-01T12:00\t7038.6\tQX1AB\n"
    named = ("time=1", "frequency=QRG", "receiver=who", "frequency_unit=kHz")
    with pytest.raises(ReportFileError, match="no column is known for time, receiver, frequency or band"):
        read(text, name="list.tsv")
    assert read(text, columns=named, name="list.tsv").reports.frequency[0] == pytest.approx(7.0386e6)
    memory = remember("", ["t", "qrg", "who"], Columns.of(named))
    assert len(read(text, memory=memory, name="list.tsv").reports) == 1
    assert len(read(text, memory=remember(memory, ["x"], Columns()), name="list.tsv").reports) == 1


def test_a_spoilt_memory_costs_a_question_and_not_the_reports():
    text = f"{PLAIN_HEADINGS}\n2026-05-01T12:00:00Z,7.0386,QX1AB,JN58TD,-12.5,2.5,ring\n"
    assert len(read(text, memory="{not json").reports) == 1


@pytest.mark.parametrize("column", ["snr", "loudness=3", "snr=", "frequency_unit=furlong"])
def test_a_column_that_means_nothing_is_refused(column):
    with pytest.raises(ReportsError):
        Columns.of([column])


def test_a_column_that_is_not_there_is_refused():
    with pytest.raises(ReportFileError, match='no column "9"'):
        read(f"{PLAIN_HEADINGS}\n", columns=("snr=9",))


def test_files_are_merged_and_the_second_of_a_report_names_the_first():
    row = "2026-05-01T12:00:00Z,7.0386,QX1AB,JN58TD,-12,5,ring"
    other = row.replace("7.0386", "7.0400")  # the same reception, its frequency rounded
    first, second = f"{PLAIN_HEADINGS}\n{row}\n", f"{PLAIN_HEADINGS}\n{other}\n{row.replace('-12', '-13')}\n"
    reading = read_reports([Delivered("a.csv", first.encode()), Delivered("b.csv", second.encode())], now=NOW)
    assert (reading.read, len(reading.reports)) == (3, 2)
    (rejected,) = reading.rejected
    assert (rejected.file, rejected.row, rejected.reason) == (
        "b.csv", 1, "the same report as row 1 of a.csv; the two are merged",
    )  # fmt: skip


def test_a_report_without_a_mode_is_the_one_that_names_it_unless_two_do():
    head, row = f"{PLAIN_HEADINGS},mode\n", "2026-05-01T12:00:00Z,7.0386,QX1AB,JN58TD,-12,5,ring"
    assert len(read(f"{head}{row},\n{row},DATA\n").reports) == 1
    assert len(read(f"{head}{row},DATA\n{row},\n{row},DATA\n").reports) == 1
    assert (
        len(read(f"{head}{row},\n{row},DATA\n{row},CW\n").reports) == 3
    )  # nobody knows which of the two it is
    other = row.replace("QX1AB", "QX1AC")
    assert len(read(f"{head}{row},\n{other},DATA\n").reports) == 2


def test_reports_without_snr_or_power_are_kept_and_not_told_apart_by_what_is_missing():
    row = "2026-05-01T12:00:00Z,7.0386,QX1AB,,,,"
    reading = read(f"{PLAIN_HEADINGS}\n{row}\n{row}\n")
    assert (len(reading.reports), len(reading.rejected)) == (1, 1)
    assert np.isnan(reading.reports.snr[0])
    assert reading.reports.place[0] == reading.reports.antenna[0] == -1


def test_what_real_exports_write_is_read():
    text = (
        "# exported\r\nTimestamp;Call;MHz;dB;Grid\r\n2026-05-01 12:00;qx1ab;7,0386;-12 dB;jo62qm;\r\n"
        "2026-05-01 12:02:10;QX1AB;7,0386;+3;JO62QM;;\r\n2026-05-01 12:04;QX1AB;7,0386;-3;JO62QM;;x\r\n"
    )
    reading = read_reports([Delivered("a.csv", text.encode())], now=NOW)
    assert reading.reports.snr.tolist() == [-12.0, 3.0]
    assert reading.reports.frequency.tolist() == [7.0386e6, 7.0386e6]
    assert len(reading.reports.receivers) == len(reading.reports.places) == 1
    (rejected,) = reading.rejected
    assert "the row has 7 columns, the headings 5" in rejected.reason
