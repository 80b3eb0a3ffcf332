# SPDX-License-Identifier: BSD-3-Clause
"""Readers of reception reports: tables, ADIF, ADX, a plan of slots. Every row is kept or refused with its reason."""

import re
from datetime import UTC, datetime
from xml.sax.saxutils import escape

import numpy as np

from ringwright.air.adif import read_adif
from ringwright.air.columns import Columns, remember, remembered
from ringwright.air.files import Delivered, read_reports
from ringwright.air.slots import draw_slots, read_slots, slots_text
from ringwright.air.table import PLAIN_HEADINGS, sample
from scripts.fuzz_readers.reader import Form, Reader, check, check_sentence

NOW = datetime(2026, 6, 1, tzinfo=UTC)
_ROWS = (
    ("20260501", "1200", "QX1AB", "40M", "7.0386", "JN58td", "-12", "5", "ring"),
    ("20260501", "120200", "QX2CD", "60M", "5.3545", "JO62qm", "+03", "25", "dipole"),
    ("20260502", "2359", "QX3EF/P", "30M", "10.1201", "IO91", "", "", "ring"),
)
_FIELDS = ("QSO_DATE", "TIME_ON", "CALL", "BAND", "FREQ", "GRIDSQUARE", "RST_RCVD", "TX_PWR", "MY_ANTENNA")
_LINE_END = re.compile(r"\r\n|\r|\n")


def _adif() -> bytes:
    rows = (
        "".join(f"<{name}:{len(value)}>{value} " for name, value in zip(_FIELDS, row, strict=True) if value)
        for row in _ROWS
    )
    return ("a log\n<ADIF_VER:5>3.1.7\n<EOH>\n" + "".join(f"{row}<EOR>\n" for row in rows)).encode()


def _adx() -> bytes:
    rows = (
        "".join(f"<{name}>{escape(value)}</{name}>" for name, value in zip(_FIELDS, row, strict=True))
        for row in _ROWS
    )
    head = '<?xml version="1.0" encoding="UTF-8"?>\n<ADX>\n<HEADER><ADIF_VER>3.1.7</ADIF_VER></HEADER>\n<RECORDS>\n'
    return (head + "".join(f"<RECORD>{row}</RECORD>\n" for row in rows) + "</RECORDS>\n</ADX>\n").encode()


def _tables() -> tuple[bytes, ...]:
    plain = "".join(
        f"2026-05-0{n}T12:00:00Z,{row[4]},{row[2]},{row[5]},{row[6]},{row[7]},{row[8]}\n"
        for n, row in enumerate(_ROWS, start=1)
    )
    other = "date;utc;qrg (kHz);reporter;rx grid;snr;dbm;mode\n" + "".join(
        f"2026-05-01;12:0{n};{float(row[4]) * 1e3:.1f};{row[2]};{row[5]};{row[6]};37;CW\n".replace(".", ",")
        for n, row in enumerate(_ROWS)
    )
    spots = "time\tband\trx\tlat\tlon\tdb\tdirection\n2026-05-01 12:00\t40m\tQX1AB\t48.1\t11.5\t-3 dB\theard by me\n"
    named = "#snr=3 frequency=2 frequency_unit=kHz\ntime,qrg,x,rx\n2026-05-01T12:00,7038.6,-7,QX1AB\n"
    return tuple(
        text.encode() for text in (PLAIN_HEADINGS + "\n" + plain, other, spots, named, f"# note\n{plain}")
    )


def _read(name: str, content: bytes, columns: Columns | None = None) -> int:
    """The number of rows, each of which is accounted for."""
    reading = read_reports([Delivered(name, content)], now=NOW, columns=columns)
    reports, rejected = reading.reports, reading.rejected
    check(
        reading.read == len(reports) + len(rejected),
        f"{reading.read} read, {len(reports)} kept, {len(rejected)} refused",
    )
    for each in rejected:
        check_sentence(each.reason)
    check(
        bool(np.isfinite(reports.time).all() and np.isfinite(reports.frequency).all()), "figures not finite"
    )
    check(len({each.row for each in rejected}) == len(rejected), "a row is refused twice")
    return reading.read


