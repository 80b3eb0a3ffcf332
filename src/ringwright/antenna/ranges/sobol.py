# SPDX-License-Identifier: BSD-3-Clause
"""Points that fill a cube more evenly than random ones, the same every time.

The library that has them takes over a second to load, longer than a prediction.
"""

import numpy as np

from ringwright.physics.graph import FloatArray

_PRIMITIVE = ((0, 0, (1,)), (1, 0, (1,)), (2, 1, (1, 3)), (3, 1, (1, 3, 1)))
"""Degree s, coefficients a and first direction numbers m of each dimension, the table of [1]; the first has none."""
DIMENSIONS = len(_PRIMITIVE)


def sobol_points(bits: int) -> FloatArray:
    """2^`bits` points (n, 4) within the unit cube, each in the middle of its own interval in every dimension.

    References
    ----------
    .. [1] S. Joe and F. Y. Kuo, Constructing Sobol sequences with better two-dimensional projections, SIAM J. Sci.
           Comput. 30(5), 2008, 2635-2654; direction numbers from memory, checked against a library's in the tests.
    """
    number = np.arange(2**bits)
    points = np.zeros((len(number), DIMENSIONS), dtype=np.int64)
    for dimension in range(DIMENSIONS):
        for bit, direction in enumerate(_directions(dimension, bits)):
            points[:, dimension] ^= (number >> bit & 1) * direction
    return np.asarray((points + 0.5) / len(number))


def _directions(dimension: int, bits: int) -> list[int]:
    """Of `dimension`, scaled by 2^bits."""
    degree, coefficients, first = _PRIMITIVE[dimension]
    if degree == 0:
        return [1 << (bits - 1 - bit) for bit in range(bits)]
    found = [m << (bits - 1 - bit) for bit, m in enumerate(first[:bits])]
    for bit in range(degree, bits):
        new = found[bit - degree] ^ (found[bit - degree] >> degree)
        for back in range(1, degree):
            if coefficients >> (degree - 1 - back) & 1:
                new ^= found[bit - back]
        found.append(new)
    return found
