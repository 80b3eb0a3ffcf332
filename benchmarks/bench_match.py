# SPDX-License-Identifier: BSD-3-Clause
"""The coupling for three bands at once, over earth beside a railing, every coupling solved anew."""

from collections.abc import Callable
from dataclasses import replace

from ringwright.antenna.design import Site
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from ringwright.choose.match import find_coupling
from ringwright.choose.trials import match_bands


def bench_one_coupling() -> Callable[[], object]:
    """Match three bands with one coupling loop, over earth beside a railing."""
    design = shipped_design(TERRACE_OCTAGON)
    return lambda: match_bands(design)


def bench_diameter() -> Callable[[], object]:
    """Find the coupling loop's diameter for three bands, over earth beside a railing."""
    design = shipped_design(TERRACE_OCTAGON)
    return lambda: find_coupling(design)


def bench_diameter_in_free_space() -> Callable[[], object]:
    """Find the coupling loop's diameter for three bands, free space."""
    design = replace(shipped_design(TERRACE_OCTAGON), site=Site())
    return lambda: find_coupling(design)


def bench_all_sizes() -> Callable[[], object]:
    """Find diameter, squash and clearance for three bands, over earth beside a railing."""
    design = shipped_design(TERRACE_OCTAGON)
    return lambda: find_coupling(design, vary=("squash", "clearance"))
