# SPDX-License-Identifier: BSD-3-Clause
"""What the earth adds to the interaction of wires above it."""

from collections.abc import Callable

import numpy as np

from ringwright.physics.constants import EPS_0, MU_0
from ringwright.physics.graph import FloatArray, Rooftops, WireGraph
from ringwright.physics.half_space import GroundPart
from ringwright.physics.wave_kernel import ComplexArray

__all__ = ["GroundReaction"]

Ground = Callable[[FloatArray, FloatArray], GroundPart]
"""Prepares the ground part for pairs at horizontal distances and sums of heights [m]."""


class GroundReaction:
    """Impedance through the earth between the rooftops of a graph.

    One point a segment: the image lies no nearer than twice the height, against which segments are short. Two
    points move efficiency and Q of a ring a metre high by less than 5e-5.

    Parameters
    ----------
    graph : WireGraph
        Conductors above the earth at z = 0. [m]
    rooftops : Rooftops
        Its current functions.
    prepare : callable
        From pairs (rho, h) to their ground part, as `GroundOperator.build`.
    """

    def __init__(self, graph: WireGraph, rooftops: Rooftops, prepare: Ground) -> None:
        self._current, self._charge = rooftops.on_segments(len(graph.segments))
        points, moments = graph.centres, graph.vectors
        self._upper = np.triu_indices(len(points))
        first, second = (points[index] for index in self._upper)
        offset = first[:, :2] - second[:, :2]
        self._part = prepare(np.hypot(offset[:, 0], offset[:, 1]), first[:, 2] + second[:, 2])
        m, n = (moments[index] for index in self._upper)
        self._horizontal = np.sum(m[:, :2] * n[:, :2], axis=1)
        self._vertical = m[:, 2] * n[:, 2]
        self._crossed = np.sum(offset * (m[:, :2] * n[:, 2:] - m[:, 2:] * n[:, :2]), axis=1)

    def reflected(self, frequency: float, eps_c: complex) -> ComplexArray:
        """Impedance between functions through the earth [ohm], shape (n_functions, n_functions).

        `eps_c` is the earth's complex relative permittivity at `frequency` [Hz].
        """
        kernels = self._part.evaluate(frequency, eps_c)
        currents = kernels.k_xx * self._horizontal + kernels.k_zz * self._vertical + kernels.w * self._crossed
        omega = 2.0 * np.pi * frequency
        return np.asarray(
            1j * omega * MU_0 * (self._current @ self._square(currents) @ self._current.T)
            + self._charge @ self._square(kernels.k_phi) @ self._charge.T / (1j * omega * EPS_0)
        )

    def _square(self, upper: ComplexArray) -> ComplexArray:
        n = self._current.shape[1]
        out = np.empty((n, n), dtype=np.complex128)
        out[self._upper] = upper
        out.T[self._upper] = upper
        return out
