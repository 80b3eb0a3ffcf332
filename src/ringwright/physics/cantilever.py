# SPDX-License-Identifier: BSD-3-Clause
"""How far a bent rod or tube gives way that is held at one end: small deflections, bending and torsion."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import FloatArray, finite, not_negative, positive


def ring_second_moment(diameter: ArrayLike, *, bore: ArrayLike = 0.0) -> FloatArray:
    r"""Second moment of area of a round tube or rod about an axis through its centre.

    .. math:: I = \pi (D^4 - d^4) / 64

    Parameters
    ----------
    diameter : array_like of float, shape (...)
        Outer diameter D, > 0. [m]
    bore : array_like of float, shape (...)
        Inner diameter d, >= 0 and less than the outer one; 0 for a solid rod. [m]

    Returns
    -------
    ndarray of float64, shape (...)
        Second moment of area. [m^4]

    Raises
    ------
    OutOfRangeError
        If a diameter is not finite or not in its range.

    Notes
    -----
    Torsion has twice as much.

    References
    ----------
    .. [1] S. Timoshenko, Strength of Materials, part I, 3rd ed., Van Nostrand, 1955, appendix A (from memory).
    """
    D, d = positive("diameter", diameter), not_negative("bore", bore)
    if np.any(d >= D):
        raise OutOfRangeError(f"bore must be less than the diameter, got {d} and {D}")
    return np.asarray(np.pi * (D**4 - d**4) / 64.0)


def curved_cantilever(
    nodes: ArrayLike, *, load: ArrayLike, tip_load: ArrayLike, bending: ArrayLike, torsion: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    r"""How far the free end of a bent rod moves, and the largest moment in it.

    .. math:: \boldsymbol\delta = \int \boldsymbol\kappa(s) \times (\mathbf r_e - \mathbf r(s))\, ds, \quad
        \boldsymbol\kappa = \frac{\mathbf M - (\mathbf M \cdot \mathbf t)\mathbf t}{EI}
        + \frac{(\mathbf M \cdot \mathbf t)\mathbf t}{GJ}

    Parameters
    ----------
    nodes : array_like of float, shape (n + 1, 3)
        Places along the rod's axis from where it is held to its free end, at least two. [m]
    load : array_like of float, shape (3,)
        Force per length, the same all along. [N/m]
    tip_load : array_like of float, shape (3,)
        Force at the free end. [N]
    bending : array_like of float, shape ()
        Bending stiffness EI, > 0. [N m^2]
    torsion : array_like of float, shape ()
        Torsional stiffness GJ, > 0. [N m^2]

    Returns
    -------
    ndarray of float64, shape (3,)
        Displacement of the free end. [m]
    ndarray of float64, shape ()
        Size of the largest moment, where the rod is held. [N m]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, a stiffness is not positive, or there are fewer than two nodes.

    Notes
    -----
    Moments are those of the unloaded shape: for deflections that are small against the rod's length. The largest
    moment is looked for among the middles of the pieces and the held end.

    References
    ----------
    .. [1] S. Timoshenko, Strength of Materials, part I, 3rd ed., Van Nostrand, 1955, ch. XI and XII (from memory):
           unit-load method for curved bars.
    """
    places, w, p = finite("nodes", nodes), finite("load", load), finite("tip_load", tip_load)
    if places.ndim != 2 or places.shape[1] != 3 or len(places) < 2:
        raise OutOfRangeError(f"nodes must be at least two places of three coordinates, got {places.shape}")
    EI, GJ = positive("bending", bending), positive("torsion", torsion)
    steps = np.diff(places, axis=0)
    lengths = np.linalg.norm(steps, axis=1)
    middles = places[:-1] + steps / 2.0
    tangents = steps / np.where(lengths > 0.0, lengths, 1.0)[:, None]
    moments = _moments(middles, steps, lengths, load=w, tip_load=p, tip=places[-1])
    twist = np.sum(moments * tangents, axis=1)[:, None] * tangents
    curvature = (moments - twist) / EI + twist / GJ
    moved = (np.cross(curvature, places[-1] - middles) * lengths[:, None]).sum(axis=0)
    held = np.cross(middles - places[0], w[None] * lengths[:, None]).sum(axis=0) + np.cross(
        places[-1] - places[0], p
    )
    largest = max(float(np.linalg.norm(held)), float(np.linalg.norm(moments, axis=1).max()))
    return np.asarray(moved), np.asarray(largest)


def _moments(
    middles: FloatArray,
    steps: FloatArray,
    lengths: FloatArray,
    *,
    load: FloatArray,
    tip_load: FloatArray,
    tip: FloatArray,
) -> FloatArray:
    """At each middle, of all loads from there to the free end. [N m]"""
    beyond = np.flip(np.cumsum(np.flip(lengths))) - lengths  # length after each piece
    first_moment = np.flip(np.cumsum(np.flip(middles * lengths[:, None], axis=0), axis=0), axis=0)
    arm = first_moment - middles * lengths[:, None]  # of the pieces after each one, about the origin
    own_half = (middles + steps / 4.0) * (lengths / 2.0)[
        :, None
    ]  # the half of the piece itself beyond its middle
    arms = arm + own_half - middles * (beyond + lengths / 2.0)[:, None]
    return np.asarray(np.cross(arms, load) + np.cross(tip - middles, tip_load))
