# SPDX-License-Identifier: BSD-3-Clause
"""The unit of speed: the median time of one LU factorisation, 512 x 512 complex128, on one thread.

Seconds mean little on a machine that others use too; a figure in units, measured beside its unit, stays. Where so many
others compute that a long call is interrupted and a short one is not, wall time misleads even so: then processor time.
"""

import time
from collections.abc import Callable

import numpy as np
from scipy.linalg import lu_factor

SIZE = 512


def processor_time() -> float:
    """Of this process and of the ended ones that it started, all threads. [s]"""
    import resource  # POSIX only, and wanted here only

    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + children.ru_utime + children.ru_stime


def stopwatch(action: Callable[[], object], clock: Callable[[], float] = time.perf_counter) -> float:
    """Time of one call, wall time unless told otherwise. [s]"""
    start = clock()
    action()
    return clock() - start


def unit_times(count: int = 25, clock: Callable[[], float] = time.perf_counter) -> list[float]:
    """Times of `count` factorisations after one that is not counted. [s]"""
    rng = np.random.default_rng(512)
    matrix = rng.standard_normal((SIZE, SIZE)) + 1j * rng.standard_normal((SIZE, SIZE))
    stopwatch(lambda: lu_factor(matrix))
    return [stopwatch(lambda: lu_factor(matrix), clock) for _ in range(count)]
