# SPDX-License-Identifier: BSD-3-Clause
r"""Electric and magnetic field close to thin wires in free space, full-wave.

Each segment carries a linear current I(s) and, from its slope, an even line charge q = j I'(s) / omega, both as a
filament on the axis. With R the distance, x = kR and d = r - r',

.. math:: \mathbf{E} = -\frac{j\omega\mu_0}{4\pi} \int I \hat t \, \frac{e^{-jx}}{R} ds
          + \frac{1}{4\pi\epsilon_0} \int q \, \frac{(1 + jx) e^{-jx}}{R^3} \mathbf{d} \, ds, \qquad
          \mathbf{H} = \frac{1}{4\pi} \int I \, \frac{(1 + jx) e^{-jx}}{R^3} \hat t \times \mathbf{d} \, ds .

What is singular, 1/R of the first kernel and 1/R^3 + k^2/(2R) of the second, has closed integrals along a straight
segment and is taken exactly; what is left is smooth and goes by Gauss.

References
----------
.. [1] C. A. Balanis, Antenna Theory, 4th ed., Wiley, 2016, sec. 3.2 and 3.3 (fields from the potentials).
"""

from collections.abc import Callable

import numpy as np

from ringwright.physics.constants import C_0, EPS_0, MU_0
from ringwright.physics.graph import FloatArray, WireGraph
from ringwright.physics.static_kernel import gauss_unit
from ringwright.physics.wave_kernel import ComplexArray

POINTS = 2  # Gauss points a segment for the smooth remainder: 1e-6 up to k h = 0.1, 1e-5 up to 0.5
PAIRS_AT_ONCE = 8_000  # of point and segment: what stays in a core's cache

NearFieldAt = Callable[[FloatArray], tuple[ComplexArray, ComplexArray]]
"""E [V/m] and H [A/m], each (n, 3), at points (n, 3) [m]."""


