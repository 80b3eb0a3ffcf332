# SPDX-License-Identifier: BSD-3-Clause
"""Quantities as people write them ("22 mm", "7/8 in", "AWG 12") and as the program counts them (SI floats).

Strict on purpose: a length without a unit, a comma for the decimal point or "7.1 mhz" is refused with a sentence,
because a loop built 25.4 times too small costs more than a corrected line. Units that SI does not have stay as they
are: temperature counts in degrees Celsius, loss in decibels, travel in turns, rotation in turns per minute.
"""

import math
import re
from collections.abc import Mapping
from decimal import Decimal, DecimalException

from ringwright.errors import QuantityError

_D = Decimal
_DEGREE = _D("0.01745329251994329576923690768489")  # pi/180

# Unit -> factor to the dimension's first unit. Both micro signs (U+00B5, U+03BC) and both ohm signs (U+03A9, U+2126)
# are in use. Inch, pound: exact by the international agreement of 1959.
_DIMENSIONS: Mapping[str, Mapping[str, Decimal]] = {
    "length": {"m": _D(1), "mm": _D("1e-3"), "cm": _D("1e-2"), "km": _D("1e3"), "um": _D("1e-6"), "µm": _D("1e-6"),
               "μm": _D("1e-6"), "in": _D("0.0254"), "ft": _D("0.3048")},
    "frequency": {"Hz": _D(1), "kHz": _D("1e3"), "MHz": _D("1e6"), "GHz": _D("1e9")},
    "capacitance": {"F": _D(1), "pF": _D("1e-12"), "nF": _D("1e-9"), "uF": _D("1e-6"), "µF": _D("1e-6"),
                    "μF": _D("1e-6")},
    "inductance": {"H": _D(1), "nH": _D("1e-9"), "uH": _D("1e-6"), "µH": _D("1e-6"), "μH": _D("1e-6"),
                   "mH": _D("1e-3")},
    "resistance": {prefix + ohm: factor
                   for prefix, factor in {"": _D(1), "m": _D("1e-3"), "k": _D("1e3"), "M": _D("1e6")}.items()
                   for ohm in ("ohm", "Ω", "\N{OHM SIGN}")},
    "power": {"W": _D(1), "mW": _D("1e-3"), "kW": _D("1e3")},
    "voltage": {"V": _D(1), "mV": _D("1e-3"), "kV": _D("1e3")},
    "current": {"A": _D(1), "mA": _D("1e-3"), "kA": _D("1e3")},
    "conductivity": {"S/m": _D(1), "mS/m": _D("1e-3"), "MS/m": _D("1e6")},
    "angle": {"rad": _D(1), "deg": _DEGREE, "°": _DEGREE},
    "temperature": {"degC": _D(1), "°C": _D(1), "degF": _D(5) / _D(9), "°F": _D(5) / _D(9)},
    "loss": {"dB": _D(1)},
    "time": {"s": _D(1), "ms": _D("1e-3"), "us": _D("1e-6"), "µs": _D("1e-6"), "μs": _D("1e-6"), "min": _D(60),
             "h": _D(3600)},
    "mass": {"kg": _D(1), "g": _D("1e-3"), "lb": _D("0.45359237")},
    "force": {"N": _D(1), "kN": _D("1e3")},
    "travel": {"turns": _D(1), "turn": _D(1)},
    "torque": {"Nm": _D(1), "mNm": _D("1e-3"), "Ncm": _D("1e-2")},
    "torsional stiffness": {"Nm/rad": _D(1), "Nm/deg": 1 / _DEGREE},
    "speed": {"m/s": _D(1), "km/h": _D(1) / _D("3.6"), "mph": _D("0.44704"), "kn": _D(1852) / _D(3600)},
    "speed of rotation": {"rpm": _D(1)},
    "stepping rate": {"steps/s": _D(1)},
}  # fmt: skip
_ZERO_AT: Mapping[str, Decimal] = {"degF": _D(32), "°F": _D(32)}
"""What a unit counts at the zero of its dimension's first unit, where that is not zero: NIST SP 811, app. B.8."""
_AT_ZERO = _D(0)
_IMPERIAL = frozenset({"in", "ft", "lb", "mph", "degF", "°F"})
_DIMENSION_OF = {unit: name for name, units in _DIMENSIONS.items() for unit in units}

_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
_QUANTITY = re.compile(rf"\s*(?P<number>{_NUMBER})\s*(?P<unit>[^\s\d.,+-][^\s\d]*)?\s*", re.ASCII)
_FRACTION = re.compile(
    r"\s*(?:(?P<whole>\d+)\s+)?(?P<over>\d+)/(?P<under>\d+)\s*(?P<unit>in|ft)\s*", re.ASCII
)
_GAUGE = re.compile(r"\s*AWG\s+(?P<gauge>0{1,4}|[1-9]\d?)\s*", re.ASCII)
_FINEST_GAUGE = 56
_LONGEST = 64  # characters; nothing a person writes as one quantity is longer


def to_si(text: str, unit: str) -> float:
    """Read one quantity of the same dimension as `unit` and return it in SI (degC, dB and turns as they are)."""
    return read_quantity(text, unit)[0]


def read_quantity(text: str, *units: str) -> tuple[float, str]:
    """Read a quantity of the dimension of any of `units`; return its SI value and the one of `units` it fits."""
    if len(text) > _LONGEST:
        raise QuantityError(f"{shown(text)} is too long for {_wanted(units)}")
    if "length" in map(_dimension, units) and (length := _odd_length(text)) is not None:
        return length, next(u for u in units if _dimension(u) == "length")
    match = _QUANTITY.fullmatch(text)
    if match is None:
        raise QuantityError(_unreadable(text, units))
    number, written = match["number"], match["unit"]
    if written is None:
        raise QuantityError(f"{shown(text)} has no unit; {_example(number, units)}")
    for unit in units:
        factor = _DIMENSIONS[_dimension(unit)].get(written)
        if factor is not None:
            return _scaled(text, number, factor, zero_at=_ZERO_AT.get(written, _AT_ZERO)), unit
    raise QuantityError(_wrong_unit(match, units))


