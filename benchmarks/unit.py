# SPDX-License-Identifier: BSD-3-Clause
"""The unit of speed: the median time of one LU factorisation, 512 x 512 complex128, on one thread.

Seconds mean little on a machine that others use too; a figure in units, measured beside its unit, stays.
"""

import time
from collections.abc import Callable

import numpy as np
from scipy.linalg import lu_factor

SIZE = 512


def stopwatch(action: Callable[[], object]) -> float:
    """Wall time of one call. [s]"""
    start = time.perf_counter()
    action()
    return time.perf_counter() - start


def unit_times(count: int = 25) -> list[float]:
    """Times of `count` factorisations after one that is not counted. [s]"""
    rng = np.random.default_rng(512)
    matrix = rng.standard_normal((SIZE, SIZE)) + 1j * rng.standard_normal((SIZE, SIZE))
    stopwatch(lambda: lu_factor(matrix))
    return [stopwatch(lambda: lu_factor(matrix)) for _ in range(count)]
