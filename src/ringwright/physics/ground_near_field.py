# SPDX-License-Identifier: BSD-3-Clause
r"""What the earth adds to the near field of wires, for thousands of points at a time.

Potentials of form C (see `half_space.kernels`) from the wires' own charges q. The ends of dipoles would do as well on
paper, but those of neighbours nearly cancel, and what a table leaves out is then large against the field itself.

.. math::
    E_x &= -j\omega\mu_0 (K_{xx} m_x + x W m_z) + x P_\rho q / \epsilon_0 \qquad \text{(same for y)} \\
    E_z &= -j\omega\mu_0 (K_{zz} m_z - W (x m_x + y m_y)) + P_z q / \epsilon_0 \\
    H_x &= x y h_2 m_x - (h_0 + C h_2) m_y - y h_v m_z \\
    H_y &= (h_0 - C h_2) m_x - x y h_2 m_y + x h_v m_z \\
    H_z &= h_t (y m_x - x m_y)

with m = I l, C = (x^2 - y^2)/2, and P the negative derivatives of K_phi, the one over rho divided by rho. One table
serves every point: it is laid out again only for a point farther out than all before.
"""

from dataclasses import replace

import numpy as np

from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import EPS_0, MU_0
from ringwright.physics.graph import FloatArray, WireGraph
from ringwright.physics.half_space.contour import Reach
from ringwright.physics.half_space.kernels import K_MAX, check_frequency
from ringwright.physics.half_space.spectrum import Kernel, wave_index, wavenumber
from ringwright.physics.half_space.tables import KernelTable
from ringwright.physics.near_field import NearFieldAt, near_field
from ringwright.physics.wave_kernel import ComplexArray

KERNELS = (
    Kernel(lambda s: s.rte, order=0, decay=1),  # K_xx
    Kernel(lambda s: s.rtm + s.g0**2 * s.t, order=0, decay=1),  # K_zz
    Kernel(lambda s: s.k_rho * s.g0 * s.t, order=1, decay=2),  # W
    Kernel(lambda s: s.k_rho * (s.k0**2 * s.t - s.rtm), order=1, decay=3),  # P_rho
    Kernel(lambda s: s.g0 * (s.k0**2 * s.t - s.rtm), order=0, decay=2),  # P_z
    Kernel(lambda s: 0.5 * s.g0 * (s.rtm - s.rte), order=0, decay=2),  # h_0
    Kernel(lambda s: s.g0 * (s.rtm + s.rte), order=2, decay=4),  # h_2
    Kernel(lambda s: s.k_rho * s.rte, order=1, decay=3),  # h_t
    Kernel(lambda s: s.k_rho * s.rtm, order=1, decay=3),  # h_v
)
TOLERANCE = 1e-4  # of a table, over the kernel of a perfect image
POINTS = 4  # a panel of the table: the fewer, the quicker a point is read
SHORT = 0.25  # an element is no longer than this share of its height
FARTHEST = 100.0  # [m] from any conductor; checked by quadrature
FIRST_REACH = 6.0  # [m] of a table, before a point asks for more
ROOM = 1.5  # of the distance asked for, that a new table reaches
ROUNDING = 1e-9  # [m] by which a point on the earth may lie below it
PAIRS_AT_ONCE = 4_000  # of point and element: what stays in a core's cache


def ground_near_field(
    graph: WireGraph, current: ComplexArray, frequency: float, *, eps_c: complex
) -> NearFieldAt:
    """Ground part of the near field of given currents, as a function of place; add it to `near_field`.

    Parameters
    ----------
    graph : WireGraph
        The wires, above the earth at z = 0. [m]
    current : ndarray of complex128, shape (n_segments, 2)
        At start and end of each segment, along it; rms phasors give rms fields. [A]
    frequency : float
        1.8 to 54 MHz. [Hz]
    eps_c : complex
        Complex relative permittivity of the earth, or `PERFECT_EARTH`. [1]

    Returns
    -------
    NearFieldAt
        E [V/m] and H [A/m], each (n, 3), at points (n, 3) [m], z >= 0.

    Raises
    ------
    OutOfRangeError
        If frequency or earth, or later a point, lies outside these ranges, or farther than `FARTHEST` from a wire.

    Notes
    -----
    E and H within 1e-3 of the whole field. Over a perfect earth it is the exact image.
    """
    if not np.isfinite(eps_c):
        image = replace(graph, nodes=graph.nodes * [1.0, 1.0, -1.0])
        return near_field(image, -current, frequency)
    check_frequency(frequency, K_MAX)
    return _GroundField(graph, current, frequency, eps_c=eps_c).fields


