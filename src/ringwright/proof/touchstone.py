# SPDX-License-Identifier: BSD-3-Clause
"""Touchstone files of one and two ports, versions 1 and 2, read strictly.

Touchstone File Format Specification, versions 1.1 (2002) and 2.0 (2009), IBIS Open Forum. Nothing is guessed: a file
without an option line, with a row too short or a token that is no number is refused with its line.
"""

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ringwright.errors import SweepFileError
from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.networks import z_to_s
from ringwright.proof.file_text import numbers, text_lines
from ringwright.proof.sweep import Sweep, SweepKind, checked_sweep
from ringwright.proof.touchstone_header import MOST_PORTS, Header, HeaderReader, Line, Pair

_PORTS_IN_NAME = re.compile(r"\.s(\d+)p$", re.IGNORECASE)
NOISE_COLUMNS = 5
PEAK_OVER_FLOOR, PEAK_AT_LEAST, SHALLOWEST_MATCH = 2.5, 1e-3, 0.7
"""A two-port sweep is one from probe to probe where its transmission has a peak that stands out of the rest, while
the port itself stays far from a match."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Touchstone:
    """What stands in a file: `s` (n, ports, ports) to `references` [ohm], and the line of each row."""

    source: str
    frequency: FloatArray
    s: ComplexArray
    references: tuple[float, ...]
    lines: tuple[int, ...]

    def reflection(self) -> Sweep:
        """The sweep of port 1."""
        return self._sweep(SweepKind.REFLECTION, self.s[:, 0, 0])

    def transmission(self) -> Sweep:
        """The sweep from port 1 to port 2."""
        return self._sweep(SweepKind.TRANSMISSION, self.s[:, 1, 0])

    def is_between_probes(self) -> bool:
        """Whether two weakly coupled probes were swept and not one port."""
        if self.s.shape[1] < MOST_PORTS:
            return False
        through, port = abs(self.s[:, 1, 0]), abs(self.s[:, 0, 0])
        stands_out = through.max() > PEAK_AT_LEAST and through.max() > PEAK_OVER_FLOOR * np.median(through)
        return bool(stands_out and port.min() > SHALLOWEST_MATCH * np.median(port))

    def _sweep(self, kind: SweepKind, response: ComplexArray) -> Sweep:
        sweep = Sweep(
            source=self.source,
            kind=kind,
            frequency=self.frequency,
            response=response,
            reference=self.references[0],
        )
        return checked_sweep(sweep, self.lines)


@np.errstate(over="ignore", invalid="ignore")  # what overflows is refused as too large
def parse_touchstone(content: bytes, *, source: str) -> Touchstone:
    """Read a file's bytes; `source` is its name, whose ending tells the number of ports.

    Raises
    ------
    SweepFileError
        If anything in it is not as the specification says.
    """
    named = _PORTS_IN_NAME.search(source)
    ports = int(named[1]) if named else None
    if ports is not None and not 1 <= ports <= MOST_PORTS:
        raise SweepFileError(
            source, 1, f"{ports} ports are not read; export one or two ports of the analyser"
        )
    lines = _lines(content, source)
    reader = HeaderReader(source, ports)
    first = _read_header(reader, lines)
    header = reader.header
    where, rows = _read_rows(header, itertools.chain([first], lines), source)
    _check_count(header, where, source, first=first[0])
    table = np.array(rows)
    s = _scattering(header, table, source=source, lines=where)
    return Touchstone(
        source=source,
        frequency=table[:, 0] * header.unit,
        s=s,
        references=tuple(_references(header)),
        lines=tuple(where),
    )


def _lines(content: bytes, source: str) -> Iterator[Line]:
    """Number and text of each line that holds more than a comment."""
    for number, line in enumerate(text_lines(content, source), start=1):
        text = line.partition("!")[0].strip()
        if text:
            yield number, text


def _read_header(reader: HeaderReader, lines: Iterator[Line]) -> Line:
    """Everything above the data; the first line of data is returned."""
    header, after_reference, inside_information, number = reader.header, False, False, 1
    for number, text in lines:
        if inside_information or text.casefold().startswith("[begin information]"):
            inside_information = not text.casefold().startswith("[end information]")
        elif text.startswith("#"):
            reader.options(number, text)
        elif text.casefold().startswith("[network data]"):
            if text[len("[network data]") :]:
                raise reader.refuse(
                    number, "the data begin on the line after [Network Data]; move them there"
                )
            following = next(lines, None)
            if following is None:
                break
            return _checked_header(reader, following)
        elif text.startswith("["):
            if not header.is_version_2 and not text.casefold().startswith("[version]"):
                raise reader.refuse(
                    number, "keywords belong to version 2; write [Version] 2.0 as the first of them"
                )
            reader.keyword(number, text)
            after_reference = text.casefold().startswith("[reference]")
        elif after_reference and len(header.references) < (header.ports or 1):
            reader.more_references(number, text)
        else:
            return _checked_header(reader, (number, text))
    raise reader.refuse(number, "there are no data rows; save the sweep again")


def _checked_header(reader: HeaderReader, first: Line) -> Line:
    header = reader.header
    number, text = first
    if not header.has_options:
        raise reader.refuse(
            number,
            "there is no option line above the data; write what the columns are, as in # MHz S RI R 50",
        )
    if header.ports is None:
        width = len(text.split())
        if header.is_version_2:
            raise reader.refuse(
                number, "the number of ports is missing; write [Number of Ports] 1 above the data"
            )
        header.ports = {3: 1, 9: 2}.get(width)
        if header.ports is None:
            raise reader.refuse(
                number, f"{width} columns are no sweep of one port (3) or two (9); export it again"
            )
    if header.is_version_2 and header.frequencies is None:
        raise reader.refuse(
            number, "the number of frequencies is missing; write [Number of Frequencies] above the data"
        )
    if header.is_version_2 and header.ports == 2 and header.rises_by_row is None:
        raise reader.refuse(
            number, "the order of the columns is missing; write [Two-Port Data Order] 21_12 or 12_21"
        )
    if len(header.references) not in {1, header.ports}:
        raise reader.refuse(
            number,
            f"there are {len(header.references)} reference resistances for {header.ports} ports; write one a port",
        )
    return first


def _read_rows(header: Header, lines: Iterator[Line], source: str) -> tuple[list[int], list[list[float]]]:
    """Lines and numbers of the data rows."""
    where: list[int] = []
    rows: list[list[float]] = []
    for number, text in lines:
        if text.startswith("["):
            if text.casefold().startswith(("[end]", "[noise data]")):
                break
            raise SweepFileError(source, number, "a keyword stands between the data rows; move it above them")
        if text.startswith("#"):
            continue  # the specification ignores option lines after the first
        row = numbers(text.split(), source=source, line=number)
        if _is_noise(header, row, rows):
            break
        if len(row) != header.columns:
            raise SweepFileError(
                source,
                number,
                f"the row has {len(row)} columns, {header.ports}-port data has {header.columns}; complete or delete it",
            )
        where.append(number)
        rows.append(row)
    return where, rows


def _is_noise(header: Header, row: list[float], rows: list[list[float]]) -> bool:
    """Version 1 puts noise data after a two-port's network data and tells it by a frequency that does not rise."""
    return (
        header.ports == 2
        and not header.is_version_2
        and bool(rows)
        and len(row) == NOISE_COLUMNS
        and row[0] <= rows[-1][0]
    )


