# SPDX-License-Identifier: BSD-3-Clause
"""What warmth does to a tuned ring: it grows, and its resonance falls."""

import numpy as np
from numpy.typing import ArrayLike

from ringwright.physics.checks import FloatArray, not_negative, positive


def thermal_drift(frequency: ArrayLike, *, expansion: ArrayLike, slope: ArrayLike = 1.0) -> FloatArray:
    r"""Change of resonance per kelvin of a ring that grows in all directions, its capacitor as it was.

    .. math:: \frac{df}{dT} = -\alpha f \frac{s}{1 + s}, \quad s = \frac{f}{X} \frac{dX}{df}

    Parameters
    ----------
    frequency : array_like of float, shape (...)
        Resonance, > 0. [Hz]
    expansion : array_like of float, shape (...)
        Coefficient of linear thermal expansion of the ring's metal, >= 0. [1/K]
    slope : array_like of float, shape (...)
        Logarithmic slope s of the ring's reactance over frequency, > 0; 1 for an inductance, more for a ring that is
        not small. [1]

    Returns
    -------
    ndarray of float64, shape (...)
        Change of the resonance, negative. [Hz/K]

    Raises
    ------
    OutOfRangeError
        If an input is not finite, or on the wrong side of zero.

    Notes
    -----
    A ring 1 + e times as large has at f the reactance that it had at f (1 + e); the capacitor's is left. An inductance
    gives half the expansion. Capacitors drift by themselves, which comes on top, either way.

    References
    ----------
    .. [1] Own derivation, docs/explanation/drive.md, Warmth: the reactance of perfect conductors depends on their size
           over the wavelength only.
    """
    f, alpha = positive("frequency", frequency), not_negative("expansion", expansion)
    s = positive("slope", slope)
    return np.asarray(-alpha * f * s / (1.0 + s))
