# SPDX-License-Identifier: BSD-3-Clause
"""Algebra of small networks at real reference impedances, e^{+jwt}.

Matrices are stacked on leading axes, shape (..., n, n), as numpy.linalg takes them; an
admittance matrix is ``numpy.linalg.inv`` of the impedance matrix. Reference impedances are real and
positive, one for all ports or one a port, so that power waves and travelling waves are the same thing.
"""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, FloatArray, positive

PASSIVE_MARGIN = 1e-9
"""How far above 1 rounding may lift the reflection of a lossless load; more is an active load. [1]"""


def reflection_coefficient(impedance: ArrayLike, *, reference: ArrayLike) -> ComplexArray:
    r"""Reflection coefficient of an impedance.

    .. math:: \Gamma = \frac{Z - Z_0}{Z + Z_0}

    Parameters
    ----------
    impedance : array_like of complex, shape (...)
        Load; infinite for an open end. [ohm]
    reference : array_like of float, shape (...)
        Real reference impedance, > 0. [ohm]

    Returns
    -------
    ndarray of complex128, shape (...)
        Reflection coefficient. [1]

    Raises
    ------
    OutOfRangeError
        If the reference is not finite and positive.

    Notes
    -----
    Exact. A load of exactly -Z_0 has none, and numpy says so.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 2.3.
    """
    z, z0 = np.asarray(impedance, dtype=np.complex128), positive("reference", reference)
    is_open = np.isinf(z)
    closed = np.where(is_open, 0.0, z)
    return np.asarray(np.where(is_open, 1.0, (closed - z0) / (closed + z0)))


def swr(reflection: ArrayLike) -> FloatArray:
    r"""Standing-wave ratio that goes with a reflection coefficient.

    .. math:: s = \frac{1 + |\Gamma|}{1 - |\Gamma|}

    Parameters
    ----------
    reflection : array_like of complex, shape (...)
        Reflection coefficient of a passive load. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Standing-wave ratio, 1 or more; infinite where all is reflected. [1]

    Raises
    ------
    OutOfRangeError
        If the reflection is above 1 by more than rounding: the load would feed the line.

    Notes
    -----
    Exact for a line without loss.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 2.3.
    """
    size = np.abs(np.asarray(reflection, dtype=np.complex128))
    if not np.all(size <= 1.0 + PASSIVE_MARGIN):
        raise OutOfRangeError(
            f"a passive load reflects at most 1, got {np.max(size):.6g}: the load is not passive"
        )
    with np.errstate(divide="ignore"):
        return np.asarray((1.0 + size) / np.maximum(1.0 - size, 0.0))


def z_to_s(z: ArrayLike, *, reference: ArrayLike) -> ComplexArray:
    r"""Scattering matrix from the open-circuit impedance matrix.

    .. math:: S = (\hat Z + 1)^{-1} (\hat Z - 1), \quad \hat Z = Z_0^{-1/2} Z Z_0^{-1/2}

    Parameters
    ----------
    z : array_like of complex, shape (..., n, n)
        Impedance matrix. [ohm]
    reference : array_like of float, shape () or (n,)
        Real reference impedance of all ports, or of each, > 0. [ohm]

    Returns
    -------
    ndarray of complex128, shape (..., n, n)
        Scattering matrix. [1]

    Raises
    ------
    OutOfRangeError
        If a reference is not finite and positive.

    Notes
    -----
    Exact.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 4.3.
    """
    matrix = np.asarray(z, dtype=np.complex128)
    scale = _scale(reference, matrix)
    relative, one = matrix / scale, np.eye(matrix.shape[-1])
    return np.asarray(np.linalg.solve(relative + one, relative - one), dtype=np.complex128)


