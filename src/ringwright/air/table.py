# SPDX-License-Identifier: BSD-3-Clause
"""Reports as tables with one row of headings: comma, semicolon or tab between the columns.

One line is one row, so that a quote left open costs its own row and not the rest of the file.
"""

import csv
import math
from collections.abc import Callable, Iterator
from io import BytesIO, TextIOWrapper
from operator import itemgetter

from ringwright.air.columns import Columns, Layout, layout, remembered
from ringwright.air.reports import RawReport, ReadRow, ReadRows
from ringwright.errors import ReportFileError

PLAIN_HEADINGS = "time,frequency_mhz,receiver,locator,snr_db,power_w,antenna"
"""Our own table, which needs no telling."""
_UTF16 = (b"\xff\xfe", b"\xfe\xff")
_TESTED = 4096


def headings(content: bytes, *, source: str) -> tuple[int, str, list[str]]:
    """Line, delimiter and cells of a table's headings."""
    for line, text in enumerate(_lines(content), start=1):
        if text.strip() and not text.startswith("#"):
            if not text.strip().replace("\t", " ").isprintable():
                raise ReportFileError(
                    source, line, "the file is binary, not a table; export the reports as text"
                )
            delimiter = next((mark for mark in ("\t", ";", ",") if mark in text), ",")
            return line, delimiter, _head(text, delimiter, source=source, line=line)
    raise ReportFileError(source, 1, "the file is empty; export the reports again")


def _head(text: str, delimiter: str, *, source: str, line: int) -> list[str]:
    try:
        return [cell.strip() for cell in next(csv.reader([text], delimiter=delimiter))]
    except csv.Error as exc:
        raise ReportFileError(source, line, "the headings cannot be split; export the reports again") from exc


def sample(content: bytes, *, source: str) -> tuple[list[str], list[str]]:
    """The headings of a table and the cells of its first row, to choose columns by; none where there is no row."""
    line, delimiter, head = headings(content, source=source)
    for number, text in enumerate(_lines(content), start=1):
        if number > line and text.strip() and not text.startswith("#"):
            cells = _cells(text, delimiter)
            return head, [] if isinstance(cells, str) else cells
    return head, []


def read_table(content: bytes, *, source: str, columns: Columns | None = None, memory: str = "") -> ReadRows:
    """The rows of a table, one by one; `columns` is what the person names, `memory` what was named before.

    Raises
    ------
    ReportFileError
        If a column that every report needs is missing, or the file is no table.
    """
    line, delimiter, head = headings(content, source=source)
    known = columns or remembered(memory, head) or Columns()
    return _rows(
        content, line, delimiter=delimiter, of=layout(head, known, source=source, line=line), width=len(head)
    )


def _lines(content: bytes) -> Iterator[str]:
    if content.startswith(_UTF16):
        encoding = "utf-16"
    else:
        try:
            content.decode("utf-8")
            encoding = "utf-8-sig"
        except UnicodeDecodeError:
            encoding = "latin-1"
    with TextIOWrapper(BytesIO(content), encoding=encoding, errors="replace", newline=None) as text:
        for line in text:
            yield line.rstrip("\n")


def _rows(content: bytes, head: int, *, delimiter: str, of: Layout, width: int) -> ReadRows:
    row, makes = 0, _maker(of, has_comma=delimiter != ",")
    for number, text in enumerate(_lines(content), start=1):
        if number <= head or not text.strip() or text.startswith("#"):
            continue
        row += 1
        cells = _cells(text, delimiter)
        if isinstance(cells, str):
            yield ReadRow(row, number, cells)
        elif len(cells) != width and (len(cells) < width or any(cells[width:])):
            yield ReadRow(
                row, number, f"the row has {len(cells)} columns, the headings {width}; complete or delete it"
            )
        else:
            yield ReadRow(row, number, makes(cells[:width]))


def _cells(text: str, delimiter: str) -> list[str] | str:
    if "\0" in text:
        return "the row holds a zero byte; correct or delete it"
    if '"' not in text:
        cells = text.split(delimiter)
        return [cell.strip() for cell in cells] if " " in text or delimiter != "," else cells
    try:
        return [cell.strip() for cell in next(csv.reader([text], delimiter=delimiter, strict=True))]
    except csv.Error:
        return "the row cannot be split; correct its quotes"


def _maker(of: Layout, *, has_comma: bool) -> Callable[[list[str]], RawReport]:
    """What makes a report of a row's cells. Where a comma does not part columns, it may be the decimal sign."""
    at = {role: place for role, place in of.at.items() if role in RawReport._fields}
    converts = [(role, of.to_megahertz) for role in ("frequency",) if of.to_megahertz != 1.0]
    converts += [("power", of.to_watts or math.nan)] if of.to_watts != 1.0 else []
    is_plain = not has_comma and not converts and "date" not in of.at
    pick = itemgetter(*(at.get(role, -1) for role in RawReport._fields))

    def plain(cells: list[str]) -> RawReport:
        cells.append("")  # what the table does not have
        return RawReport._make(pick(cells))

    def made(cells: list[str]) -> RawReport:
        raw = plain(cells)
        if has_comma:
            raw = raw._replace(
                **{role: getattr(raw, role).replace(",", ".") for role in ("frequency", "snr", "power")},
                latitude=raw.latitude.replace(",", "."),
                longitude=raw.longitude.replace(",", "."),
            )
        if "date" in of.at:
            raw = raw._replace(time=f"{cells[of.at['date']]}T{raw.time}")
        return raw._replace(**{role: _scaled(getattr(raw, role), factor) for role, factor in converts})

    return plain if is_plain else made


def _scaled(text: str, factor: float) -> str:
    """The number times a factor, or (NaN) watts of a level in dBm; what is no number is left to be refused."""
    try:
        value = float(text)
        return repr(10.0 ** (value / 10.0 - 3.0) if math.isnan(factor) else value * factor)
    except (ValueError, OverflowError):
        return text
