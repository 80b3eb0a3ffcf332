# SPDX-License-Identifier: BSD-3-Clause
r"""Close turns: how equal currents side by side crowd one another to the outer sides, and what that costs.

Round conductors of radius a stand in a flat row, 2c between neighbouring axes, each with the same current in the same
direction, all of it in a thin skin. Outside, the vector potential is harmonic and constant on every conductor. Each
conductor i has its multipoles, with z the complex place in the cross-section,

.. math:: A = \sum_i \left[ -\ln|z - z_i| + \sum_{m \ge 1} \beta_{im} \, \mathrm{Re} \frac{a^m}{(z - z_i)^m} \right],

and with the others' expanded about its own axis (d the signed distance to j) it is constant where, for every m,

.. math::

    \beta_{im} + \sum_{j \ne i} \left[ \frac{1}{m} \left(\frac{a}{d}\right)^m
    + \sum_n (-1)^n \binom{n+m-1}{m} \left(\frac{a}{d}\right)^{n+m} \beta_{jn} \right] = 0.

The current density round the conductor is then 1 + sum over m of 2 m beta_m cos(m angle) times its mean, and the loss
follows from its mean square. Own derivation; [1]_ solved the same problem and printed the first table.

References
----------
.. [1] G. S. Smith, Radiation efficiency of electrically small multiturn loop antennas, IEEE Trans. Antennas Propag.
       20(5), 656-657, 1972; Proximity effect in systems of parallel conductors, J. Appl. Phys. 43, 2196-2203, 1972,
       doi 10.1063/1.1661474.
"""

import math

import numpy as np
from scipy.special import gammaln

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray
from ringwright.physics.constants import MU_0

CLOSEST = 1.01
"""Least ratio of spacing to diameter: nearer, the loss of three or more grows without end as the gap closes, while in
truth the gap is then no wider than the skin is deep."""
MOST_CONDUCTORS = 100
_NEPERS_KEPT = 16.0
"""Multipoles fall about as exp(-m arcosh(c/a)), their loss as the square: the last one counts 1e-14."""


def proximity_losses(count: int, *, spacing: float, diameter: float) -> FloatArray:
    r"""Loss of each of some equal round conductors in a flat row, over what it would have alone.

    .. math:: R_i / R_0 = 1 + 2 \sum_m (m \beta_{im})^2

    Parameters
    ----------
    count : int
        How many conductors, 1 to 100. [1]
    spacing, diameter : float
        Between neighbouring axes, and of each conductor; spacing at least 1.01 diameters. [m]

    Returns
    -------
    ndarray of float64, shape (count,)
        Ratio of resistances, 1 for a conductor alone, symmetric about the middle of the row. [1]

    Raises
    ------
    OutOfRangeError
        If a value is not finite and positive, the count is out of range, or the spacing less than 1.01 diameters.

    Notes
    -----
    Straight conductors, the same current in each, the return far away, and a skin thin against the radius and against
    the gap between surfaces. Turns of a ring are straight enough when the row is short against the ring's radius.

    References
    ----------
    .. [1] G. S. Smith, Proximity effect in systems of parallel conductors, J. Appl. Phys. 43, 2196-2203, 1972, doi
           10.1063/1.1661474.
    """
    _hold_apart(count, spacing=spacing, diameter=diameter)
    beta = _multipoles(count, spacing / diameter)
    m = np.arange(1, beta.shape[1] + 1)
    return np.asarray(1.0 + 2.0 * np.sum((m * beta) ** 2, axis=1))


