# SPDX-License-Identifier: BSD-3-Clause
"""Small transmitting loops, from first thought to proof."""

import os

# Small matrices lose, sometimes by a factor of a hundred, when BLAS splits them over threads.
for _variable in ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(_variable, "1")
