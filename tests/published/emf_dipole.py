# SPDX-License-Identifier: BSD-3-Clause
"""Oracle: self and mutual impedance of thin half-wave dipoles by the induced-EMF method, with the exact eta_0.

P. S. Carter, Circuit relations in radiating systems and applications to antenna problems, Proc. IRE 20, 1004-1041,
1932. The current is a half sine on both, whatever the wire; no thin-wire solution of finite radius has it exactly.
`field_of_half_wave` is Carter's closed near field; the impedance integrates it along the other dipole.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import quad
from scipy.special import sici

from ringwright.physics.constants import ETA_0

THIRTY = ETA_0 / (4.0 * np.pi)
"""What textbooks that write eta_0 = 120 pi print as 30. [ohm]"""


def side_by_side(distance: float) -> complex:
    """Mutual impedance [ohm] of two parallel half-wave dipoles, `distance` between them in wavelengths."""
    kd, kl = 2.0 * np.pi * distance, np.pi
    root = np.hypot(kd, kl)
    (s0, c0), (s1, c1), (s2, c2) = (sici(x) for x in (kd, root + kl, root - kl))
    return complex(THIRTY * ((2.0 * c0 - c1 - c2) - 1j * (2.0 * s0 - s1 - s2)))


def self_impedance() -> complex:
    """Impedance [ohm] of one half-wave dipole of vanishing radius."""
    si, ci = sici(2.0 * np.pi)
    return complex(THIRTY * (np.euler_gamma + np.log(2.0 * np.pi) - ci + 1j * si))


def field_of_half_wave(rho: float, z: NDArray[np.float64] | float) -> NDArray[np.complex128]:
    """Field along a half-wave dipole on the z axis for 1 A at its centre, times one wavelength [V]; lengths in
    wavelengths."""
    k = 2.0 * np.pi
    r1, r2 = np.hypot(rho, np.asarray(z) - 0.25), np.hypot(rho, np.asarray(z) + 0.25)
    return np.asarray(-1j * THIRTY * (np.exp(-1j * k * r1) / r1 + np.exp(-1j * k * r2) / r2))


def mutual_impedance(distance: float, offset: float = 0.0) -> complex:
    """Mutual impedance [ohm] by quadrature: `distance` across and `offset` along, centre to centre, in wavelengths."""

    def integrand(z: float) -> complex:
        return complex(-field_of_half_wave(distance, z + offset) * np.cos(2.0 * np.pi * z))

    value, _ = quad(integrand, -0.25, 0.25, complex_func=True, limit=200, epsabs=0.0, epsrel=1e-9)
    return complex(value)
