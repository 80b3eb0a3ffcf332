# SPDX-License-Identifier: BSD-3-Clause
"""Where the conductors of a design run, as the drawings and templates need them."""

import numpy as np

from ringwright.antenna.design import Conductor, ConductorKind, CouplingKind, Design, RingShape
from ringwright.antenna.geometry import coupling_outline, ring_outline
from ringwright.physics.graph import FloatArray
from ringwright.safety.mechanics.cutting import ring_corners

FINE = 720  # places round a curve


def ring_axis(design: Design) -> FloatArray:
    """One turn's axis (n, 2) [m] in the ring's plane, closed, from the gap."""
    ring = design.ring
    is_bent = ring.shape in (RingShape.CIRCLE, RingShape.OVAL)
    points = ring_outline(ring, count=FINE).true_points if is_bent else polygon_axis(design)
    return np.concatenate([points, points[:1]])


def polygon_axis(design: Design) -> FloatArray:
    """The gap's place and the corners (n, 2) [m]."""
    return np.concatenate([ring_outline(design.ring).corners[:1], ring_corners(design)])


def coupling_axis(design: Design) -> tuple[FloatArray, FloatArray] | None:
    """The coupling loop's axis (n, 2) [m] in the ring's plane, closed, and the feed's place; None for other kinds."""
    if design.coupling.kind is not CouplingKind.LOOP:
        return None
    loop, feed = coupling_outline(design.coupling, design.ring, ring_outline(design.ring))
    return smooth(loop.true_points), loop.true_points[feed]


def smooth(points: FloatArray) -> FloatArray:
    """A closed curve through few places of an ellipse, as many places of it: the ellipse they lie on."""
    centre = points.mean(axis=0)
    half = len(points) // 2
    spokes = points - centre
    lengths = np.linalg.norm(spokes, axis=1)
    first = int(np.argmax(lengths))
    long_axis = spokes[first]
    along = long_axis / np.linalg.norm(long_axis)
    across = np.array([-along[1], along[0]])
    short = float(np.sqrt(np.mean((spokes @ across) ** 2) * 2.0))
    long = float(np.sqrt(np.mean((spokes @ along) ** 2) * 2.0))
    if half < 2:
        return points
    angle = np.linspace(0.0, 2.0 * np.pi, FINE + 1)
    return np.asarray(
        centre + long * np.cos(angle)[:, None] * along + short * np.sin(angle)[:, None] * across
    )


def without_gap(axis: FloatArray, gap: float) -> FloatArray:
    """A closed axis that starts at the gap, less half the gap [m] at each end."""
    travelled = np.insert(np.cumsum(np.linalg.norm(np.diff(axis, axis=0), axis=1)), 0, 0.0)
    inside = (travelled > gap / 2.0) & (travelled < travelled[-1] - gap / 2.0)
    ends = [_at(axis, travelled, place) for place in (gap / 2.0, travelled[-1] - gap / 2.0)]
    return np.concatenate([ends[:1], axis[inside], ends[1:]])


def ring_section(design: Design) -> tuple[float, float]:
    """Of its conductor in the ring's plane and across it [m]. A strip is bent on the flat where it is bent, and shows
    its edge; the straight pieces of a polygon lie flat in the plane."""
    return _section(design.ring.conductor, is_bent=design.ring.shape in (RingShape.CIRCLE, RingShape.OVAL))


def coupling_section(design: Design) -> tuple[float, float]:
    """As `ring_section`, of the coupling loop's conductor, which is bent."""
    assert design.coupling.conductor is not None
    return _section(design.coupling.conductor, is_bent=True)


def _section(conductor: Conductor, *, is_bent: bool) -> tuple[float, float]:
    if conductor.kind is not ConductorKind.STRIP:
        assert conductor.diameter is not None
        return conductor.diameter, conductor.diameter
    assert conductor.width is not None
    assert conductor.thickness is not None
    flat = conductor.width, conductor.thickness
    return (flat[1], flat[0]) if is_bent else flat


def _at(axis: FloatArray, travelled: FloatArray, place: float) -> FloatArray:
    return np.array([np.interp(place, travelled, axis[:, number]) for number in (0, 1)])
