# SPDX-License-Identifier: BSD-3-Clause
"""A coupling loop in the ring's centre."""

import math
from dataclasses import replace

import numpy as np

from ringwright.antenna.coupling_arm import between_axes
from ringwright.antenna.design import Coupling, CouplingPlace, CouplingShape, Ring
from ringwright.antenna.geometry import ring_outline
from ringwright.antenna.outline import ellipse_semi_axes, leave_point


def in_centre(coupling: Coupling, ring: Ring) -> Coupling:
    """A loop in the ring's centre, with the clearance that follows from the sizes."""
    assert coupling.diameter is not None
    aspect = coupling.squash if coupling.shape is CouplingShape.OVAL else 1.0
    foot, _ = leave_point(ring_outline(ring), ring.gap_angle + math.pi)
    _, half_across = ellipse_semi_axes(math.pi * coupling.diameter, aspect)
    touching = between_axes(replace(coupling, clearance=0.0), ring)
    clearance = float(np.linalg.norm(foot)) - half_across - touching
    return replace(coupling, place=CouplingPlace.CENTRE, clearance=clearance)
