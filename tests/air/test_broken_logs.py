# SPDX-License-Identifier: BSD-3-Clause
"""Forty logs as they come from a full disk, a wrong program or a bad day: none crashes, every row is accounted for."""

from datetime import UTC, datetime

import pytest

from ringwright.air.files import Delivered, read_reports
from ringwright.errors import ReportFileError

NOW = datetime(2026, 6, 1, tzinfo=UTC)
GOOD = "<QSO_DATE:8>20260501<TIME_ON:4>1200<CALL:5>QX1AB<BAND:3>40m<RST_RCVD:3>-12<EOR>\n"
LATER = GOOD.replace("1200", "1300")
HEAD = "time,frequency_mhz,receiver,locator,snr_db,power_w,antenna\n"
ROW = "2026-05-01T12:00:00Z,7.0386,QX1AB,JN58td,-12,5,ring\n"
NEXT = ROW.replace("T12", "T13")
XML = "<?xml version='1.0'?><ADX><RECORDS>"
RECORD = (
    "<RECORD><QSO_DATE>20260501</QSO_DATE><TIME_ON>1200</TIME_ON><CALL>QX1AB</CALL><BAND>40M</BAND></RECORD>"
)
END = "</RECORDS></ADX>"

# Name, content, rows, rows kept, words of the first reason.
BROKEN = [
    ("cut.adi", GOOD + LATER[:-6], 2, 1, "EOR"),
    ("cut-in-data.adi", GOOD + "<CALL:6>QX1A", 2, 1, "announces 6 characters, 4 are left"),
    ("cut-in-tag.adi", GOOD + "<CALL:6", 2, 1, "is no field"),
    ("cut-in-name.adi", GOOD + "<CA", 2, 1, "is no field"),
    ("too-long.adi", GOOD + "<CALL:40>QX1AB<EOR>\n" + LATER, 3, 2, "swallows the next field"),
    ("too-short.adi", GOOD + "<CALL:3>QX1AB<BAND:3>40m<EOR>\n" + LATER, 3, 2, "its data goes on"),
    ("no-length.adi", GOOD + "<CALL>QX1AB<EOR>\n" + LATER, 3, 2, "says no length"),
    ("twice.adi", GOOD + "<CALL:5>QX1AB<CALL:5>QX1AC<EOR>\n" + LATER, 3, 2, "stands twice"),
    ("lost-end.adi", GOOD.replace("<EOR>", "") + LATER + GOOD.replace("1200", "1400"), 2, 1, "stands twice"),
    ("bare-end.adi", GOOD + "<EOR>\n" + LATER, 3, 2, "missing"),
    ("no-time.adi", GOOD.replace("<TIME_ON:4>1200", ""), 1, 0, "TIME_ON missing"),
    ("bad-date.adi", GOOD.replace("20260501", "20261301"), 1, 0, "is none; write ISO 8601"),
    ("bad-hour.adi", GOOD.replace("1200", "2460"), 1, 0, "is none; write ISO 8601"),
    ("future.adi", GOOD.replace("20260501", "20990501"), 1, 0, "future"),
    ("old.adi", GOOD.replace("20260501", "18990501"), 1, 0, "before 1930"),
    ("band.adi", GOOD.replace("40m", "41m"), 1, 0, "band"),
    ("no-band.adi", GOOD.replace("<BAND:3>40m", ""), 1, 0, "neither frequency nor band"),
    ("beside.adi", GOOD.replace("<BAND", "<FREQ:5>14.07<BAND"), 1, 0, "does not lie in the band 40m"),
    ("square.adi", GOOD.replace("<BAND", "<GRIDSQUARE:6>J062QM<BAND"), 1, 0, "is no locator"),
    ("own.adi", GOOD.replace("<BAND", "<MY_GRIDSQUARE:4>ZZ99<BAND"), 1, 0, "own"),
    ("tail.adi", GOOD + "and then it stopped", 2, 1, "holds no field"),
    ("zeros.adi", GOOD.encode() + b"\0" * 64 + LATER.encode(), 2, 2, None),
    ("accents.adi", "<NAME:5>Aäöüß" + GOOD, 1, 1, None),
    ("bytes.adi", "<NAME:3>Zoë<NOTES:2>ok" + GOOD, 1, 1, None),
    ("cut.adx", XML + RECORD + RECORD[:50], 2, 1, "cannot be read on"),
    ("cut-between.adx", XML + RECORD + RECORD.replace("1200", "1300"), 3, 2, "cannot be read on"),
    ("entity.adx", XML + RECORD + RECORD.replace("QX1AB", "&call;") + END, 2, 1, "cannot be read on"),
    ("tags.adx", XML + RECORD + "<RECORD><CALL></RECORD>" + END, 2, 1, "cannot be read on"),
    ("twice.adx", XML + RECORD.replace("<BAND>", "<CALL>QX2</CALL><BAND>") + END, 1, 0, "stands twice"),
    ("empty-record.adx", XML + "<RECORD></RECORD>" + RECORD + END, 2, 1, "missing"),
    ("short.csv", HEAD + ROW + "2026-05-01T13:00:00Z,7.0386\n" + NEXT, 3, 2, "2 columns, the headings 7"),
    ("long.csv", HEAD + ROW + NEXT.strip() + ",more\n", 2, 1, "8 columns"),
    ("cut.csv", HEAD + ROW + NEXT[:30], 2, 1, "columns"),
    ("quote.csv", HEAD + '2026-05-01T11:00:00Z,7.0386,"QX1AB,JN58td,-12,5,ring\n' + ROW + NEXT, 3, 2, "quotes"),
    ("zero.csv", HEAD + ROW.replace("QX1AB", "QX1\0AB") + NEXT, 2, 1, "zero byte"),
    ("snr.csv", HEAD + ROW.replace("-12", "999") + NEXT, 2, 1, "impossible"),
    ("nan.csv", HEAD + ROW.replace("-12", "nan") + NEXT, 2, 1, "not a number"),
    ("power.csv", HEAD + ROW.replace(",5,", ",-5,") + ROW.replace(",5,", ",0,"), 2, 0, "impossible"),
    ("frequency.csv", HEAD + ROW.replace("7.0386", "7038.6") + NEXT, 2, 1, "no amateur band"),
    ("nobody.csv", HEAD + ROW.replace("QX1AB", "") + NEXT, 2, 1, "no receiver"),
    ("again.csv", HEAD + ROW + NEXT + ROW, 3, 2, "the same report as row 1"),
    ("latin.csv", (HEAD + ROW.replace("ring", "Dräht")).encode("latin-1"), 1, 1, None),
    ("wide.csv", (HEAD + ROW).encode("utf-16"), 1, 1, None),
    ("heads-only.csv", HEAD, 0, 0, None),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "content", "read", "kept", "reason"), BROKEN, ids=[case[0] for case in BROKEN]
)
def test_every_row_is_accounted_for(name, content, read, kept, reason):
    data = content if isinstance(content, bytes) else content.encode()
    reading = read_reports([Delivered(name, data)], now=NOW)
    assert reading.read == read == len(reading.reports) + len(reading.rejected)
    assert len(reading.reports) == kept
    if reason is not None:
        assert reason in reading.rejected[0].reason


