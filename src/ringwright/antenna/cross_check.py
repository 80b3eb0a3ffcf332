# SPDX-License-Identifier: BSD-3-Clause
"""Closed formulas beside the full-wave answer: a check with a printed limit, never the answer."""

from ringwright.antenna.design import Design
from ringwright.physics.constants import C_0


def cross_check(design: Design, frequency: float) -> dict[str, float | None]:
    """Figures of the lumped, uniform-current picture at a frequency [Hz]; None where a formula does not apply."""
    return {"circumference_wavelengths": design.ring.perimeter * frequency / C_0}
