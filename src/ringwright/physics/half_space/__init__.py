# SPDX-License-Identifier: BSD-3-Clause
"""The lossy half-space: what a plane, homogeneous earth adds to the fields of currents in the air above it."""

from ringwright.physics.half_space.kernels import (
    POTENTIALS,
    GroundKernels,
    GroundOperator,
    GroundPart,
    PerfectEarth,
)
from ringwright.physics.half_space.spectrum import (
    PERFECT_EARTH,
    complex_permittivity,
    wave_index,
    wavenumber,
)

__all__ = [
    "PERFECT_EARTH",
    "POTENTIALS",
    "GroundKernels",
    "GroundOperator",
    "GroundPart",
    "PerfectEarth",
    "complex_permittivity",
    "wave_index",
    "wavenumber",
]
