# SPDX-License-Identifier: BSD-3-Clause
"""At what voltage air breaks down between smooth, parallel metal plates.

The figures are those of a uniform field, direct current or power frequency, clean metal. A real capacitor stands less:
its edges concentrate the field, dust bridges it, and at some megahertz the ions of one half-wave are still there in
the next. Those allowances are trade practice, not physics, and are made where a capacitor is judged.
"""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, finite, positive

SHORTEST_GAP, LONGEST_GAP = 1e-4, 0.2
"""Gaps, times the relative air density, for which the law of `uniform_gap_breakdown` was found. [m]"""
LOWEST_ALTITUDE, HIGHEST_ALTITUDE = -1000.0, 11_000.0
"""Of the lowest layer of the standard atmosphere. [m]"""

_FIELD = 24.22e5  # V/m: 24.22 kV/cm, the field at which air just multiplies electrons
_ROOT = 6.08e4  # V/m^(1/2): 6.08 kV/cm^(1/2)


def uniform_gap_breakdown(gap: ArrayLike, *, air_density: ArrayLike = 1.0) -> FloatArray:
    r"""Peak voltage at which air in a uniform field breaks down.

    .. math:: U = 24.22 \, \delta d + 6.08 \sqrt{\delta d} \quad \text{[kV, d in cm]}

    Parameters
    ----------
    gap : array_like of float, shape (...)
        Distance d of the plates; times the air density 0.1 mm to 200 mm. [m]
    air_density : array_like of float, shape (...)
        Density of the air over that at 20 degrees C and 101.3 kPa, > 0, as from `air_density`. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Breakdown voltage, peak. [V]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or gap times air density is outside 0.1 mm to 200 mm.

    Notes
    -----
    Other constants fitted to the same law in print read 7 % higher at 0.5 mm and 4 % at 10 mm; these are the lower.
    Gaps below 0.1 mm are refused: towards 7.5 um the voltage tends to Paschen's minimum, 327 V, below which no gap in
    air at this pressure breaks down, and the law falls beneath it. Humidity is not in it: a sphere gap stands 0.2 %
    more for each gram of water in a cubic metre above 8.5 g (IEC 60052:2002, from memory), so that bone-dry air
    stands 1.7 % less and a tropical 25 g/m3 3 % more.

    References
    ----------
    .. [1] E. Kuffel, W. S. Zaengl, J. Kuffel, High Voltage Engineering: Fundamentals, 2nd ed., Newnes, 2000, ch. 5
           (from memory), after W. O. Schumann, Elektrische Durchbruchfeldstaerke von Gasen, Springer, 1923.
    """
    effective = positive("gap", gap) * positive("air_density", air_density)
    if np.any(effective < SHORTEST_GAP):
        raise OutOfRangeError(
            f"a gap of {np.min(effective) * 1e3:.4g} mm (times air density) is shorter than 0.1 mm, where breakdown "
            "follows Paschen's curve and not this law; open the plates further or use a solid dielectric"
        )
    if np.any(effective > LONGEST_GAP):
        raise OutOfRangeError(
            f"a gap of {np.max(effective) * 1e3:.4g} mm (times air density) is longer than the 200 mm this law was "
            "found for; no field that long is uniform, have it tested"
        )
    return np.asarray(_FIELD * effective + _ROOT * np.sqrt(effective))


def air_density(altitude: ArrayLike, *, temperature_c: ArrayLike = 20.0) -> FloatArray:
    r"""Density of the air over that at 20 degrees C and 101.3 kPa, from altitude and temperature.

    .. math::

        \delta = \frac{p(h)}{101.3\,\text{kPa}} \cdot \frac{293}{273 + t}, \quad
        p(h) = 101.325\,\text{kPa} \left(1 - \frac{6.5\,\text{K/km}\; h}{288.15\,\text{K}}\right)^{5.25588}

    Parameters
    ----------
    altitude : array_like of float, shape (...)
        Height h above sea level, -1000 m to 11 000 m. [m]
    temperature_c : array_like of float, shape (...)
        Temperature t of the air in the gap, -60 to 150. [deg C]

    Returns
    -------
    ndarray of float64, shape (...)
        Relative air density; 1.0002 at sea level and 20 degrees C, 0.887 at 1000 m. [1]

    Raises
    ------
    OutOfRangeError
        If an input is not finite or outside its range.

    Notes
    -----
    Pressure of the standard atmosphere, density of [1]_. Weather moves the pressure by about 4 % either way, and with
    it the breakdown voltage.

    References
    ----------
    .. [1] IEC 60060-1:2010, High-voltage test techniques, atmospheric correction factors (from memory).
    .. [2] ICAO Doc 7488, Manual of the ICAO Standard Atmosphere, 3rd ed., 1993: 288.15 K, 101 325 Pa, 6.5 K/km.
    """
    height, celsius = finite("altitude", altitude), finite("temperature_c", temperature_c)
    if np.any((height < LOWEST_ALTITUDE) | (height > HIGHEST_ALTITUDE)):
        raise OutOfRangeError(f"altitude must be from -1000 m to 11000 m, got {height} m")
    if np.any((celsius < -60.0) | (celsius > 150.0)):
        raise OutOfRangeError(f"temperature_c must be from -60 to 150 degrees C, got {celsius}")
    pressure = 101_325.0 * (1.0 - 6.5e-3 * height / 288.15) ** 5.255_88
    return np.asarray(pressure / 101_300.0 * 293.0 / (273.0 + celsius))
