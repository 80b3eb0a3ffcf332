# SPDX-License-Identifier: BSD-3-Clause
"""Quantities of the workshop as a builder reads them, metric or imperial."""

import math
from dataclasses import dataclass

from ringwright.antenna.figures.figure import significant

_INCH, _POUND, _FOOT = 0.0254, 0.45359237, 0.3048
_POUND_FORCE = _POUND * 9.80665
_FINEST = 32  # parts of an inch on a steel rule
_SAME = 5e-4  # inches that tell two tubes apart: 7/8 in is no 22 mm


@dataclass(frozen=True, slots=True)
class Measures:
    """Which system; every value comes in SI."""

    is_imperial: bool = False

    def length(self, metres: float) -> str:
        """What is marked and sawn: to half a millimetre, or a thirty-second of an inch."""
        if self.is_imperial:
            return f"{_fraction(metres / _INCH)} in"
        return f"{round(metres * 2e3) / 2:g} mm"

    def fine(self, metres: float) -> str:
        """What is bought: tube, walls; to three digits, or a fraction of an inch that it is."""
        if self.is_imperial:
            inches = metres / _INCH
            is_fraction = abs(inches - round(inches * _FINEST) / _FINEST) < _SAME
            return f"{_fraction(inches) if is_fraction and inches > _SAME else significant(inches, 3)} in"
        return f"{float(f'{metres * 1e3:.3g}'):g} mm"

    def at_least(self, metres: float) -> str:
        """What must not be less: rounded up to three digits, or to a thirty-second of an inch."""
        if self.is_imperial:
            return f"{_fraction(math.ceil(metres / _INCH * _FINEST - 1e-9) / _FINEST)} in"
        value = metres * 1e3
        if value <= 0.0:
            return "0 mm"
        step = 10.0 ** (math.floor(math.log10(value)) - 2)
        up = math.ceil(value / step - 1e-9) * step
        return f"{float(f'{up:.3g}'):g} mm"

    def distance(self, metres: float) -> str:
        """Heights and lengths of cable."""
        if not self.is_imperial:
            return f"{metres:.2f} m"
        feet, inches = divmod(round(metres / _INCH), 12)
        return f"{feet} ft {inches} in" if feet else f"{inches} in"

    def mass(self, kilograms: float) -> str:
        """To two or three digits."""
        if self.is_imperial:
            return f"{significant(kilograms / _POUND, 3)} lb"
        return f"{significant(kilograms, 3)} kg"

    def linear_density(self, kilograms_per_metre: float) -> str:
        """Of tube."""
        if self.is_imperial:
            return f"{significant(kilograms_per_metre * _FOOT / _POUND, 3)} lb/ft"
        return f"{significant(kilograms_per_metre, 3)} kg/m"

    def force(self, newtons: float) -> str:
        """Of the wind."""
        return (
            f"{significant(newtons / _POUND_FORCE, 2)} lbf"
            if self.is_imperial
            else f"{significant(newtons, 2)} N"
        )

    def moment(self, newton_metres: float) -> str:
        """About the ground."""
        if self.is_imperial:
            return f"{significant(newton_metres / _POUND_FORCE / _FOOT, 2)} lbf ft"
        return f"{significant(newton_metres, 2)} N m"

    def speed(self, metres_per_second: float) -> str:
        """Of the wind, in the unit of weather reports too."""
        if self.is_imperial:
            return f"{significant(metres_per_second / 0.44704, 2)} mph"
        return f"{significant(metres_per_second, 2)} m/s ({significant(metres_per_second * 3.6, 2)} km/h)"

    def pressure(self, pascals: float) -> str:
        """Of the wind."""
        if self.is_imperial:
            return f"{significant(pascals / _POUND_FORCE * _FOOT**2, 2)} lbf/ft²"
        return f"{significant(pascals, 3)} Pa"

    def stress(self, pascals: float) -> str:
        """In a conductor."""
        if self.is_imperial:
            return f"{significant(pascals / 6894.757, 2)} psi"
        return f"{significant(pascals * 1e-6, 2)} MPa"


def angle(radians: float) -> str:
    """Of a saw cut or a corner."""
    return f"{round(math.degrees(radians) * 10) / 10:g}°"


def minutes(seconds: float) -> str:
    """A time in words."""
    if seconds < 100.0:
        return f"{seconds:.0f} s"
    return f"{significant(seconds / 60.0, 2)} min"


def _fraction(inches: float) -> str:
    whole, parts = divmod(round(inches * _FINEST), _FINEST)
    if parts == 0:
        return str(whole)
    common = math.gcd(parts, _FINEST)
    part = f"{parts // common}/{_FINEST // common}"
    return f"{whole} {part}" if whole else part
