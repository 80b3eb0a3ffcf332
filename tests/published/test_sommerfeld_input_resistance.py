# SPDX-License-Identifier: BSD-3-Clause
r"""Input resistance of point dipoles over earth: Sommerfeld's integrals as Wait and Vogler & Noble use them.

J. R. Wait, Characteristics of antennas over lossy earth, in Collin & Zucker, Antenna Theory part 2, 1969, ch. 23; L. E.
Vogler and J. L. Noble, NBS Monograph 72, 1964 (both from memory: their curves were not at hand). The table was computed
from those integrals by an independent program with other quadrature: resistance over that in free space, Re(1 + F), and
the share of the power that leaves upwards. A small square loop stands for a magnetic dipole, k times its side = 0.01.
"""

import numpy as np
import pytest

from ringwright.physics.constants import ETA_0, MU_0
from ringwright.physics.half_space import PERFECT_EARTH, POTENTIALS, complex_permittivity, wavenumber
from ringwright.physics.half_space.sky import field_over_earth, sky_power
from tests.physics.half_space.by_quadrature import reflected_kernels
from tests.physics.half_space.element_fields import ground_field

X, Y, Z = np.eye(3)
TABLE = [  # frequency, h / wavelength, VED, HED, VMD (loop lies), HMD (loop stands), upward share of HMD and VMD
    (7.1e6, 0.05, 4.0185, 1.5563, 4.3058, 3.6059, 0.2546, 0.0150),
    (7.1e6, 0.10, 2.2678, 0.8713, 1.1932, 1.8592, 0.4088, 0.1366),
    (7.1e6, 0.25, 1.2027, 1.1538, 0.8184, 0.8568, 0.3234, 0.7302),
    (7.1e6, 0.50, 0.9509, 0.9475, 1.0460, 1.0510, 0.5736, 0.8564),
    (14.2e6, 0.05, 3.7559, 1.5655, 4.4881, 3.5565, 0.2449, 0.0136),
    (14.2e6, 0.10, 2.1901, 0.9030, 1.3770, 1.8806, 0.3917, 0.1093),
    (14.2e6, 0.25, 1.1885, 1.1259, 0.8248, 0.8807, 0.3387, 0.6825),
]


def dipole(direction: np.ndarray, height: float, k: float) -> tuple[np.ndarray, np.ndarray, float]:
    """Place, moment and free-space power of an element of 1 A m."""
    return np.array([[0.0, 0.0, height]]), direction[None] + 0j, ETA_0 * k**2 / (6.0 * np.pi)


def loop(normal: np.ndarray, height: float, k: float) -> tuple[np.ndarray, np.ndarray, float]:
    """Middles and moments of the sides of a square loop of 1 A, and its power in free space."""
    side = 0.01 / k
    u, v = np.roll(normal, 1), np.roll(normal, 2)
    middles = np.array([-v, u, v, -u]) * side / 2.0 + height * Z
    return middles, np.array([u, v, -u, -v]) * side + 0j, ETA_0 * (k * side) ** 4 / (6.0 * np.pi)


def added(source: tuple[np.ndarray, np.ndarray, float], frequency: float, eps_c: complex) -> complex:
    """F: power the source spends against the field that comes back, over its power in free space."""
    places, moments, free = source
    electric, _ = ground_field(places, moments, frequency=frequency, eps_c=eps_c, tolerance=1e-11)(places)
    return complex(-np.sum(electric * moments.conj()) / free)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row[0] / 1e6} MHz, {row[1]} wavelengths")
def test_resistance_and_upward_share_over_average_earth(row):
    frequency, level, ved, hed, vmd, hmd, up_hmd, up_vmd = row
    k, eps_c = wavenumber(frequency), complex_permittivity(frequency, 13.0, 5e-3)
    height = level * 2.0 * np.pi / k
    for source, expected, upwards in [
        (dipole(Z, height, k), ved, None),
        (dipole(X, height, k), hed, None),
        (loop(Z, height, k), vmd, up_vmd),
        (loop(Y, height, k), hmd, up_hmd),
    ]:
        relative = 1.0 + added(source, frequency, eps_c).real
        # The table has four decimals; a loop of this size is 1e-4 from the point at the lowest height.
        assert relative == pytest.approx(expected, rel=2e-4, abs=0)
        if upwards is not None:
            field = field_over_earth(*source[:2], frequency=frequency, eps_c=eps_c)
            sky = sky_power(field, points=source[0], frequency=frequency)
            assert sky / (source[2] * relative) == pytest.approx(upwards, rel=0.6e-4 / upwards, abs=0)


@pytest.mark.parametrize("eps_c", [PERFECT_EARTH, complex_permittivity(14.2e6, 1.0, 1e12)])
def test_a_quarter_wave_above_a_perfect_plane(eps_c):
    # Image theory, closed: x = 2 k h = pi.
    beside, ahead = -0.151982 - 0.429088j, 0.303964 - 0.096755j
    k = wavenumber(14.2e6)
    height = 0.25 * 2.0 * np.pi / k
    for source, expected in [
        (loop(Y, height, k), beside),
        (dipole(X, height, k), -beside),
        (dipole(Z, height, k), ahead),
        (loop(Z, height, k), -ahead),
    ]:
        # Six decimals printed; the loop's size is 1e-5 of it.
        assert abs(added(source, 14.2e6, eps_c) - expected) < 2e-5 * abs(expected)


@pytest.mark.parametrize(("normal", "expected"), [(Z, 0.098004), (Y, 0.049120)])
def test_quasi_static_loss_of_a_small_loop_close_to_earth(normal, expected):
    # 1.8 MHz, 13 / 5 mS/m, 0.1 m up, 1 m^2 of area. The limit (w mu0)^2 sigma A^2/(32 pi h) = 0.10046 ohm, half of
    # it for a loop that stands, is a few per cent above: the height is 1/56 of the depth of penetration. Two Gauss
    # points a side: the static parts of K_zz and W cancel round the loop only as well as the sides are integrated.
    frequency, eps_c = 1.8e6, complex_permittivity(1.8e6, 13.0, 5e-3)
    middles, sides, _ = loop(normal, 0.1, 1.0)  # sides of 1 cm
    places = np.concatenate([middles + sides.real * t for t in (-0.5 / 3**0.5, 0.5 / 3**0.5)])
    m = np.concatenate([sides.real, sides.real]) / 2.0
    offset, up = places[:, None] - places, places[:, None, 2] + places[:, 2]
    rho = np.hypot(offset[..., 0], offset[..., 1])
    _, k_xx, k_zz, w = reflected_kernels(POTENTIALS, rho, up, frequency=frequency, eps_c=eps_c)
    crossed = np.sum(
        offset * (m[:, None] * m[:, 2:] - m[:, None, 2:] * m), axis=-1, where=[True, True, False]
    )
    reaction = k_xx * (m[:, :2] @ m[:, :2].T) + k_zz * np.outer(m[:, 2], m[:, 2]) + w * crossed
    resistance = -2.0 * np.pi * frequency * MU_0 * reaction.imag.sum() / 0.01**4
    # The loop's size against its distance from the image: (1/20)^2 at most.
    assert resistance == pytest.approx(expected, rel=1e-3, abs=0)