def format_quantity(value: float, unit: str, *, digits: int = 15) -> str:
    """Write an SI value in `unit`; the default number of digits is all that a double is sure of."""
    if not math.isfinite(value):
        raise QuantityError(f"{value!r} {unit} is not a finite number")
    factor = _DIMENSIONS[_dimension(unit)][unit]
    number = f"{float(_D(repr(float(value))) / factor + _ZERO_AT.get(unit, _AT_ZERO)):.{digits}g}"
    return (
        f"{float(number):.0f} {unit}" if "e+" in number and abs(float(number)) < 1e9 else f"{number} {unit}"
    )


def imperial_unit(text: object) -> str | None:
    """The unit that a person wrote a quantity in, if it is an imperial one: "42 1/2 in" has "in"."""
    written = re.search(r"\d\s*([^\s\d]+)\s*$", text) if isinstance(text, str) else None
    return written[1] if written is not None and written[1] in _IMPERIAL else None


def shown(value: object) -> str:
    """A value as an error sentence quotes it: short, in double quotes if it is text, never over several lines."""
    if isinstance(value, bool):
        return str(value).lower()
    if not isinstance(value, str):
        return repr(value) if len(repr(value)) <= 40 else repr(value)[:37] + "..."
    escaped = "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in value[:41])
    return f'"{escaped}"' if len(value) <= 40 else f'"{escaped[:37]}..."'


def _scaled(text: str, number: str, factor: Decimal, *, zero_at: Decimal = _AT_ZERO) -> float:
    # Decimal scaling is correctly rounded: "7.1 MHz" is 7.1e6, not its neighbour.
    try:
        exact = (_D(number) - zero_at) * factor
        value = float(exact)
    except DecimalException:
        value, exact = math.inf, _D(0)
    if not math.isfinite(value) or (value == 0.0 and exact != 0):
        raise QuantityError(
            f"{shown(text)} is outside the numbers a computer can hold; write a smaller exponent"
        )
    return value


def _odd_length(text: str) -> float | None:
    """Lengths that are no plain number: wire gauge, and fractions of inch and foot. [m]"""
    if match := _GAUGE.fullmatch(text):
        written = match["gauge"]
        gauge = 1 - len(written) if written.startswith("0") else int(written)
        if gauge > _FINEST_GAUGE:
            raise QuantityError(f"{shown(text)} is no gauge; they run from AWG 0000 to AWG {_FINEST_GAUGE}")
        return float(0.005 * 0.0254 * 92.0 ** ((36 - gauge) / 39))  # ASTM B258, explanatory note 1
    if match := _FRACTION.fullmatch(text):
        over, under = int(match["over"]), int(match["under"])
        if under == 0:
            raise QuantityError(f'{shown(text)} divides by zero; write a fraction such as "7/8 in"')
        number = _D(int(match["whole"] or 0)) + _D(over) / _D(under)
        return _scaled(text, str(number), _DIMENSIONS["length"][match["unit"]])
    return None


def _dimension(unit: str) -> str:
    try:
        return _DIMENSION_OF[unit]
    except KeyError:
        raise QuantityError(f"the program knows no unit {shown(unit)}") from None


def _wanted(units: tuple[str, ...]) -> str:
    names = " or ".join(_dimension(unit) for unit in units)
    return f"{'an' if names[0] in 'aei' else 'a'} {names}"


_RATHER_MEGA = 100.0
"""Below so many hertz a bare number of a frequency was meant in megahertz."""


def _example(number: str, units: tuple[str, ...]) -> str:
    meant = ("MHz" if unit == "Hz" and abs(float(number)) < _RATHER_MEGA else unit for unit in units)
    return "write " + " or ".join(f'"{number} {unit}"' for unit in meant)


def _unreadable(text: str, units: tuple[str, ...]) -> str:
    if re.search(r"\d,\d", text):
        point = re.sub(r"(\d),(\d)", r"\1.\2", text, count=1)
        return f"{shown(text)} has a comma; write the decimal sign as a point, {shown(point)}"
    if re.search(r"\bnan\b|\binf", text, re.IGNORECASE):
        return f"{shown(text)} is not a finite number; write {_wanted(units)} as a number with a unit"
    return f'{shown(text)} does not read as {_wanted(units)}; write one number and its unit, as in "1.5 {units[0]}"'


def _wrong_unit(match: re.Match[str], units: tuple[str, ...]) -> str:
    text, number, written = match.string, match["number"], match["unit"]
    if written == "AWG" and "length" in map(_dimension, units):
        return f'{shown(text)} puts the gauge first; write "AWG {number}"'
    if written.startswith("dB") and "power" in map(_dimension, units):
        return f'{shown(text)} is a level; write the power in watts, as in "25 W"'
    if written in _DIMENSION_OF:
        other = _DIMENSION_OF[written]
        return f"{shown(text)} is {'an' if other[0] in 'ai' else 'a'} {other}, but {_wanted(units)} is needed"
    known = [name for unit in units for name in _DIMENSIONS[_dimension(unit)] if name.isascii()]
    close = [name for name in known if name.casefold() == written.casefold()]
    if close:
        return f"{shown(text)} has the unit {shown(written)}; did you mean {' or '.join(map(shown, close))}?"
    return f"{shown(text)} has the unit {shown(written)}; {_wanted(units)} takes {', '.join(known)}"