def test_there_are_forty_of_them():
    assert len(BROKEN) >= 40


@pytest.mark.parametrize(
    ("name", "content", "reason"),
    [
        ("log.adi", b"", "empty"),
        ("log.adi", b"dear diary", "no ADIF field"),
        ("log.adx", b"<html><body/></html>", "outermost element is HTML"),
        ("log.adx", b"not xml", "is no ADX"),
        ("log.adx", b"<!DOCTYPE ADX [<!ENTITY a 'aaaa'>]><ADX>&a;</ADX>", "document type"),
        ("log.adx", b'<!DOCTYPE ADX SYSTEM "file:///secret"><ADX/>', "document type"),
        ("table.csv", b"\x89PNG\r\n\x1a\n\0\0", "binary"),
        ("table.csv", b"when,who\n1,2\n", "no column is known for"),
        ("table.csv", b"time,freq,call\n", "unit of frequency stands nowhere"),
        ("table.dat", b"time,freq,call\n", "does not end in"),
    ],
)
def test_a_file_that_is_not_of_its_kind_is_refused_in_one_sentence(name, content, reason):
    with pytest.raises(ReportFileError, match=reason) as caught:
        read_reports([Delivered(name, content)], now=NOW)
    assert str(caught.value).startswith(f"{name}:")
    assert "\n" not in str(caught.value)


def test_a_reason_names_line_and_byte():
    reading = read_reports([Delivered("log.adi", (GOOD + "\n\n<CALL:6>QX1A").encode())], now=NOW)
    (rejected,) = reading.rejected
    assert (rejected.row, rejected.line) == (2, 4)
    assert rejected.reason.startswith(f"line 4, byte {len(GOOD) + 2 + 8}:")


def test_any_cut_of_a_good_log_accounts_for_every_record_begun():
    whole = "".join(GOOD.replace("1200", f"12{minute:02}") for minute in range(4))
    for length in range(20, len(whole)):
        begun = whole[:length].count("<QSO_DATE")
        reading = read_reports([Delivered("log.adi", whole[:length].encode())], now=NOW)
        assert reading.read == len(reading.reports) + len(reading.rejected)
        assert len(reading.reports) == whole[:length].count("<EOR>")
        assert reading.read >= begun
