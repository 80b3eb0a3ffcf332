# SPDX-License-Identifier: BSD-3-Clause
"""Speed, in units (see `benchmarks.unit`); run by `make bench`."""

import ringwright  # noqa: F401 -- sets one BLAS thread, which works only before numpy is loaded
