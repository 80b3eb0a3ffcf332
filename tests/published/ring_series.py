# SPDX-License-Identifier: BSD-3-Clause
"""Oracle: input impedance of a thin circular ring with a delta gap, by Hallen's Fourier series of its current.

E. Hallen, Nova Acta Reg. Soc. Sci. Upsaliensis, ser. IV, 11(4), 1938; J. E. Storer, Impedance of thin-wire loop
antennas, Trans. AIEE 75, 606-619, 1956; T. T. Wu, Theory of the thin circular loop antenna, J. Math. Phys. 3,
1301-1304, 1962. Formulas from memory of these; `test_storer_1956_loop_series.py` checks them against the kernel they
expand. For a << b and k a << 1. The susceptance of the delta gap grows with the logarithm of the number of terms;
the tables of the literature stop at 20, and so do we.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.special import iv, kv

from ringwright.physics.constants import C_0, ETA_0

TERMS = 20
_NODE, _WEIGHT = np.polynomial.legendre.leggauss(400)  # serves up to 150 terms
_THETA, _DTHETA = 0.5 * np.pi * (1.0 + _NODE), 0.5 * np.pi * _WEIGHT


def kernel_coefficient(n: int, *, kb: float, thinness: float) -> complex:
    """K_n for a ring of electrical radius `kb` and wire over ring radius `thinness`."""
    if n == 0:
        static = np.log(8.0 / thinness) / np.pi
    else:
        odd = np.sum(1.0 / (2.0 * np.arange(n) + 1.0))
        wire = kv(0, n * thinness) * iv(0, n * thinness)
        static = (wire + np.log(4.0 * n) + np.euler_gamma - 2.0 * odd) / np.pi
    # The integral of Omega_2n + j J_2n from 0 to 2 kb, with the one over x done by hand.
    wave = np.cos(2.0 * n * _THETA) * -np.expm1(-2j * kb * np.sin(_THETA)) / np.sin(_THETA)
    return complex(static - 0.5 * np.sum(wave * _DTHETA) / np.pi)


def ring_coefficients(*, kb: float, thinness: float, terms: int = TERMS) -> NDArray[np.complex128]:
    """a_0 ... a_N: applied voltage over current, harmonic by harmonic."""
    k = np.array([kernel_coefficient(n, kb=kb, thinness=thinness) for n in range(terms + 2)])
    n = np.arange(1, terms + 1)
    higher = kb / 2.0 * (k[n + 1] + k[n - 1]) - n**2 / kb * k[n]
    return np.concatenate([[kb * k[1]], higher])


def ring_impedance(
    frequency: float, *, circumference: float, wire_radius: float, terms: int = TERMS
) -> complex:
    """Impedance at the gap [ohm]."""
    kb = frequency * circumference / C_0
    a = ring_coefficients(kb=kb, thinness=2.0 * np.pi * wire_radius / circumference, terms=terms)
    return complex(1j * np.pi * ETA_0 / (1.0 / a[0] + 2.0 * np.sum(1.0 / a[1:])))


def ring_impedance_omega(kb: float, omega: float, terms: int = TERMS) -> complex:
    """Impedance [ohm] at the thickness parameter Omega = 2 ln(2 pi b/a) of the literature."""
    thinness = 2.0 * np.pi / np.exp(omega / 2.0)
    return ring_impedance(C_0, circumference=kb, wire_radius=thinness * kb / (2.0 * np.pi), terms=terms)