class _GroundField:
    """Elements above one earth at one frequency, with the table that serves the points asked for so far."""

    def __init__(self, graph: WireGraph, current: ComplexArray, frequency: float, *, eps_c: complex) -> None:
        self._k, self._eps_c = wavenumber(frequency), eps_c
        self._omega = 2.0 * np.pi * frequency
        self._places, self._moments, self._charges = _elements(graph, current, self._omega)
        self._lowest, self._highest = float(self._places[:, 2].min()), float(self._places[:, 2].max())
        self._reach = FIRST_REACH, FIRST_REACH
        self._lay_out()

    def fields(self, points: FloatArray) -> tuple[ComplexArray, ComplexArray]:
        """E [V/m] and H [A/m] at points (n, 3) [m]."""
        if len(points) and points[:, 2].min() < -ROUNDING:
            raise OutOfRangeError(
                f"a point lies {-points[:, 2].min():.3g} m in the earth; choose one above it"
            )
        electric = np.empty(points.shape, dtype=np.complex128)
        magnetic = np.empty(points.shape, dtype=np.complex128)
        step = max(1, PAIRS_AT_ONCE // len(self._places))
        for first in range(0, len(points), step):
            piece = slice(first, first + step)
            electric[piece], magnetic[piece] = self._piece(points[piece])
        return electric, magnetic

    def _piece(self, points: FloatArray) -> tuple[ComplexArray, ComplexArray]:
        x = points[:, :1] - self._places[:, 0]
        y = points[:, 1:2] - self._places[:, 1]
        h = np.maximum(points[:, 2:], 0.0) + self._places[:, 2]
        rho_squared = x * x + y * y
        k_xx, k_zz, w, p_rho, p_z, h_0, h_2, h_t, h_v = self._read(rho_squared, h)
        (m_x, m_y, m_z), q = self._moments.T, self._charges
        w_x, w_y, v_x, v_y = x * w, y * w, x * h_v, y * h_v
        c, xy = 0.5 * (x * x - y * y) * h_2, x * y * h_2
        potential = [k_xx @ m_x + w_x @ m_z, k_xx @ m_y + w_y @ m_z, k_zz @ m_z - w_x @ m_x - w_y @ m_y]
        gradient = [(x * p_rho) @ q, (y * p_rho) @ q, p_z @ q]
        magnetic = [
            xy @ m_x - (h_0 + c) @ m_y - v_y @ m_z,
            (h_0 - c) @ m_x - xy @ m_y + v_x @ m_z,
            (y * h_t) @ m_x - (x * h_t) @ m_y,
        ]
        electric = np.stack(gradient, axis=1) / EPS_0 - 1j * self._omega * MU_0 * np.stack(potential, axis=1)
        return electric, np.stack(magnetic, axis=1)

    def _read(self, rho_squared: FloatArray, h: FloatArray) -> list[ComplexArray]:
        """Every kernel at pairs (n_points, n_elements)."""
        rho = np.sqrt(rho_squared)
        self._reach_to(float(rho.max()), float(h.max()))
        weights = self._table.weights(rho.ravel(), h.ravel())
        scaled = (weights @ self._values).view(np.complex128).T.reshape(len(KERNELS), *h.shape)
        inverse = 1.0 / np.sqrt(rho_squared + h * h)
        powers = [np.ones(1), inverse, inverse**2]
        powers += [powers[1] * powers[2], powers[2] * powers[2]]
        return [row * powers[kernel.decay] for row, kernel in zip(scaled, KERNELS, strict=True)]

    def _reach_to(self, rho: float, h: float) -> None:
        if rho > FARTHEST:
            raise OutOfRangeError(
                f"a point lies {rho:.3g} m from a conductor, fields hold to {FARTHEST:.3g} m"
            )
        if rho > self._reach[0] or h > self._reach[1]:
            self._reach = max(self._reach[0], ROOM * rho), max(self._reach[1], ROOM * h)
            self._lay_out()

    def _lay_out(self) -> None:
        rho_max, h_max = self._reach
        reach = Reach(
            h_min=self._lowest,
            h_max=max(h_max, 2.0 * self._highest),
            rho_max=rho_max,
            k_max=self._k,
            k_earth=wave_index(self._eps_c) * self._k,
        )
        self._table = KernelTable.build(KERNELS, reach, tolerance=TOLERANCE, points=POINTS)
        self._values = self._table.values(self._k, self._eps_c).view(np.float64)


def _elements(
    graph: WireGraph, current: ComplexArray, omega: float
) -> tuple[FloatArray, ComplexArray, ComplexArray]:
    """Places [m], moments [A m] and charges [C] of point elements, each short against its height."""
    allowed = SHORT * graph.nodes[graph.segments, 2].min(axis=1)
    count = np.maximum(1, np.ceil(graph.lengths / allowed)).astype(int)
    owner = np.repeat(np.arange(len(count)), count)
    number = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    fraction = ((number + 0.5) / count[owner])[:, None]
    start, end = current[owner, :1], current[owner, 1:]
    places = graph.nodes[graph.segments[owner, 0]] + fraction * graph.vectors[owner]
    moments = (start + fraction * (end - start)) * graph.vectors[owner] / count[owner, None]
    return places, moments, 1j * (end - start)[:, 0] / (omega * count[owner])
