# SPDX-License-Identifier: BSD-3-Clause
"""What retardation adds to the static kernel: (exp(-jkR) - 1)/R between all pairs of segment shapes.

The remainder is an entire function of k. While the structure is small against the wavelength its power series
sum (-jk)^m R^(m-1) / m! has geometry-only matrices, so that any number of frequencies costs one small product;
beyond that it is evaluated frequency by frequency, never as the difference of nearly equal numbers.
"""

import math

import numpy as np
import numpy.typing as npt

from ringwright.physics.graph import FloatArray, WireGraph
from ringwright.physics.static_kernel import (
    contract_shapes,
    distances_squared,
    pair_radius_squared,
    shape_weights,
)

ComplexArray = npt.NDArray[np.complex128]

SERIES_LIMIT = 4.0  # k R: above it the terms cancel and their number grows past the cost of sin and cos
SERIES_TOLERANCE = 1e-11  # of the last term against (kR)^3/6, the term that radiates
POINTS = 2  # Gauss points a segment; the remainder is smooth except for a kink of order k^2 |R|


class WaveKernel:
    """The remainder's integrals over pairs of segment shapes, and their charges' counterpart.

    Both are returned over shapes, (n_shapes, n_shapes) with n_shapes = 2 n_segments, in units of metres for the
    currents (times the tangents' product) and 1/m for the charges.
    """

    def __init__(self, graph: WireGraph) -> None:
        x, self._weights = shape_weights(POINTS)
        self._n = len(graph.segments)
        points = graph.points(x).reshape(-1, 3)
        radius_squared = pair_radius_squared(graph).repeat(POINTS, axis=0).repeat(POINTS, axis=1)
        # The azimuth mean of |r - r'|^2 on one tube is d^2 + 2 a^2.
        self._distance = np.sqrt(distances_squared(points) + 2.0 * radius_squared)
        self.size = float(self._distance.max())
        self._over_shapes = ShapeProducts(graph)

    def terms_needed(self, k: float) -> int:
        """Number of series terms for wavenumber `k`, 0 where the series is not to be used."""
        x = k * self.size
        if x > SERIES_LIMIT:
            return 0
        m = 3
        while x ** (m - 3) * 6.0 / math.factorial(m) > SERIES_TOLERANCE:
            m += 1
        return m

    def moments(self, terms: int) -> tuple[FloatArray, FloatArray]:
        """Geometry-only matrices of the series, shapes (terms, n_shapes, n_shapes).

        Term m - 1 belongs to (-jk size)^m / m!. The charges' first term is zero: every function carries none.
        """
        scaled = self._distance / self.size
        powers = np.empty((terms, *scaled.shape))
        powers[0] = 1.0
        for m in range(1, terms):
            np.multiply(powers[m - 1], scaled, out=powers[m])
        currents, charges = self._over_shapes.apply(self._contract(powers) / self.size)
        charges[0] = 0.0
        return currents, charges

    def direct(self, k: float) -> tuple[ComplexArray, ComplexArray]:
        """The same sums without a series, for one wavenumber."""
        half = np.sin(k * self._distance / 2.0)
        real = -2.0 * half * half / self._distance
        imaginary = -np.sin(k * self._distance) / self._distance
        currents, charges = self._over_shapes.apply(self._contract(np.stack([real, imaginary])))
        return currents[0] + 1j * currents[1], charges[0] + 1j * charges[1]

    def _contract(self, kernel: FloatArray) -> FloatArray:
        shape = (len(kernel), self._n, POINTS, self._n, POINTS)
        return contract_shapes(kernel.reshape(shape), self._weights)


class ShapeProducts:
    """From integrals over shapes to what currents and charges need: tangents, lengths, slopes."""

    def __init__(self, graph: WireGraph) -> None:
        n = len(graph.segments)
        tangents, lengths = graph.tangents, graph.lengths
        self._n_shapes = 2 * n
        self._tangents = (tangents @ tangents.T)[:, None, :, None]
        self._lengths = lengths[:, None, None, None] * lengths[:, None]
        slope = np.array([-1.0, 1.0])
        self._slopes = slope[:, None, None] * slope

    def apply(self, unit_integrals: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Currents' and charges' matrices from integrals over unit-length shapes (..., n, 2, n, 2).

        The charge of a shape is spread evenly over its segment with density slope / length.
        """
        shape = (*unit_integrals.shape[:-4], self._n_shapes, self._n_shapes)
        currents = unit_integrals * (self._lengths * self._tangents)
        over_second = unit_integrals[..., :1] + unit_integrals[..., 1:]
        charges = (over_second[..., :1, :, :] + over_second[..., 1:, :, :]) * self._slopes
        return currents.reshape(shape), charges.reshape(shape)

    def apply_true(self, integrals: FloatArray) -> tuple[FloatArray, FloatArray]:
        """The same from integrals that already carry both lengths."""
        return self.apply(integrals / self._lengths)
