# SPDX-License-Identifier: BSD-3-Clause
"""Oracle: diffusion of current in a straight rectangular bar, solved in two dimensions.

The cross-section is cut into rectangles, finer towards the surface, each with an even current. The field along the bar
is the same everywhere: E0 = J/sigma + j w A, with A from the exact logarithmic potential of each rectangle. Written for
the tests, from the differential equation; shares nothing with the conformal map it checks.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def _edges(half: float, first: float, growth: float) -> Array:
    """Distances from the surface, 0 to `half`."""
    edges, step = [0.0], first
    while edges[-1] + 1.5 * step < half:
        edges.append(edges[-1] + step)
        step = min(step * growth, half / 6.0)
    return np.array([*edges, half])


def _potential(x: Array, y: Array) -> Array:
    """A function whose second mixed derivative is ln r."""
    r2 = x * x + y * y
    return np.asarray(
        0.5 * x * y * np.log(r2)
        - 1.5 * x * y
        + 0.5 * x * x * np.arctan(y / x)
        + 0.5 * y * y * np.arctan(x / y)
    )


def bar_impedance(width: float, thickness: float, *, cells: float, growth: float) -> complex:
    """Impedance per length over R_s, lengths in skin depths, with `width` as the logarithm's reference.

    `cells` is the size of the outermost layer in skin depths, `growth` the ratio of a layer to the one outside it.
    """
    first = cells * min(1.0, thickness)
    x = width / 2.0 - _edges(width / 2.0, first, growth)[::-1]
    y = thickness / 2.0 - _edges(thickness / 2.0, min(first, thickness / 8.0), growth)[::-1]
    x0, y0 = (v.ravel() for v in np.meshgrid(x[:-1], y[:-1], indexing="ij"))
    x1, y1 = (v.ravel() for v in np.meshgrid(x[1:], y[1:], indexing="ij"))
    xc, yc = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    area = (x1 - x0) * (y1 - y0)
    log = -4.0 * np.log(width) * np.tile(area, (area.size, 1))
    for u in (xc[:, None], -xc[:, None]):
        for v in (yc[:, None], -yc[:, None]):
            log += _potential(x1 - u, y1 - v) - _potential(x0 - u, y1 - v)
            log += _potential(x0 - u, y0 - v) - _potential(x1 - u, y0 - v)
    # w mu0 sigma = 2 in units of the skin depth, and R_s = 1/(sigma delta).
    current = np.linalg.solve(np.eye(area.size) - 1j / np.pi * log, np.ones(area.size, dtype=complex))
    return complex(1.0 / (4.0 * np.sum(current * area)))
