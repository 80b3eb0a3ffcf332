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
from scipy.special import wrightomega

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.half_space.contour import Contour
from ringwright.physics.half_space.spectrum import Kernel, Spectrum, bessel_over_power

_BETA = 0.3  # of a radian of wave against a power of e in the layout of the panels; measured
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
    def spanning(cls, low: float, high: float, *, bend: float, tolerance: float) -> "Axis":
        """Panels short enough for `tolerance`: the nearest singularity lies pi/2 off the axis in q, so that p
        Chebyshev points leave about (panel / 2 pi)^p."""
        points = max(4, int(np.ceil(-1.25 * np.log10(tolerance))))
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
    """Everything about a set of kernels and pairs that no frequency and no earth changes.

    Attributes
    ----------
    kernels : tuple of Kernel
        What is tabulated.
    contour : Contour
        Path of integration.
    bessel : dict of int to ndarray of complex128, shape (n_rho, n)
        J_n(k_rho rho) / rho^n times the path's weights, by order n.
    heights : ndarray of float64, shape (n_h,)
        h of the table. [m]
    scale : ndarray of float64, shape (n_rho, n_h)
        r of the table's points. [m]
    weights : sparse array, shape (n_pairs, n_rho * n_h)
        Interpolation from table to distinct pairs.
    distance : ndarray of float64, shape (n_distinct,)
        r of the distinct pairs. [m]
    pair : ndarray of int64, shape (n_pairs,)
        Which distinct pair each pair is.
    """

    kernels: tuple[Kernel, ...]
    contour: Contour
    bessel: dict[int, ComplexArray]
    heights: FloatArray
    scale: FloatArray
    weights: csr_array
    distance: FloatArray
    pair: npt.NDArray[np.int64]

    @classmethod
    def build(
        cls,
        kernels: tuple[Kernel, ...],
        rho: FloatArray,
        h: FloatArray,
        *,
        k_max: float,
        k_earth: float,
        tolerance: float,
    ) -> "KernelTable":
        """Prepare for pairs `rho`, `h` (1-D) and wavenumbers up to `k_max` in air and `k_earth` in the earth."""
        rho, h, pair = _distinct(rho, h)
        h_min, rho_max = float(h.min()), float(rho.max())
        contour = Contour.build(
            h_min=h_min,
            rho_max=rho_max,
            k_max=k_max,
            k_earth=k_earth,
            decay=max(kernel.decay for kernel in kernels),
            tolerance=tolerance,
        )
        k_along = max(k_max, min(k_earth, _EARTH_WAVE_HEIGHTS / h_min))
        across = Axis.spanning(
            h_min, float(np.hypot(rho_max, h_min)), bend=_BETA * k_along, tolerance=tolerance
        )
        up = Axis.spanning(h_min, float(h.max()), bend=_BETA * k_max, tolerance=tolerance)
        heights = up.nodes()
        table_rho = np.sqrt(np.maximum(across.nodes() ** 2 - h_min**2, 0.0))
        return cls(
            kernels=kernels,
            contour=contour,
            bessel={
                order: bessel_over_power(order, contour.k_rho, table_rho) * contour.weight
                for order in {kernel.order for kernel in kernels}
            },
            heights=heights,
            scale=np.hypot(table_rho[:, None], heights),
            weights=_product_weights(
                across.weights(np.hypot(rho, h_min)), up.weights(h), (len(table_rho), len(heights))
            ),
            distance=np.hypot(rho, h),
            pair=pair,
        )

    def evaluate(self, k0: float, eps_c: complex) -> ComplexArray:
        """All kernels at all pairs, shape (n_kernels, n_pairs)."""
        spectrum = Spectrum.at(self.contour.k_rho, k0=k0, eps_c=eps_c)
        down = np.exp(-self.heights * spectrum.g0[:, None])
        down *= (self.contour.k_rho / (4.0 * np.pi * spectrum.g0))[:, None]
        table = np.empty((self.scale.size, len(self.kernels)), dtype=complex)
        for column, kernel in enumerate(self.kernels):
            values = self.bessel[kernel.order] @ (kernel.density(spectrum)[:, None] * down)
            table[:, column] = (values * self.scale**kernel.decay).ravel()
        read = (self.weights @ table.view(float)).view(complex).T
        for column, kernel in enumerate(self.kernels):
            read[column] /= self.distance**kernel.decay
        return np.asarray(read[:, self.pair])


def _distinct(rho: FloatArray, h: FloatArray) -> tuple[FloatArray, FloatArray, npt.NDArray[np.int64]]:
    """Pairs that differ by more than rounding, and which of them each pair is: a ring repeats most of its own."""
    grain = 1e-9 * float(h.min())
    key = np.rint(rho / grain) + 1j * np.rint(h / grain)
    _, first, pair = np.unique(key, return_index=True, return_inverse=True)
    return rho[first], h[first], pair


def _product_weights(
    across: tuple[npt.NDArray[np.int32], FloatArray],
    up: tuple[npt.NDArray[np.int32], FloatArray],
    shape: tuple[int, int],
) -> csr_array:
    """Sparse matrix of the products of two sets of one-dimensional weights."""
    (i, wi), (j, wj) = across, up
    pairs, p, q = len(i), wi.shape[1], wj.shape[1]
    rows = (i[:, None] + np.arange(p, dtype=np.int32)) * np.int32(shape[1])
    columns = rows[:, :, None] + (j[:, None] + np.arange(q, dtype=np.int32))[:, None, :]
    values = wi[:, :, None] * wj[:, None, :]
    starts = np.arange(pairs + 1, dtype=np.int32) * np.int32(p * q)
    return csr_array((values.ravel(), columns.ravel(), starts), shape=(pairs, shape[0] * shape[1]))