def _check_count(header: Header, where: list[int], source: str, *, first: int) -> None:
    if not where:
        raise SweepFileError(source, first, "there are no data rows from here on; save the sweep again")
    if header.frequencies is not None and header.frequencies != len(where):
        raise SweepFileError(
            source,
            where[-1],
            f"{header.frequencies} frequencies are announced and {len(where)} stand there; the file is cut short or "
            f"edited, so export the sweep again",
        )


def _references(header: Header) -> list[float]:
    ports = header.ports or 1
    return header.references if len(header.references) == ports else header.references * ports


def _scattering(header: Header, table: FloatArray, *, source: str, lines: list[int]) -> ComplexArray:
    """The matrix (n, ports, ports) to the header's references."""
    values = _complex(header.pair, table[:, 1::2], table[:, 2::2], source=source, lines=lines)
    matrix = _matrix(header, values)
    if header.parameter == "S":
        return matrix
    # Version 1 has Z/R and Y R, version 2 ohms and siemens.
    scale = 1.0 if header.is_version_2 else header.references[0]
    try:
        z = matrix * scale if header.parameter == "Z" else np.linalg.inv(matrix / scale)
        return z_to_s(z, reference=_references(header))
    except np.linalg.LinAlgError:
        raise SweepFileError(
            source,
            lines[0],
            f"the {header.parameter} parameters have no S parameters; export the sweep as S parameters",
        ) from None


def _complex(
    pair: Pair, first: FloatArray, second: FloatArray, *, source: str, lines: list[int]
) -> ComplexArray:
    if pair is Pair.REAL_IMAGINARY:
        return np.asarray(first + 1j * second)
    if pair is Pair.DECIBEL_ANGLE:
        first = 10.0 ** (first / 20.0)
    negative = np.flatnonzero((first < 0.0).any(axis=1))
    if len(negative):
        raise SweepFileError(
            source, lines[negative[0]], "a magnitude is below 0; check whether the columns are RI, MA or DB"
        )
    return np.asarray(first * np.exp(1j * np.deg2rad(second)))


def _matrix(header: Header, values: ComplexArray) -> ComplexArray:
    """The columns (n, entries) put where they belong."""
    if header.ports == 1:
        return np.asarray(values[:, :, None])
    if header.matrix == "full":
        square = values.reshape(-1, 2, 2)
        return square if header.rises_by_row else square.transpose(0, 2, 1)
    # Symmetric: 11 21 22 below the diagonal, 11 12 22 above it, the same places in the row.
    return np.asarray(values[:, [0, 1, 1, 2]].reshape(-1, 2, 2))
