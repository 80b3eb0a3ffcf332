# SPDX-License-Identifier: BSD-3-Clause
"""Which column of a table means what: told by its heading, by the person, or remembered from last time."""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ringwright.errors import ReportFileError, ReportsError
from ringwright.units import shown

ROLES = (
    "time", "date", "frequency", "band", "receiver", "locator", "latitude", "longitude", "snr", "power", "mode",
    "antenna", "direction", "own_locator",
)  # fmt: skip
FREQUENCY_UNITS: Mapping[str, float] = {"hz": 1e-6, "khz": 1e-3, "mhz": 1.0, "ghz": 1e3}
"""What makes megahertz of it."""
POWER_UNITS: Mapping[str, float | None] = {"w": 1.0, "mw": 1e-3, "kw": 1e3, "dbm": None}
"""What makes watts of it; None is a level."""
_UNITS = {*FREQUENCY_UNITS, *POWER_UNITS, "db", "utc", "deg"}
_HEADINGS: Mapping[str, tuple[str, ...]] = {
    "time": ("time", "timestamp", "date time", "datetime", "utc"),
    "date": ("date", "day"),
    "frequency": ("frequency", "freq", "f", "mhz", "khz", "hz"),
    "band": ("band",),
    "receiver": ("receiver", "reporter", "rx", "rx call", "heard by", "call", "callsign"),
    "locator": ("locator", "receiver locator", "rx locator", "grid", "rx grid", "reporter grid"),
    "latitude": ("latitude", "lat", "rx lat"),
    "longitude": ("longitude", "lon", "rx lon"),
    "snr": ("snr", "report", "db"),
    "power": ("power", "tx power", "pwr", "dbm", "w"),
    "mode": ("mode",),
    "antenna": ("antenna", "my antenna"),
    "direction": ("direction",),
    "own_locator": ("own locator", "my locator", "tx locator", "tx grid"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Headings, or numbers counted from 1, that a person names by role, and units that no heading says."""

    named: Mapping[str, str] = field(default_factory=dict)
    frequency_unit: str | None = None
    power_unit: str | None = None

    @classmethod
    def of(cls, assignments: Sequence[str]) -> "Columns":
        """From texts as "snr=4", "frequency=QRG", "frequency_unit=kHz".

        Raises
        ------
        ReportsError
            If one names no role or no unit.
        """
        named: dict[str, str] = {}
        for text in assignments:
            role, _, heading = (part.strip() for part in text.partition("="))
            if role not in {*ROLES, "frequency_unit", "power_unit"} or not heading:
                raise ReportsError(
                    f"column {shown(text)} is none; write one of {', '.join(ROLES)}, frequency_unit, power_unit, "
                    f"then = and the heading, its number, or the unit"
                )
            named[role] = heading
        frequency, power = named.pop("frequency_unit", None), named.pop("power_unit", None)
        for unit, known in ((frequency, FREQUENCY_UNITS), (power, POWER_UNITS)):
            if unit is not None and unit.casefold() not in known:
                raise ReportsError(f"unit {shown(unit)} is none of {', '.join(known)}")
        return cls(named=named, frequency_unit=frequency, power_unit=power)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Where each role stands, counted from 0, and the factors to MHz and W (None: power is in dBm)."""

    at: Mapping[str, int]
    to_megahertz: float
    to_watts: float | None


def layout(head: Sequence[str], columns: Columns, *, source: str, line: int) -> Layout:
    """What the columns of a table are.

    Raises
    ------
    ReportFileError
        If a column that every report needs is missing, or a unit stands nowhere.
    """
    _, units = zip(*map(_split, head), strict=True)
    at = told_by_headings(head)
    at |= {role: _named(heading, head, source=source, line=line) for role, heading in columns.named.items()}
    if "receiver" not in at or not at.keys() & {"time", "date"} or not at.keys() & {"frequency", "band"}:
        missing = [name for name in ("time", "receiver") if name not in at]
        missing += [] if at.keys() & {"frequency", "band"} else ["frequency or band"]
        raise ReportFileError(
            source,
            line,
            f"no column is known for {', '.join(missing)} among {shown(', '.join(head))}; name it, as in "
            f"{missing[0].split()[0]}=3",
        )
    frequency = columns.frequency_unit or _unit(at, "frequency", units=units, known=FREQUENCY_UNITS)
    if "frequency" in at and frequency is None:
        raise ReportFileError(
            source, line, "the unit of frequency stands nowhere; name it, as in frequency_unit=kHz"
        )
    power = columns.power_unit or _unit(at, "power", units=units, known=POWER_UNITS)
    if "power" in at and power is None:
        raise ReportFileError(source, line, "the unit of power stands nowhere; name it, as in power_unit=W")
    return Layout(
        at=at,
        to_megahertz=FREQUENCY_UNITS[(frequency or "mhz").casefold()],
        to_watts=POWER_UNITS[(power or "w").casefold()],
    )


def told_by_headings(head: Sequence[str]) -> dict[str, int]:
    """Where each role stands that a heading tells, counted from 0."""
    words = [_split(heading)[0] for heading in head]
    found = {role: _find(words, names) for role, names in _HEADINGS.items()}
    return {role: place for role, place in found.items() if place is not None}


def fingerprint(head: Sequence[str]) -> str:
    """What tells tables of one kind: their headings."""
    return "|".join(" ".join(_tokens(heading)) for heading in head)


def remembered(memory: str, head: Sequence[str]) -> Columns | None:
    """The columns that were named for such headings before; `memory` is the text that `remember` wrote."""
    try:
        found = json.loads(memory).get(fingerprint(head))
        return None if found is None else Columns.of([f"{role}={heading}" for role, heading in found.items()])
    except (ValueError, AttributeError, RecursionError, ReportsError):
        return None  # a memory that somebody edited into nonsense costs a question, not the reports


def remember(memory: str, head: Sequence[str], columns: Columns) -> str:
    """The memory with these columns in it, as text to keep."""
    try:
        known = dict(json.loads(memory or "{}"))
    except (ValueError, TypeError, RecursionError):
        known = {}
    units = {"frequency_unit": columns.frequency_unit, "power_unit": columns.power_unit}
    known[fingerprint(head)] = dict(columns.named) | {name: unit for name, unit in units.items() if unit}
    return json.dumps(known, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def _tokens(heading: str) -> list[str]:
    return re.findall(r"[^\W_]+", heading.casefold())


def _split(heading: str) -> tuple[str, str | None]:
    tokens = _tokens(heading)
    unit = tokens[-1] if tokens and tokens[-1] in _UNITS else None
    return " ".join(tokens[:-1] if unit and len(tokens) > 1 else tokens), unit


def _find(words: Sequence[str], names: Sequence[str]) -> int | None:
    return next((words.index(name) for name in names if name in words), None)


def _named(heading: str, head: Sequence[str], *, source: str, line: int) -> int:
    folded = [each.strip().casefold() for each in head]
    if heading.casefold() in folded:
        return folded.index(heading.casefold())
    if heading.isdecimal() and 1 <= int(heading) <= len(head):
        return int(heading) - 1
    raise ReportFileError(
        source, line, f"there is no column {shown(heading)}; the headings are {', '.join(head)}"
    )


def _unit(
    at: Mapping[str, int], role: str, *, units: Sequence[str | None], known: Mapping[str, float | None]
) -> str | None:
    unit = units[at[role]] if role in at else None
    return unit if unit in known else None
