# SPDX-License-Identifier: BSD-3-Clause
"""Reception reports as they stand in the record's table: whole seconds, one row for the same reception."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from ringwright.air.locator import Place
from ringwright.air.report_bands import BAND_NAMES
from ringwright.air.reports import Reports
from ringwright.records.database import Database

COLUMNS = (
    "at", "frequency", "band", "receiver", "latitude", "longitude", "uncertainty", "snr", "power", "mode", "antenna",
    "heard_me", "own_locator",
)  # fmt: skip
_INSERT = f"INSERT OR IGNORE INTO report ({', '.join(COLUMNS)}) VALUES ({', '.join('?' * len(COLUMNS))})"  # noqa: S608 -- our own names
_SELECT = f"SELECT {', '.join(COLUMNS)} FROM report ORDER BY at, id"  # noqa: S608 -- our own names

Row = tuple[Any, ...]


def insert_reports(database: Database, rows: Iterable[Row]) -> int:
    """Keep reports; how many are new."""
    return sum(database.write(_INSERT, *row) for row in rows)


def rows_of(reports: Reports) -> Iterator[Row]:
    """Reports as rows; names and places written out, what is not told empty or null."""
    times = np.datetime_as_string(np.round(reports.time).astype("datetime64[s]"))
    columns = zip(
        times.tolist(),
        reports.frequency.tolist(),
        reports.band.tolist(),
        reports.receiver.tolist(),
        reports.place.tolist(),
        _or_none(reports.snr),
        _or_none(reports.power),
        reports.mode.tolist(),
        reports.antenna.tolist(),
        reports.heard_me.tolist(),
        strict=True,
    )
    modes, antennas = (*reports.modes, ""), (*reports.antennas, "")  # -1, the last, is what is not told
    own = reports.own_locator or ""
    for time, frequency, band, receiver, place, snr, power, mode, antenna, heard_me in columns:
        at = reports.places[place] if place >= 0 else None
        where = (None, None, None) if at is None else (at.latitude, at.longitude, at.uncertainty)
        sender = (modes[mode], antennas[antenna], int(heard_me), own)
        yield (
            f"{time}Z",
            frequency,
            BAND_NAMES[band],
            reports.receivers[receiver],
            *where,
            snr,
            power,
            *sender,
        )


def reports(database: Database) -> Reports:
    """All reports in the order of time."""
    return reports_of(database.rows(_SELECT))


def reports_of(rows: Sequence[Row]) -> Reports:
    """Rows as reports; the own place is the one that most of them name."""
    columns = list(zip(*rows, strict=True)) if rows else [()] * len(COLUMNS)
    (
        at,
        frequency,
        band,
        receiver,
        latitude,
        longitude,
        uncertainty,
        snr,
        power,
        mode,
        antenna,
        heard_me,
        own,
    ) = columns
    where = [
        None if north is None else Place(latitude=north, longitude=east, uncertainty=about)
        for north, east, about in zip(latitude, longitude, uncertainty, strict=True)
    ]
    receivers, modes, antennas, places = (_named(names) for names in (receiver, mode, antenna, where))
    named = Counter(name for name in own if name).most_common(1)
    return Reports(
        time=np.array([text[:-1] for text in at], dtype="datetime64[s]").astype(np.float64),
        frequency=np.array(frequency, dtype=float),
        snr=np.array(snr, dtype=float),
        power=np.array(power, dtype=float),
        band=np.array([BAND_NAMES.index(name) for name in band], dtype=np.int32),
        receiver=receivers[1],
        place=places[1],
        mode=modes[1],
        antenna=antennas[1],
        heard_me=np.array(heard_me, dtype=bool),
        receivers=receivers[0],
        places=places[0],
        modes=modes[0],
        antennas=antennas[0],
        own_locator=named[0][0] if named else None,
    )


def report_lines(database: Database) -> list[Mapping[str, Any]]:
    """All reports for an export."""
    return [dict(zip(COLUMNS, row, strict=True)) for row in database.rows(_SELECT)]


def _named(values: Iterable[Any]) -> tuple[tuple[Any, ...], Any]:
    """Each value once, and where each stands; -1 for what is empty."""
    codes: dict[Any, int] = {}
    at = [codes.setdefault(value, len(codes)) if value else -1 for value in values]
    return tuple(codes), np.array(at, dtype=np.int32)


def _or_none(values: Any) -> list[float | None]:
    return [None if value != value else value for value in values.tolist()]  # noqa: PLR0124 -- NaN is not itself
