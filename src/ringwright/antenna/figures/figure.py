# SPDX-License-Identifier: BSD-3-Clause
"""What is said about one figure, and how its value is written for people."""

import math
from dataclasses import dataclass
from functools import cache
from operator import attrgetter
from typing import Any

_SI_SUFFIXES = ("_hz", "_m", "_ohm", "_w", "_v", "_a", "_f", "_h", "_k", "_s", "_nm", "_kg", "_n", "_pa")
DECIBELS_PER_S_POINT = 6.0
LEAST_COST = 0.05  # decibels; below it a figure with one decimal says 0.0
_FIXED = ("dBi", "deg")  # their zero is arbitrary: digits count after the point


@dataclass(frozen=True, slots=True)
class Scale:
    """Unit of the value (SI where it has one, "" for words, "1" for plain numbers), and the unit people read it in.

    `least` is the smallest size worth a number, in the shown unit: what is less is only said to be less.
    """

    unit: str
    shown_unit: str
    factor: float
    least: float = 0.0


WORD = Scale("", "", 1.0)
NUMBER = Scale("1", "", 1.0)
PER_CENT = Scale("%", "%", 1.0, least=0.01)
PICOFARAD = Scale("F", "pF", 1e12)
MEGAHERTZ = Scale("Hz", "MHz", 1e-6)
KILOHERTZ = Scale("Hz", "kHz", 1e-3)
HERTZ = Scale("Hz", "Hz", 1.0)
KILOVOLT = Scale("V", "kV", 1e-3)
AMPERE = Scale("A", "A", 1.0)
WATT = Scale("W", "W", 1.0, least=0.001)
MILLIOHM = Scale("ohm", "mΩ", 1e3, least=0.001)
MICROHENRY = Scale("H", "µH", 1e6)
NANOHENRY = Scale("H", "nH", 1e9)
KELVIN = Scale("K", "K", 1.0)
MILLIMETRE = Scale("m", "mm", 1e3)
DBI = Scale("dBi", "dBi", 1.0)
DECIBEL = Scale("dB", "dB", 1.0)
DEGREE = Scale("deg", "deg", 1.0)
DEGREE_OF_TURN = Scale("deg", "deg of turn", 1.0)
SECOND = Scale("s", "s", 1.0)
NEWTON_METRE = Scale("N m", "N m", 1.0)


MOVED_BY = 0.4
"""Of a range: rounding may move an end by no more where another digit prevents it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One row of the table of figures.

    `key` is the dotted path below a band of the prediction document. `inputs` are keys of other figures, or keys and
    tables of the design file. `digits` are significant ones, after the point for decibels and degrees. `limit` is
    the length of one turn in wavelengths up to which a closed form holds, None for what has no such limit.
    """

    key: str
    label: str
    scale: Scale
    digits: int
    definition: str
    formula: str
    inputs: tuple[str, ...]
    source: str
    validity: str
    limit: float | None = None

    @property
    def attribute(self) -> str:
        """Path of the same value below a `BandPrediction`: the key less the SI suffixes."""
        return _attribute_of(self.key)

    def of(self, band: object) -> Any:
        """The value in a `BandPrediction`: float, bool, str, or None where it cannot be had."""
        return None if self.is_left_out(band) else attrgetter(self.attribute)(band)

    def is_left_out(self, band: object) -> bool:
        """Whether its group is none as a whole, as the drive's is without a drive."""
        group, _, name = self.attribute.partition(".")
        return bool(name) and getattr(band, group) is None

    def text(self, value: float | bool | str | None) -> str:
        """The value with its unit as people read it, "none" where it cannot be had."""
        if value is None:
            return "none"
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, str):
            return value
        number = value * self.scale.factor
        if 0.0 < abs(number) < self.scale.least:
            return f"< {self.scale.least:g} {self.scale.shown_unit}"
        is_fixed = self.scale.shown_unit in _FIXED
        written = f"{number:.{self.digits}f}" if is_fixed else significant(number, self.digits)
        return f"{written} {self.scale.shown_unit}".rstrip()

    def span(self, low: float, high: float) -> str | None:
        """Ends of a range without the unit, in as few digits as tell them apart; None where the figure's do not.

        Ends that rounding would move by much of the range get a digit more: 969 to 1027 is no "970-1000".
        """
        ends = low * self.scale.factor, high * self.scale.factor
        is_fixed = self.scale.shown_unit in _FIXED
        fewest = None
        for digits in range(1 if is_fixed else 2, self.digits + 1):
            first, last = (f"{end:.{digits}f}" if is_fixed else significant(end, digits) for end in ends)
            if first == last:
                continue
            written = f"{first} to {last}" if ends[0] < 0.0 else f"{first}-{last}"
            if max(abs(float(first) - ends[0]), abs(float(last) - ends[1])) <= MOVED_BY * (ends[1] - ends[0]):
                return written
            fewest = fewest or written
        return fewest


def significant(value: float, digits: int) -> str:
    """A number with so many significant digits, without an exponent from 0.0001 on."""
    rounded = float(f"{value:.{digits - 1}e}")
    if rounded == 0.0:
        return "0"
    exponent = math.floor(math.log10(abs(rounded)))
    if exponent < -4:
        return f"{rounded:.{digits - 1}e}"
    return f"{rounded:.{max(digits - 1 - exponent, 0)}f}"


def in_decibels(per_cent: float) -> str:
    """A share of power in decibels, and in S-points of 6 dB (IARU Region 1 Technical Recommendation R.1)."""
    if per_cent <= 0.0:
        return "no power at all"
    decibels = 10.0 * math.log10(per_cent / 100.0)
    return f"{decibels:.1f} dB or {decibels / DECIBELS_PER_S_POINT:.1f} S-points"


def cost_in_decibels(per_cent: float) -> str | None:
    """What the sky would gain if this share alone were not lost: 1/(1 - share), in decibels and S-points.

    None where it rounds to nothing.
    """
    left = 1.0 - per_cent / 100.0
    if left <= 0.0:
        return "all"
    decibels = 10.0 * math.log10(1.0 / left)
    if decibels < LEAST_COST:
        return None
    return f"{decibels:.1f} dB or {decibels / DECIBELS_PER_S_POINT:.1f} S-points"


@cache
def _attribute_of(key: str) -> str:
    return ".".join(_less_suffix(part) for part in key.split("."))


def _less_suffix(part: str) -> str:
    for suffix in _SI_SUFFIXES:
        if part.endswith(suffix):
            return part.removesuffix(suffix)
    return part