def s_to_z(s: ArrayLike, *, reference: ArrayLike) -> ComplexArray:
    r"""Open-circuit impedance matrix from the scattering matrix.

    .. math:: Z = Z_0^{1/2} (1 - S)^{-1} (1 + S) Z_0^{1/2}

    Parameters
    ----------
    s : array_like of complex, shape (..., n, n)
        Scattering matrix. [1]
    reference : array_like of float, shape () or (n,)
        Real reference impedance of all ports, or of each, > 0. [ohm]

    Returns
    -------
    ndarray of complex128, shape (..., n, n)
        Impedance matrix. [ohm]

    Raises
    ------
    OutOfRangeError
        If a reference is not finite and positive.
    numpy.linalg.LinAlgError
        If the network has no impedance matrix, as a series element has none.

    Notes
    -----
    Exact.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 4.3.
    """
    matrix = np.asarray(s, dtype=np.complex128)
    one = np.eye(matrix.shape[-1])
    return np.asarray(np.linalg.solve(one - matrix, one + matrix) * _scale(reference, matrix))


def terminate(z: ArrayLike, *, port: int, load: ArrayLike) -> ComplexArray:
    r"""Impedance matrix that is left when one port is closed with a load.

    .. math:: Z'_{ij} = Z_{ij} - \frac{Z_{ip} Z_{pj}}{Z_{pp} + Z_L}

    Parameters
    ----------
    z : array_like of complex, shape (..., n, n)
        Impedance matrix. [ohm]
    port : int
        The port p that is closed. [1]
    load : array_like of complex, shape (...)
        Its load; zero is a short circuit. [ohm]

    Returns
    -------
    ndarray of complex128, shape (..., n - 1, n - 1)
        Impedance matrix of the other ports, in their order. [ohm]

    Notes
    -----
    Exact. The sum in the denominator loses the digits in which a resonance of high Q cancels: about three at Q = 1000.

    References
    ----------
    .. [1] D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, sec. 4.2.
    """
    matrix, closing = np.asarray(z, dtype=np.complex128), np.asarray(load, dtype=np.complex128)
    rest = np.delete(np.arange(matrix.shape[-1]), port)
    column, row = matrix[..., rest, port], matrix[..., port, rest]
    total = (matrix[..., port, port] + closing)[..., None, None]
    return np.asarray(matrix[..., rest[:, None], rest] - column[..., :, None] * row[..., None, :] / total)


def matched_bandwidth(frequency: ArrayLike, *, unloaded_q: ArrayLike, ratio: ArrayLike) -> FloatArray:
    r"""Width between the points of a given SWR of a resonator that is matched at resonance.

    .. math:: B = \frac{f_0}{Q_0} \frac{s - 1}{\sqrt{s}}

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Resonant frequency f_0, > 0. [Hz]
    unloaded_q : array_like of float, shape (...)
        Q_0 of the resonator alone, > 0; the generator, matched, halves it. [1]
    ratio : array_like of float, shape (...)
        The SWR s at the edges, 1 or more. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Bandwidth; 0.7071 f_0/Q_0 for an SWR of 2. [Hz]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, not positive, or the ratio is below 1.

    Notes
    -----
    For Q_0 >> 1 and a perfect match at resonance. Half-power width of the ring itself is f_0/Q_0; that of the
    transmission through generator and ring is 2 f_0/Q_0.

    References
    ----------
    .. [1] A. D. Yaghjian, S. R. Best, Impedance, bandwidth, and Q of antennas, IEEE Trans. Antennas Propag. 53,
           1298-1324, 2005, doi 10.1109/TAP.2005.844443.
    """
    s = _ratio(ratio)
    return np.asarray(
        positive("frequency", frequency) / positive("unloaded_q", unloaded_q) * (s - 1.0) / np.sqrt(s)
    )


def _ratio(ratio: ArrayLike) -> FloatArray:
    s = positive("ratio", ratio)
    if np.any(s < 1.0):
        raise OutOfRangeError(f"a standing-wave ratio is 1 or more, got {s}")
    return s


def _scale(reference: ArrayLike, matrix: ComplexArray) -> FloatArray:
    """sqrt(Z_0i Z_0j), shape (n, n)."""
    root = np.sqrt(np.broadcast_to(positive("reference", reference), matrix.shape[-1:]))
    return np.outer(root, root)
