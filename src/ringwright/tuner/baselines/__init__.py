# SPDX-License-Identifier: BSD-3-Clause
"""Plain ways to find a dip, for comparison: they start from the same table and drive the same twins."""

from ringwright.tuner.baselines.bench import Bench, Found
from ringwright.tuner.baselines.full_scan import full_scan
from ringwright.tuner.baselines.golden_section import golden_section

__all__ = ["Bench", "Found", "full_scan", "golden_section"]
