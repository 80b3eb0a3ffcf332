# SPDX-License-Identifier: BSD-3-Clause
"""Files of reports, of whatever kind, read together: duplicates merged, every row kept or told of."""

from array import array
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ringwright.air.adif import read_adif
from ringwright.air.adx import read_adx
from ringwright.air.columns import Columns
from ringwright.air.reports import Reading, ReadRows, Rejected, Reports
from ringwright.air.sieve import Sieve
from ringwright.air.table import read_table
from ringwright.errors import ReportFileError

LARGEST_FILE = 1_000_000_000
"""[bytes]: ten million reports."""
_TELL_EVERY = 50_000
_NO_MODE = 1 << 40  # above all modes
_TABLES = {".csv", ".tsv", ".txt"}


@dataclass(frozen=True, slots=True)
class Delivered:
    """A file's name, whose ending tells its kind, and its bytes."""

    name: str
    content: bytes


def read_content(path: Path) -> bytes:
    """A file's bytes.

    Raises
    ------
    ReportFileError
        If it cannot be read, or is too large.
    """
    try:
        size = path.stat().st_size
        if size > LARGEST_FILE:
            raise ReportFileError(
                str(path),
                1,
                f"the file has {size / 1e6:.0f} MB, at most {LARGEST_FILE / 1e6:.0f} MB are read; split it",
            )
        return path.read_bytes()
    except OSError as exc:
        why = (exc.strerror or type(exc).__name__).lower()
        raise ReportFileError(
            str(path), 1, f"the file cannot be read ({why}); check its name and folder"
        ) from exc
    except ValueError as exc:  # a zero byte in the name
        raise ReportFileError(str(path), 1, "the file cannot be read; check its name and folder") from exc


def read_reports(
    delivered: Sequence[Delivered],
    *,
    now: datetime,
    columns: Columns | None = None,
    memory: str = "",
    told: Callable[[int], None] = lambda _: None,
) -> Reading:
    """All reports of some files; `told` hears of every so many rows. A report that stands twice counts once.

    Raises
    ------
    ReportFileError
        If a file is not of its kind.
    """
    sieve, read = Sieve(now), 0
    rejected: list[Rejected] = []
    source, rows, lines = array("i"), array("q"), array("q")
    for number, file in enumerate(delivered):
        for row, line, says in _rows_of(file, columns, memory=memory):
            read += 1
            reason = says if isinstance(says, str) else sieve.take(says)
            if reason is None:
                source.append(number)
                rows.append(row)
                lines.append(line)
            else:
                rejected.append(Rejected(row, reason, file.name, line))
            if read % _TELL_EVERY == 0:
                told(read)
    reports = sieve.reports()
    first = first_alike(reports)
    again = np.flatnonzero(first != np.arange(len(first)))
    for each in again:
        name, of_name = (delivered[source[at]].name for at in (each, first[each]))
        where = f"row {rows[first[each]]}" + ("" if of_name == name else f" of {of_name}")
        rejected.append(
            Rejected(rows[each], f"the same report as {where}; the two are merged", name, lines[each])
        )
    order = {file.name: place for place, file in enumerate(delivered)}
    rejected.sort(key=lambda each: (order[each.file], each.row))
    kept = reports.only(np.delete(np.arange(len(first)), again)) if len(again) else reports
    return Reading(read=read, reports=kept, rejected=tuple(rejected))


def is_table(name: str) -> bool:
    """Whether a file's name says that it is a table."""
    return Path(name).suffix.casefold() in _TABLES


def first_alike(reports: Reports) -> NDArray[np.intp]:
    """For each report the first that says the same: time, receiver, band, mode, antenna, direction, SNR and power.

    One that names no mode says the same as one that does, where there is but one such mode: plain tables have none.
    """
    columns = (
        np.nan_to_num(reports.power, nan=-1.0),
        np.nan_to_num(reports.snr, nan=-999.0),
        (reports.antenna.astype(np.int64) + 1) * 2 + reports.heard_me,
        reports.receiver.astype(np.int64) * 64 + reports.band,
        reports.time,
    )
    mode = reports.mode.astype(np.int64)
    but_for_mode = _first_of_equals(columns)
    highest, lowest = mode.copy(), np.where(mode < 0, _NO_MODE, mode)
    np.maximum.at(highest, but_for_mode, mode)
    np.minimum.at(lowest, but_for_mode, np.where(mode < 0, _NO_MODE, mode))
    is_one = highest[but_for_mode] == lowest[but_for_mode]
    return _first_of_equals((np.where(is_one, highest[but_for_mode], mode), *columns))


def _first_of_equals(columns: Sequence[NDArray[Any]]) -> NDArray[np.intp]:
    """For each row the first one that is equal in all columns."""
    order = np.lexsort(columns)  # stable, so that the first of equals stays the first
    is_new = np.ones(len(order), dtype=bool)
    is_new[1:] = np.any([column[order][1:] != column[order][:-1] for column in columns], axis=0)
    first = np.empty(len(order), dtype=np.intp)
    first[order] = order[is_new][np.cumsum(is_new) - 1] if len(order) else order
    return first


def _rows_of(file: Delivered, columns: Columns | None, *, memory: str) -> ReadRows:
    ending = Path(file.name).suffix.casefold()
    if not file.content.strip():
        raise ReportFileError(file.name, 1, "the file is empty; export the reports again")
    if ending in {".adi", ".adif"}:
        return read_adif(file.content, source=file.name)
    if ending == ".adx":
        return read_adx(file.content, source=file.name)
    if is_table(file.name):
        return read_table(file.content, source=file.name, columns=columns, memory=memory)
    raise ReportFileError(
        file.name,
        1,
        "the name does not end in .adi, .adx, .csv, .tsv or .txt; rename the file after what is in it",
    )