def _text(data: bytes) -> str:
    """As tables are written: UTF-8, and where it is none, an old code page."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")


def _read_table(data: bytes) -> None:
    first, _, rest = data.partition(b"\n")
    columns = None
    if first.startswith(b"#"):
        columns = Columns.of(first[1:].decode("utf-8", errors="replace").split())
        data = rest
    sample(data, source="table.csv")
    read = _read("table.csv", data, columns)
    if not data.startswith((b"\xff\xfe", b"\xfe\xff")):
        lines = _LINE_END.split(_text(data))
        rows = [line for line in lines if line.strip() and not line.startswith("#")]
        check(read == len(rows) - 1, f"{len(rows) - 1} rows, {read} read")


def _read_adif(data: bytes) -> None:
    read = _read("log.adi", data)
    header = re.search(rb"<eoh>", data, re.IGNORECASE)
    ends = len(re.findall(rb"<eor>", data[header.end() if header else 0 :], re.IGNORECASE))
    check(read >= ends, f"{ends} records end, {read} are read")
    check(read == sum(1 for _ in read_adif(data, source="log.adi")), "another number of records")


def _read_adx(data: bytes) -> None:
    _read("log.adx", data)


def _read_slots(data: bytes) -> None:
    text = data.decode("utf-8", errors="replace")
    slots = read_slots(text, source="plan.csv")
    lines = [line for line in text.splitlines() if line.strip()]
    check(len(slots) == len(lines) - 1, f"{len(lines) - 1} lines, {len(slots)} slots")
    again = read_slots(slots_text(slots), source="again.csv")
    check(len(again) == len(slots), f"a plan is another one when written and read again: {slots} {again}")


def _read_memory(data: bytes) -> None:
    """The file in which a workspace keeps what a table's columns are."""
    text, head = data.decode("utf-8", errors="replace"), ["when", "qrg (kHz)", "who"]
    remembered(text, head)
    columns = Columns.of(["receiver=who", "frequency=2"])
    check(remembered(remember(text, head, columns), head) == columns, "columns are forgotten")


def _read_plan_and_memory(data: bytes) -> None:
    _read_memory(data)
    _read_slots(data)


_PLAN = slots_text(
    draw_slots("ring", "dipole", start=NOW, length=120.0, count=6, rng=np.random.default_rng(1))
).encode()
_MEMORY = b'{"when|qrg khz|who": {"time": "when", "receiver": "3", "frequency_unit": "kHz"}}'
_TABLE_TOKENS = (
    b"time", b"date", b"utc", b"freq (kHz)", b"f", b"mhz", b"band", b"40m", b"receiver", b"call", b"locator", b"JN58td",
    b"lat", b"lon", b"snr", b"dB", b"power (W)", b"dbm", b"mode", b"antenna", b"direction", b"heard by me", b"tx grid",
    b"2026-05-01T12:00:00Z", b"2026-05-01", b"12:00", b"T24:00", b"+23:59", b"0001-01-01T00:00:00+14:00", b"#snr=3",
)  # fmt: skip
_ADIF_TOKENS = (
    *(f"<{name}:4>".encode() for name in _FIELDS), b"<EOR>", b"<eoh>", b"<APP_X_Y:3:S>", b"<LAT:11>N052 26.592",
    b"<LON:11>E011 34.500", b"<SUBMODE:3>CW ", b"<MY_GRIDSQUARE:4>JN58", b"<RST_SENT:3>-07", b":999999999>", b"< ",
)  # fmt: skip
_ADX_TOKENS = (
    b"<RECORD>", b"</RECORD>", b"<RECORDS>", b"</ADX>", b"<![CDATA[", b"]]>", b"<!--", b"-->", b"&amp;", b"&#0;",
    b"&#x10FFFF;", b"<!DOCTYPE ADX>", b"<APP PROGRAMID='x' FIELDNAME='Y' TYPE='N'>", b"xmlns:a='b'", b"UTF-16",
)  # fmt: skip
_PLAN_TOKENS = (
    b"start,end,antenna", b"2026-05-01T12:00:00Z", b"0001-01-01T00:00:00+23:59", b"9999-12-31T23:59:59-23:59",
    b"frequency_unit", b"power_unit",
)  # fmt: skip

READERS = (
    Reader(name="reports", seeds=_tables(), read=_read_table, tokens=_TABLE_TOKENS),
    Reader(
        name="adif",
        seeds=(_adif(), _adif().partition(b"<EOH>\n")[2], "<NAME:5>Aäöüß".encode() + _adif()),
        read=_read_adif,
        tokens=_ADIF_TOKENS,
    ),
    Reader(
        name="adx",
        seeds=(_adx(), _adx().replace(b"UTF-8", b"ISO-8859-1")),
        read=_read_adx,
        tokens=_ADX_TOKENS,
    ),
    Reader(
        name="slots",
        seeds=(_PLAN, _MEMORY),
        read=_read_plan_and_memory,
        form=Form.JSON_LINES,
        tokens=_PLAN_TOKENS,
        longest=4096,
    ),
)
