# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps as tables with one row of headings: comma, semicolon, tab or blanks between the columns.

Columns are told by the trade's words for them (frequency, R and X, S11, return loss, SWR) or named by the person. The
unit of frequency must stand in the heading or be given: it is never guessed.
"""

import csv
import re
from collections.abc import Iterator

import numpy as np

from ringwright.errors import SweepFileError
from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.networks import reflection_coefficient
from ringwright.proof.columns import FREQUENCY_UNITS, ROLES, Columns
from ringwright.proof.file_text import numbers, text_lines
from ringwright.proof.sweep import Sweep, SweepKind, checked_sweep
from ringwright.units import shown

_PHASE_UNITS = {"": np.pi / 180.0, "deg": np.pi / 180.0, "°": np.pi / 180.0, "rad": 1.0}
_COMMENT = ("#", "!", "%")
_UNIT = re.compile(r"[\[(/_ ]\s*(hz|khz|mhz|ghz|ohms?|Ω|db|deg|°|rad)\s*[\])]?\s*$", re.IGNORECASE)


_PREFIXES = ("", "s11 ", "gamma ", "reflection ")
_WORDS: dict[frozenset[str], str] = {
    frozenset(words.split()): role
    for role, names in {
        "frequency": ("frequency", "freq", "f"),
        "resistance": ("r", "rs", "resistance", "re z", "real z", "series resistance"),
        "reactance": ("x", "xs", "reactance", "im z", "imag z", "imaginary z", "series reactance"),
        "real": [prefix + name for prefix in _PREFIXES for name in ("re", "real")],
        "imaginary": [prefix + name for prefix in _PREFIXES for name in ("im", "imag", "imaginary")],
        "magnitude": [prefix + name for prefix in _PREFIXES for name in ("mag", "magnitude")]
        + ["s11", "gamma", "reflection"],
        "phase": [prefix + name for prefix in _PREFIXES for name in ("phase", "angle")],
        "return_loss": ("return loss", "rl"),
        "swr": ("swr", "vswr"),
    }.items()
    for words in names
}


_TABLE = re.compile(r"\.(?:csv|tsv|txt|dat)$", re.IGNORECASE)


def is_table(name: str) -> bool:
    """Whether a file of this name is read as a table."""
    return _TABLE.search(name) is not None


def headings(content: bytes, source: str) -> list[str]:
    """The headings of a table's columns; none where its first row is numbers already.

    Raises
    ------
    SweepFileError
        If it cannot be split into columns.
    """
    _, head = next(_rows(content, source), (1, []))
    return [] if _are_numbers(head) else head


def parse_table(content: bytes, *, source: str, columns: Columns) -> Sweep:
    """Read a table's bytes.

    Raises
    ------
    SweepFileError
        If a column that is needed is missing, a row has another number of columns, or a number is none.
    """
    rows = _rows(content, source)
    line, head = next(rows, (1, []))
    if not head:
        raise SweepFileError(source, 1, "there are no data rows; save the sweep again")
    table = _Table(source=source, columns=columns, head=head, head_line=line)
    data = table.data(rows)
    sweep = table.sweep(data)
    return checked_sweep(sweep, table.lines)


def _rows(content: bytes, source: str) -> Iterator[tuple[int, list[str]]]:
    """Line number and cells of each row that is neither empty nor a comment."""
    delimiter: str | None = None
    for number, line in enumerate(text_lines(content, source), start=1):
        text = line.strip()
        if not text or text.startswith(_COMMENT):
            continue
        if delimiter is None:
            delimiter = next((mark for mark in ("\t", ";", ",") if mark in line), " ")
        if delimiter == " ":
            yield number, text.split()
            continue
        try:
            cells = next(csv.reader([line], delimiter=delimiter, strict=True))
        except csv.Error as exc:
            raise SweepFileError(source, number, "the row cannot be split; correct its quotes") from exc
        yield number, [cell.strip() for cell in cells]


class _Table:
    """The head of a table and where each quantity stands in it."""

    def __init__(self, *, source: str, columns: Columns, head: list[str], head_line: int) -> None:
        self.source, self.columns, self.lines = source, columns, list[int]()
        self._head, self._head_line = head, head_line
        self._has_head = not _are_numbers(head)
        self._places, self._units = dict[str, int](), dict[str, str]()
        for role in ROLES:
            self._name(role)
        if self._has_head:
            self._recognise()

    def _name(self, role: str) -> None:
        """Take the column that the person named for a role."""
        wanted: str | int | None = getattr(self.columns, role)
        if wanted is None:
            return
        place = wanted - 1 if isinstance(wanted, int) else self._index_of(wanted)
        if not 0 <= place < len(self._head):
            raise self._refuse(
                f"there is no column {shown(wanted)} for the {role}; the table has {self._listed()}"
            )
        self._places[role] = place
        self._units[role] = _split(self._head[place])[1] if self._has_head else ""

    def _index_of(self, heading: str) -> int:
        return self._head.index(heading) if heading in self._head else -1

    def _recognise(self) -> None:
        taken = set(self._places.values())
        for place, cell in enumerate(self._head):
            words, unit = _split(cell)
            role = _WORDS.get(words)
            if role is None or role in self._places or place in taken:
                continue
            self._places[role], self._units[role] = place, unit

    def _refuse(self, reason: str) -> SweepFileError:
        return SweepFileError(self.source, self._head_line, reason)

    def _listed(self) -> str:
        return ", ".join(shown(cell) for cell in self._head[:12])

    def data(self, rows: Iterator[tuple[int, list[str]]]) -> FloatArray:
        """All rows as numbers (n, columns); the first row too where it is no heading."""
        used = sorted(self._places.values())
        first = [] if self._has_head else [(self._head_line, self._head)]
        table = []
        for number, cells in (*first, *rows):
            if len(cells) != len(self._head):
                raise SweepFileError(
                    self.source,
                    number,
                    f"the row has {len(cells)} columns and the first one {len(self._head)}; complete it, and write "
                    f"decimal signs as points",
                )
            table.append(numbers([cells[place] for place in used], source=self.source, line=number))
            self.lines.append(number)
        if not table:
            raise self._refuse("there are no data rows; save the sweep again")
        whole = np.full((len(table), len(self._head)), np.nan)
        whole[:, used] = table
        return whole

    def _has(self, *roles: str) -> bool:
        return all(role in self._places for role in roles)

    def sweep(self, data: FloatArray) -> Sweep:
        """The sweep of the most that the columns tell: with phase rather than without."""
        reference = self.columns.reference
        with np.errstate(over="ignore", divide="ignore", invalid="ignore"):
            kind, response = self._response(data, reference)
            frequency = data[:, self._places["frequency"]] * self._frequency_factor()
        return Sweep(
            source=self.source, kind=kind, frequency=frequency, response=response, reference=reference
        )

    def _response(self, data: FloatArray, reference: float) -> tuple[SweepKind, ComplexArray]:
        def column(role: str) -> FloatArray:
            return np.asarray(data[:, self._places[role]])

        if not self._has("frequency"):
            raise self._refuse(f"no column is the frequency; name it, the table has {self._listed()}")
        if self._has("real", "imaginary"):
            return SweepKind.REFLECTION, np.asarray(column("real") + 1j * column("imaginary"))
        size = self._size(data)
        if size is not None and self._has("phase"):
            factor = _PHASE_UNITS.get(self._units["phase"])
            if factor is None:
                raise self._refuse(f"a phase is in degrees or radians, not in {shown(self._units['phase'])}")
            return SweepKind.REFLECTION, np.asarray(size * np.exp(1j * factor * column("phase")))
        if self._has("resistance", "reactance"):
            z = column("resistance") + 1j * column("reactance")
            return SweepKind.REFLECTION, reflection_coefficient(z, reference=reference)
        if self._has("swr"):
            s = self._at_least_one(column("swr"))
            return SweepKind.SWR, np.asarray((s - 1.0) / (s + 1.0), dtype=np.complex128)
        if size is not None:
            return SweepKind.SWR, np.asarray(size, dtype=np.complex128)
        raise self._refuse(
            f"no columns tell the reflection; needed are R and X, S11, return loss or SWR, there are {self._listed()}"
        )

    def _size(self, data: FloatArray) -> FloatArray | None:
        """Size of the reflection from a magnitude, its decibels, or a return loss; None without."""
        if self._has("magnitude"):
            values = data[:, self._places["magnitude"]]
            if self._units["magnitude"] == "db":
                return np.asarray(10.0 ** (values / 20.0))
            below = np.flatnonzero(values < 0.0)
            if len(below):
                raise SweepFileError(
                    self.source,
                    self.lines[below[0]],
                    "a magnitude is below 0; if it is in decibels, head it S11 (dB)",
                )
            return np.asarray(values)
        if self._has("return_loss"):
            values = data[:, self._places["return_loss"]]
            sign = (
                -1.0 if np.median(values) >= 0.0 else 1.0
            )  # a loss is positive; some write the level instead
            return np.asarray(10.0 ** (sign * values / 20.0))
        return None

    def _at_least_one(self, s: FloatArray) -> FloatArray:
        below = np.flatnonzero(s < 1.0)
        if len(below):
            raise SweepFileError(
                self.source,
                self.lines[below[0]],
                f"an SWR of {s[below[0]]:g} is none; it is 1 or more, correct it",
            )
        return s

    def _frequency_factor(self) -> float:
        unit = self.columns.frequency_unit or self._units["frequency"]
        factor = FREQUENCY_UNITS.get(unit.casefold())
        if factor is None:
            raise self._refuse(
                'the unit of frequency is not told; head the column "frequency (MHz)" or name the unit'
            )
        return factor


def _are_numbers(cells: list[str]) -> bool:
    return all(re.match(r"[+-]?\.?\d", cell) for cell in cells)


def _split(heading: str) -> tuple[frozenset[str], str]:
    """The words of a heading, whatever their order, and its unit in small letters."""
    match = _UNIT.search(heading)
    name = heading[: match.start()] if match else heading
    return frozenset(re.findall(r"[a-z0-9]+", name.casefold())), match[1].casefold() if match else ""