def proximity_factor(count: int, *, spacing: float, diameter: float) -> float:
    r"""Loss of equal round conductors in a flat row over what they would have far apart, all together.

    .. math:: 1 + R_p/R_0 = \frac{1}{N} \sum_i R_i/R_0

    Parameters
    ----------
    count : int
        How many conductors, 1 to 100. [1]
    spacing, diameter : float
        Between neighbouring axes, and of each conductor; spacing at least 1.01 diameters. [m]

    Returns
    -------
    float
        Factor on the resistance of one conductor, 1 for a single one. [1]

    Raises
    ------
    OutOfRangeError
        As `proximity_losses`.

    Notes
    -----
    As `proximity_losses`. Two in contact would have 4/3.

    References
    ----------
    .. [1] G. S. Smith, Proximity effect in systems of parallel conductors, J. Appl. Phys. 43, 2196-2203, 1972, doi
           10.1063/1.1661474.
    """
    return float(np.mean(proximity_losses(count, spacing=spacing, diameter=diameter)))


def proximity_inductance(count: int, *, spacing: float, diameter: float) -> float:
    r"""What crowding takes off the inductance of equal round conductors in a flat row, in series.

    .. math:: \Delta L' = \frac{\mu_0}{2 \pi} \sum_i \sum_{j \ne i} \sum_m \beta_{jm} (a/d_{ij})^m

    Parameters
    ----------
    count : int
        How many conductors, 1 to 100. [1]
    spacing, diameter : float
        Between neighbouring axes, and of each conductor; spacing at least 1.01 diameters. [m]

    Returns
    -------
    float
        Change of inductance against even currents round each conductor, per length of the row, 0 or less. [H/m]

    Raises
    ------
    OutOfRangeError
        As `proximity_losses`.

    Notes
    -----
    As `proximity_losses`. The multipoles of the others raise the constant potential of each conductor by their value on
    its axis. Two in contact would have -84 nH/m: their outline has the logarithmic capacity pi a/2, two thin wires
    a sqrt 2.

    References
    ----------
    .. [1] Own derivation with the potential at the head of this module; docs/explanation/thin-wire.md, Close turns.
    """
    _hold_apart(count, spacing=spacing, diameter=diameter)
    closeness = spacing / diameter
    beta = _multipoles(count, closeness)
    m = np.arange(1, beta.shape[1] + 1)
    place = np.arange(count)
    apart = 2.0 * closeness * (place[:, None] - place)
    np.fill_diagonal(apart, np.inf)
    potential = np.einsum("jm,ijm->", beta, apart[..., None] ** -m.astype(float))
    return float(MU_0 / (2.0 * np.pi) * potential)


def _hold_apart(count: int, *, spacing: float, diameter: float) -> None:
    if not 1 <= count <= MOST_CONDUCTORS:
        raise OutOfRangeError(f"count must be from 1 to {MOST_CONDUCTORS}, got {count}")
    if not (math.isfinite(spacing) and diameter > 0.0 and spacing >= CLOSEST * diameter):
        raise OutOfRangeError(
            f"spacing must be finite and at least {CLOSEST} diameters, got {spacing} m for {diameter} m"
        )


def _multipoles(count: int, closeness: float) -> FloatArray:
    """beta (count, multipoles) by the module's equation; `closeness` = c/a."""
    m = np.arange(1, math.ceil(_NEPERS_KEPT / math.acosh(closeness)) + 3)
    n = m[None, :]
    log_binomial = gammaln(n + m[:, None]) - gammaln(m[:, None] + 1.0) - gammaln(n)
    matrix = np.eye(count * len(m)).reshape(count, len(m), count, len(m))
    driven = np.zeros((count, len(m)))
    for i in range(count):
        for j in range(count):
            if i == j:
                continue
            log_ratio, is_left = -math.log(2.0 * closeness * abs(j - i)), j < i
            to_the = np.where(is_left & (m % 2 == 1), -1.0, 1.0)  # sign of (a/d)^m
            driven[i] -= to_the * np.exp(m * log_ratio) / m
            signs = to_the[:, None] * to_the * np.where(n % 2 == 1, -1.0, 1.0)
            matrix[i, :, j, :] = signs * np.exp(log_binomial + (n + m[:, None]) * log_ratio)
    size = count * len(m)
    solved = np.linalg.solve(matrix.reshape(size, size), driven.reshape(size))
    return np.asarray(solved.reshape(count, len(m)))