def near_field(graph: WireGraph, current: ComplexArray, frequency: float) -> NearFieldAt:
    """Field of given currents in free space, as a function of place.

    Parameters
    ----------
    graph : WireGraph
        The wires. [m]
    current : ndarray of complex128, shape (n_segments, 2)
        At start and end of each segment, along it; rms phasors give rms fields. [A]
    frequency : float
        > 0. [Hz]

    Returns
    -------
    NearFieldAt
        E [V/m] and H [A/m], each (n, 3), at points (n, 3) [m].

    Notes
    -----
    Holds outside the conductors, for segments up to k h = 0.5, out to a hundred thousand segment lengths. Within some
    three radii of an axis the true field also shows how current and charge crowd round the conductor, which a
    filament on the axis cannot.
    Inside a conductor the result fades to zero on the axis and means nothing.
    """
    sources = _Sources(graph, current, 2.0 * np.pi * frequency / C_0)
    step = max(1, PAIRS_AT_ONCE // len(graph.segments))

    def field_at(points: FloatArray) -> tuple[ComplexArray, ComplexArray]:
        electric = np.empty(points.shape, dtype=np.complex128)
        magnetic = np.empty(points.shape, dtype=np.complex128)
        for first in range(0, len(points), step):
            piece = slice(first, first + step)
            electric[piece], magnetic[piece] = sources.fields(points[piece])
        return electric, magnetic

    return field_at


class _Sources:
    """What the wires send out, in tables that do not depend on where the field is sought.

    A kernel times d = place - source splits into two products with the place outside the sum, so a gradient table has
    ten columns: current moment m (3), m x source (3), charge (1), charge times source (3).
    """

    def __init__(self, graph: WireGraph, current: ComplexArray, k: float) -> None:
        self._graph, self._k = graph, k
        length, tangent = graph.lengths[:, None], graph.tangents
        start = graph.nodes[graph.segments[:, 0]]
        rise = current[:, 1:] - current[:, :1]
        charge = 1j * rise / (C_0 * k * length)
        level, slope = current[:, :1] * tangent, rise / length * tangent
        self._level, self._slope = _real(level), _real(slope)
        self._level_gradient = _real(_gradient_table(level, charge, start))
        slope_table = np.hstack([slope, np.cross(slope, start), 0.0 * charge, charge * tangent])
        self._slope_gradient = _real(slope_table)

        x, w = gauss_unit(POINTS)
        weight = (w * length)[:, :, None]
        there = weight * (current[:, :1] + rise * x)[:, :, None] * tangent[:, None, :]
        self._places = graph.points(x).reshape(-1, 3)
        self._radius = graph.radius.repeat(POINTS)
        moment, spread = there.reshape(-1, 3), (weight * charge[:, :, None]).reshape(-1, 1)
        self._moment = _real(moment)
        self._moment_gradient = _real(_gradient_table(moment, spread, self._places))

    def fields(self, points: FloatArray) -> tuple[ComplexArray, ComplexArray]:
        """E [V/m] and H [A/m] at points (n, 3) [m]."""
        half_k_squared = self._k**2 / 2.0
        inverse, inverse_s, cube, cube_s = _line_integrals(self._graph, points)
        potential = _complex(inverse @ self._level + inverse_s @ self._slope)
        gradient = _complex(
            (cube + half_k_squared * inverse) @ self._level_gradient
            + (cube_s + half_k_squared * inverse_s) @ self._slope_gradient
        )
        real, imaginary, gradient_real, gradient_imaginary = _remainders(
            _distances(points, self._places, self._radius), self._k
        )
        potential += _complex(real @ self._moment) + 1j * _complex(imaginary @ self._moment)
        gradient += _complex(gradient_real @ self._moment_gradient)
        gradient += 1j * _complex(gradient_imaginary @ self._moment_gradient)
        moment, moment_at, charge, charge_at = np.split(gradient, [3, 6, 7], axis=1)
        electric = (points * charge - charge_at) / EPS_0 - 1j * self._k * C_0 * MU_0 * potential
        magnetic = np.cross(moment, points) - moment_at
        return electric / (4.0 * np.pi), magnetic / (4.0 * np.pi)


def _gradient_table(moment: ComplexArray, charge: ComplexArray, source: FloatArray) -> ComplexArray:
    return np.hstack([moment, np.cross(moment, source), charge, charge * source])


def _real(table: ComplexArray) -> FloatArray:
    """A complex table as one of pairs, so that a real matrix times it stays real arithmetic."""
    return np.ascontiguousarray(table, dtype=np.complex128).view(np.float64)


def _complex(pairs: FloatArray) -> ComplexArray:
    return np.ascontiguousarray(pairs).view(np.complex128)


def _distances(points: FloatArray, sources: FloatArray, least: FloatArray) -> FloatArray:
    """Distances (n_points, n_sources) [m], no smaller than `least` (n_sources,)."""
    squared = np.zeros((len(points), len(sources)))
    for here, there in zip(points.T, sources.T, strict=True):
        difference = here[:, None] - there
        squared += difference * difference
    return np.sqrt(np.maximum(squared, least * least))


def _line_integrals(
    graph: WireGraph, points: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Along each segment, s from its start: of 1/R, s/R, 1/R^3, s/R^3; each (n_points, n_segments)."""
    h, a = graph.lengths, graph.radius
    start, end = graph.segments.T
    to_node = _distances(points, graph.nodes, np.zeros(len(graph.nodes)))
    to_start, to_end = np.maximum(to_node[:, start], a), np.maximum(to_node[:, end], a)
    foot = points @ graph.tangents.T - np.sum(graph.nodes[start] * graph.tangents, axis=1)
    rest = h - foot
    # On the axis the sum of distances to the ends is h; on the surface it is at least this much more.
    beyond = np.maximum(to_start + to_end - h, np.hypot(h, 2.0 * a) - h)
    inverse = np.log1p(2.0 * h / beyond)
    inverse_s = to_end - to_start + foot * inverse
    # rest/to_end + foot/to_start over the squared distance rho from the line; past an end rho is cancelled.
    beside = foot * rest > 0.0
    rho_squared = np.maximum(to_start * to_start - foot * foot, a * a)
    product = to_start * to_end
    spread = rest * to_start - foot * to_end
    cube = np.where(
        beside,
        (rest * to_start + foot * to_end) / (product * rho_squared),
        h * (rest - foot) / (product * np.where(beside, 1.0, spread)),
    )
    cube_s = 1.0 / to_start - 1.0 / to_end + foot * cube
    return inverse, inverse_s, cube, cube_s


def _remainders(distance: FloatArray, k: float) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """What the closed integrals leave of exp(-jx)/R and of (1 + jx) exp(-jx)/R^3, x = kR: real, imaginary, each."""
    x = k * distance
    # Sine and 1 - cosine from the tangent of x/2: no cancellation, and numpy's tangent is its quickest.
    tangent = np.tan(x / 2.0)
    sine = 2.0 * tangent / (1.0 + tangent * tangent)
    versine = tangent * sine
    inverse = 1.0 / distance
    cube = inverse * inverse * inverse
    real = (x * (sine - x / 2.0) - versine) * cube
    imaginary = (x * (1.0 - versine) - sine) * cube
    return -versine * inverse, -sine * inverse, real, imaginary
