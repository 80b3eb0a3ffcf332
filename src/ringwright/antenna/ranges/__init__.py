# SPDX-License-Identifier: BSD-3-Clause
"""How sure the figures are: a range for each from the stated tolerances, without a new full-wave solution."""

from ringwright.antenna.ranges.ranged import with_ranges, with_safe_ends

__all__ = ["with_ranges", "with_safe_ends"]
