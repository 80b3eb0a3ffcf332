# SPDX-License-Identifier: BSD-3-Clause
"""A shaft between motor and capacitor: how far it twists before what it turns follows."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, not_negative, positive


def torsional_stiffness(
    shear_modulus: ArrayLike, *, length: ArrayLike, diameter: ArrayLike, bore: ArrayLike = 0.0
) -> FloatArray:
    r"""Torque per angle of a straight round shaft, solid or hollow.

    .. math:: k = G \frac{\pi (D^4 - d^4)}{32 \, l}

    Parameters
    ----------
    shear_modulus : array_like of float, shape (...)
        G of the material, > 0; of wood for torsion about the grain. [Pa]
    length : array_like of float, shape (...)
        Free length between the ends that are held, > 0. [m]
    diameter : array_like of float, shape (...)
        Outer diameter D, > 0. [m]
    bore : array_like of float, shape (...)
        Inner diameter d, 0 for a solid shaft, less than the outer one. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Torsional stiffness. [N m/rad]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the bore not less than the diameter.

    Notes
    -----
    Exact for a straight shaft of one material within its elastic range whose ends are held all round. A soft hose bent
    round a corner twists further; grub screws and plugged ends give way on top.

    References
    ----------
    .. [1] S. P. Timoshenko, Strength of Materials, part I, 3rd ed., Van Nostrand, 1955, on torsion of a circular shaft.
    """
    G, span = positive("shear_modulus", shear_modulus), positive("length", length)
    D, d = positive("diameter", diameter), not_negative("bore", bore)
    if np.any(d >= D):
        raise OutOfRangeError(f"bore {d} m must be less than the diameter {D} m")
    return np.asarray(G * np.pi * (D**4 - d**4) / (32.0 * span))
