# SPDX-License-Identifier: BSD-3-Clause
r"""Half-space kernels for many pairs of points: a small table a frequency, read by one sparse product.

On the nodes of a contour the integrand separates into J_n(k_rho rho) x density x exp(-gamma_0 h), so the table of a
kernel over (rho, h) is one matrix product. It is laid out in

.. math:: q_h = \ln h + \beta k h, \qquad q_\rho = \ln s + \beta k' s, \quad s = \sqrt{\rho^2 + h_{min}^2}

where r^p K varies slowly: logarithmic near the image, linear where waves (in air k, along the earth k') set the
scale. Both axes are cut into panels of Chebyshev points; a pair reads one panel of each, and the weights are kept as
a sparse matrix, which depends on the geometry alone.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.sparse import csr_array
from scipy.special import factorial, wrightomega

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.half_space.contour import Contour, Reach
from ringwright.physics.half_space.spectrum import Kernel, Spectrum, bessel_over_power

_EARTH_WAVE_HEIGHTS = 3.0  # k h beyond which waves along the earth no longer reach the conductors; measured


@dataclass(frozen=True, slots=True, eq=False)
class Axis:
    """Panels of Chebyshev points, equal in q(x) = ln x + bend x, between two lengths."""

    bend: float
    start: float
    panel: float
    panels: int
    points: int

    @classmethod
    def spanning(
        cls, low: float, high: float, *, k: float, tolerance: float, points: int | None = None
    ) -> "Axis":
        """Panels short enough for `tolerance`, of so many `points` as keep the table small where none are asked for.

        The nearest singularity in ln x lies pi/2 off the axis, so that p Chebyshev points on a panel leave about
        (panel / 2 pi)^p; of a wave exp(jkx) over a phase of 2 a they leave 2 (a/2)^p / p!. `bend` makes both equal.
        """
        points = points or max(4, int(np.ceil(-1.25 * np.log10(tolerance))))
        bend = 0.5 * np.pi * float(2.0 / factorial(points)) ** (1.0 / points) * k
        start, end = (float(np.log(x) + bend * x) for x in (low, high))
        panels = max(1, int(np.ceil((end - start) / (2.0 * np.pi * tolerance ** (1.0 / points)))))
        return cls(bend, start, max((end - start) / panels, 1e-6), panels, points)

    def nodes(self) -> FloatArray:
        """Lengths x of all points, panel by panel. [m]"""
        local = 0.5 * (1.0 + np.polynomial.chebyshev.chebpts1(self.points))
        q = (self.start + self.panel * (np.arange(self.panels)[:, None] + local)).ravel()
        return np.asarray(wrightomega(q + np.log(self.bend)) / self.bend, dtype=float)

    def weights(self, x: FloatArray) -> tuple[npt.NDArray[np.int32], FloatArray]:
        """Number of the first point of the panel of each `x`, and the interpolation weights of its points."""
        t = (np.log(x) + self.bend * x - self.start) / self.panel
        panel = np.clip(t, 0, self.panels - 1).astype(np.int32)
        degree = self.points - 1
        at_points = np.polynomial.chebyshev.chebvander(np.polynomial.chebyshev.chebpts1(self.points), degree)
        at_points[:, 0] *= 0.5
        at_x = np.polynomial.chebyshev.chebvander(2.0 * (t - panel) - 1.0, degree)
        return panel * np.int32(self.points), np.asarray(at_x @ at_points.T * (2.0 / self.points))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KernelTable:
    """All about a table that no frequency and no earth changes.

    Attributes
    ----------
    kernels : tuple of Kernel
        What is tabulated.
    h_min : float
        Least sum of heights. [m]
    across, up : Axis
        Layout over rho and over h.
    contour : Contour
        Path of integration.
    bessel : dict of int to ndarray of complex128, shape (n_rho, n)
        J_n(k_rho rho) / rho^n times the path's weights, by order n.
    heights : ndarray of float64, shape (n_h,)
        h of the table. [m]
    distance : ndarray of float64, shape (n_rho, n_h)
        r of the table's points. [m]
    """

    kernels: tuple[Kernel, ...]
    h_min: float
    across: Axis
    up: Axis
    contour: Contour
    bessel: dict[int, ComplexArray]
    heights: FloatArray
    distance: FloatArray

    @classmethod
    def build(
        cls, kernels: tuple[Kernel, ...], reach: Reach, *, tolerance: float, points: int | None = None
    ) -> "KernelTable":
        """Lay out the table and evaluate the Bessel functions.

        Few `points` a panel make a large table that many pairs are read from quickly; by default it is small.
        """
        h_min = reach.h_min
        contour = Contour.build(kernels, reach, tolerance=tolerance)
        k_along = max(reach.k_max, min(reach.k_earth, _EARTH_WAVE_HEIGHTS / h_min))
        widest = float(np.hypot(reach.rho_max, h_min))
        across = Axis.spanning(h_min, widest, k=k_along, tolerance=tolerance, points=points)
        up = Axis.spanning(h_min, reach.h_max, k=reach.k_max, tolerance=tolerance, points=points)
        heights = up.nodes()
        rho = np.sqrt(np.maximum(across.nodes() ** 2 - h_min**2, 0.0))
        return cls(
            kernels=kernels,
            h_min=h_min,
            across=across,
            up=up,
            contour=contour,
            bessel={
                order: bessel_over_power(order, contour.k_rho, rho) * contour.weight
                for order in {kernel.order for kernel in kernels}
            },
            heights=heights,
            distance=np.hypot(rho[:, None], heights),
        )

    def values(self, k0: float, eps_c: complex) -> ComplexArray:
        """r^decay times every kernel at the table's points, shape (n_rho * n_h, n_kernels)."""
        spectrum = Spectrum.at(self.contour.k_rho, k0=k0, eps_c=eps_c)
        down = self._down(spectrum)
        table = np.empty((self.distance.size, len(self.kernels)), dtype=complex)
        for column, kernel in enumerate(self.kernels):
            kernel_values = self.bessel[kernel.order] @ (kernel.density(spectrum)[:, None] * down)
            table[:, column] = (kernel_values * self.distance**kernel.decay).ravel()
        return table

    def summed(self, k0: float, eps_c: ComplexArray, at_points: ComplexArray) -> ComplexArray:
        """Sums of r^decay times the kernels, weighted at the table's points, for many earths (n,): shape (n, q).

        `at_points` (n_rho * n_h, n_kernels, q). What is summed over points first depends on no earth: an earth then
        costs one product along the path of integration.
        """
        spectrum = Spectrum.at(self.contour.k_rho, k0=k0, eps_c=eps_c[:, None])
        down = self._down(spectrum)
        out = np.zeros((len(eps_c), at_points.shape[2]), dtype=complex)
        for column, kernel in enumerate(self.kernels):
            grown = at_points[:, column] * (self.distance**kernel.decay).reshape(-1, 1)
            by_height = np.tensordot(
                self.bessel[kernel.order], grown.reshape(*self.distance.shape, -1), axes=(0, 0)
            )
            out += kernel.density(spectrum) @ np.einsum("khq,kh->kq", by_height, down)
        return out

    def _down(self, spectrum: Spectrum) -> ComplexArray:
        """What every integrand falls with towards the heights of the table, shape (n, n_h)."""
        down = np.exp(-self.heights * spectrum.g0[:, None])
        return np.asarray(down * (self.contour.k_rho / (4.0 * np.pi * spectrum.g0))[:, None])

    def weights(self, rho: FloatArray, h: FloatArray) -> csr_array:
        """Interpolation from the table's points to pairs, shape (n_pairs, n_rho * n_h)."""
        i, across = self.across.weights(np.hypot(rho, self.h_min))
        j, up = self.up.weights(h)
        rows = (i[:, None] + np.arange(across.shape[1], dtype=np.int32)) * np.int32(len(self.heights))
        columns = rows[:, :, None] + (j[:, None] + np.arange(up.shape[1], dtype=np.int32))[:, None, :]
        products = across[:, :, None] * up[:, None, :]
        starts = np.arange(len(rho) + 1, dtype=np.int32) * np.int32(products[0].size)
        return csr_array((products.ravel(), columns.ravel(), starts), shape=(len(rho), self.distance.size))

    def read(self, values: ComplexArray, weights: csr_array, distance: FloatArray) -> ComplexArray:
        """Every kernel at pairs `distance` (r) apart [m], from `values` and their `weights`; (n_kernels, n_pairs)."""
        out = np.asarray((weights @ values.view(float)).view(complex).T)
        for row, kernel in enumerate(self.kernels):
            out[row] /= distance**kernel.decay
        return out
