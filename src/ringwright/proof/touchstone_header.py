# SPDX-License-Identifier: BSD-3-Clause
"""What a Touchstone file says about its numbers: the option line, and the keywords of version 2.

Touchstone File Format Specification, versions 1.1 (2002) and 2.0 (2009), IBIS Open Forum.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from enum import Enum

from ringwright.errors import SweepFileError
from ringwright.proof.file_text import numbers
from ringwright.units import shown

UNITS = {"HZ": 1.0, "KHZ": 1e3, "MHZ": 1e6, "GHZ": 1e9}
PARAMETERS = ("S", "Z", "Y")
UNREAD_PARAMETERS = ("H", "G")
MOST_PORTS = 2
_IGNORED_KEYWORDS = ("number of noise frequencies",)


class Pair(Enum):
    """How two columns make one complex number; angles are in degrees."""

    REAL_IMAGINARY = "RI"
    MAGNITUDE_ANGLE = "MA"
    DECIBEL_ANGLE = "DB"


@dataclass(slots=True, kw_only=True)
class Header:
    """Filled line by line; the defaults are those of the specification.

    `references` [ohm], one or one a port; `is_version_2` files hold Z and Y in ohms and siemens, older ones over the
    reference. `matrix` is Full, Lower or Upper. `rises_by_row` of a two-port: 11 12 21 22, else 11 21 12 22.
    """

    ports: int | None
    unit: float = UNITS["GHZ"]
    parameter: str = "S"
    pair: Pair = Pair.MAGNITUDE_ANGLE
    references: list[float] = field(default_factory=lambda: [50.0])
    has_options: bool = False
    is_version_2: bool = False
    frequencies: int | None = None
    matrix: str = "full"
    rises_by_row: bool | None = None

    @property
    def columns(self) -> int:
        """Numbers in a row, frequency included."""
        ports = self.ports or 1
        entries = ports * ports if self.matrix == "full" else ports * (ports + 1) // 2
        return 1 + 2 * entries


Line = tuple[int, str]


class HeaderReader:
    """Takes the lines above the data, one at a time."""

    def __init__(self, source: str, ports: int | None) -> None:
        self.header = Header(ports=ports)
        self._source, self._ports_by_name = source, ports

    def refuse(self, line: int, reason: str) -> SweepFileError:
        return SweepFileError(self._source, line, reason)

    def options(self, number: int, text: str) -> None:
        """The line that starts with #; the specification ignores any after the first."""
        if self.header.has_options:
            return
        self.header.has_options = True
        words = iter(text[1:].upper().split())
        seen: set[str] = set()
        for word in words:
            kind = self._option(number, word, words)
            if kind in seen:
                raise self.refuse(
                    number, f"the option line names the {kind} twice; keep one, as in # MHz S RI R 50"
                )
            seen.add(kind)

    def _option(self, number: int, word: str, rest: Iterator[str]) -> str:
        header = self.header
        if word in UNITS:
            header.unit = UNITS[word]
            return "unit"
        if word in PARAMETERS:
            header.parameter = word
            return "parameter"
        if word in UNREAD_PARAMETERS:
            raise self.refuse(
                number,
                f"{word} parameters are not read; export the sweep as S parameters, as in # MHz S RI R 50",
            )
        if word in {pair.value for pair in Pair}:
            header.pair = Pair(word)
            return "format"
        if word == "R":
            header.references = self._references(number, list(rest))
            return "reference"
        raise self.refuse(
            number,
            f"the option line has {shown(word)}, which is no unit, parameter or format; write # MHz S RI R 50",
        )

    def _references(self, number: int, words: list[str]) -> list[float]:
        values = numbers(words, source=self._source, line=number) if words else []
        if not values or min(values) <= 0.0:
            raise self.refuse(
                number, "the reference resistance must be a number above 0; write it as in R 50"
            )
        return values

    def keyword(self, number: int, text: str) -> None:
        """One line of the form [Keyword] value."""
        name, _, value = text[1:].partition("]")
        name, value = name.strip().casefold(), value.strip()
        handlers: dict[str, Callable[[int, str], None]] = {
            "version": self._version,
            "number of ports": self._number_of_ports,
            "two-port data order": self._data_order,
            "number of frequencies": self._number_of_frequencies,
            "reference": self.reference,
            "matrix format": self._matrix_format,
        }
        if name == "mixed-mode order":
            raise self.refuse(
                number, "mixed-mode data is not read; export the sweep as single-ended S parameters"
            )
        if name in handlers:
            handlers[name](number, value)
        elif name not in _IGNORED_KEYWORDS:
            raise self.refuse(
                number,
                f"{shown('[' + name + ']')} is no keyword of Touchstone 2; delete the line or correct it",
            )

    def _version(self, number: int, value: str) -> None:
        if value not in {"2.0", "2.1"}:
            raise self.refuse(
                number, f"version {shown(value)} is not read; export the sweep as Touchstone 1 or 2.0"
            )
        self.header.is_version_2 = True

    def _count(self, number: int, value: str, what: str) -> int:
        if not (value.isascii() and value.isdigit() and int(value[:9]) > 0):
            raise self.refuse(number, f"{shown(value)} is no number of {what}; write a whole number above 0")
        return int(value[:9])

    def _number_of_ports(self, number: int, value: str) -> None:
        ports = self._count(number, value, "ports")
        named = self._ports_by_name
        if named is not None and ports != named:
            raise self.refuse(
                number,
                f"the file says {ports} ports and its name says {named}; rename it to .s{ports}p or export again",
            )
        if ports > MOST_PORTS:
            raise self.refuse(number, f"{ports} ports are not read; export one or two ports of the analyser")
        self.header.ports = ports

    def _data_order(self, number: int, value: str) -> None:
        if value not in {"12_21", "21_12"}:
            raise self.refuse(number, f"two-port data order {shown(value)} is none; write 21_12 or 12_21")
        self.header.rises_by_row = value == "12_21"

    def _number_of_frequencies(self, number: int, value: str) -> None:
        self.header.frequencies = self._count(number, value, "frequencies")

    def reference(self, number: int, value: str) -> None:
        """The resistances after [Reference]; more may follow on lines of their own."""
        self.header.references = self._references(number, value.split()) if value else []

    def more_references(self, number: int, text: str) -> None:
        self.header.references += self._references(number, text.split())

    def _matrix_format(self, number: int, value: str) -> None:
        if value.casefold() not in {"full", "lower", "upper"}:
            raise self.refuse(number, f"matrix format {shown(value)} is none; write Full, Lower or Upper")
        self.header.matrix = value.casefold()
