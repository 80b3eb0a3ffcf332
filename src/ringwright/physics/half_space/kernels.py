# SPDX-License-Identifier: BSD-3-Clause
r"""The earth's share of the mixed potentials, for Galerkin solvers of wires in air.

With I the current and q = (j/w) dI/dl the charge per length, at heights z' > 0, the potentials in air are

.. math::
    A_x &= \mu_0 \int [(G + K_{xx})\, I_x + (x - x') W I_z]\, dl' \qquad \text{(same for y)} \\
    A_z &= \mu_0 \int [(G + K_{zz})\, I_z - ((x - x') I_x + (y - y') I_y)\, W]\, dl' \\
    \phi &= \epsilon_0^{-1} \int (G + K_\phi)\, q\, dl', \qquad E = -j\omega A - \nabla \phi

with G = exp(-jkR)/(4 pi R) the kernel of free space; the K here are the ground parts alone, of the same
normalisation, at rho (horizontal distance) and h = z + z'. One scalar kernel serves horizontal and vertical wires, so
currents may change direction and join anywhere. Unprimed and primed points exchange freely: the matrix of a Galerkin
method stays symmetric, because (x - x') changes its sign with the exchange.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt
from numpy.typing import ArrayLike
from scipy.sparse import csr_array

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import ComplexArray, FloatArray, not_negative, positive
from ringwright.physics.half_space.contour import K_MIN, Reach
from ringwright.physics.half_space.spectrum import Kernel, wave_index, wavenumber
from ringwright.physics.half_space.tables import KernelTable

__all__ = [
    "K_MAX",
    "LOWEST_PAIR",
    "POTENTIALS",
    "WIDEST_PAIR",
    "GroundKernels",
    "GroundOperator",
    "GroundPart",
    "PerfectEarth",
]

LOWEST_PAIR = 0.2
"""Smallest z + z' the tables are verified for: no conductor lower than half of it. [m]"""

WIDEST_PAIR = 40.0
"""Largest horizontal distance the tables are verified for; half a wave in air where that is more. [m]"""

K_MAX = 1.14
"""Largest wavenumber in air the tables are verified for; 54.4 MHz. [1/m]"""

POTENTIALS = (
    Kernel(lambda s: -s.rtm + s.k0**2 * s.t, order=0, decay=1),
    Kernel(lambda s: s.rte, order=0, decay=1),
    Kernel(lambda s: s.rtm + s.g0**2 * s.t, order=0, decay=1),
    Kernel(lambda s: s.k_rho * s.g0 * s.t, order=1, decay=2),
)
"""K_phi, K_xx, K_zz and W of form C."""


@dataclass(frozen=True, slots=True, eq=False)
class GroundKernels:
    """Ground part of the potentials at each pair.

    Attributes
    ----------
    k_phi, k_xx, k_zz : ndarray of complex128, shape (...)
        Beside exp(-jkR)/(4 pi R). [1/m]
    w : ndarray of complex128, shape (...)
        Couples horizontal and vertical through the horizontal distance. [1/m^2]
    """

    k_phi: ComplexArray
    k_xx: ComplexArray
    k_zz: ComplexArray
    w: ComplexArray


class GroundPart(Protocol):
    """What an earth does to the kernels of a fixed set of pairs."""

    def evaluate(self, frequency: float, eps_c: complex) -> GroundKernels: ...

    def summed(self, frequency: float, eps_c: ComplexArray, coefficients: ComplexArray) -> ComplexArray: ...


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GroundOperator:
    """Ground part over a lossy earth for fixed pairs, any frequency and earth within limits.

    Attributes
    ----------
    table : KernelTable
        Of the potentials.
    weights : sparse array, shape (n_distinct, n_table)
        Interpolation from the table to the distinct pairs.
    distance : ndarray of float64, shape (n_distinct,)
        r of the distinct pairs. [m]
    pair : ndarray of int64, shape (...)
        Which distinct pair each pair is.
    k_max : float
        Largest wavenumber in air. [1/m]
    index_max : float
        Largest wave index of the earth. [1]
    """

    table: KernelTable
    weights: csr_array
    distance: FloatArray
    pair: npt.NDArray[np.int64]
    k_max: float
    index_max: float

    @classmethod
    def build(
        cls, rho: ArrayLike, h: ArrayLike, *, k_max: float, tolerance: float = 1e-6, index_max: float = 9.0
    ) -> "GroundOperator":
        """Prepare for the pairs `rho`, `h`.

        Parameters
        ----------
        rho, h : array_like of float, shape (...)
            Horizontal distance, 0 to `WIDEST_PAIR` or pi/k_max, and sum of the heights, from `LOWEST_PAIR`. [m]
        k_max : float
            Wavenumber in air at the highest frequency to come. [1/m]
        tolerance : float
            Error aimed at, over the kernel of a perfect image; 1e-6 keeps power balances to 1e-5. [1]
        index_max : float
            Largest `wave_index` of the earths to come; 9 covers them all, a dry earth's own saves time
            for wide sites. [1]

        Returns
        -------
        GroundOperator
            To be asked at each frequency.

        Raises
        ------
        OutOfRangeError
            If a pair or `k_max` is outside what the tables are verified for.

        Notes
        -----
        Measured: below twice `tolerance` for 1.8 to 54 MHz, sea water to dry sand.
        """
        rho_, h_ = np.broadcast_arrays(not_negative("horizontal distance", rho), positive("z + z'", h))
        if h_.min() < LOWEST_PAIR * (1.0 - 1e-9):
            raise OutOfRangeError(
                f"a conductor lies {h_.min() / 2.0:.3g} m above the earth, the method holds from "
                f"{LOWEST_PAIR / 2.0:.3g} m: raise it"
            )
        if not K_MIN <= k_max <= K_MAX:
            raise OutOfRangeError(f"k_max must be {K_MIN:.3g} to {K_MAX:.3g} 1/m, got {k_max:.4g}")
        widest = max(WIDEST_PAIR, np.pi / k_max)
        if rho_.max() > widest:
            raise OutOfRangeError(
                f"two conductors lie {rho_.max():.3g} m apart, the method holds to {widest:.3g} m: leave out the far "
                "one"
            )
        distinct_rho, distinct_h, pair = _distinct(rho_, h_)
        reach = Reach.of(distinct_rho, distinct_h, k_max=k_max, k_earth=index_max * k_max)
        table = KernelTable.build(POTENTIALS, reach, tolerance=tolerance)
        return cls(
            table=table,
            weights=table.weights(distinct_rho, distinct_h),
            distance=np.hypot(distinct_rho, distinct_h),
            pair=pair,
            k_max=k_max,
            index_max=index_max,
        )

    def evaluate(self, frequency: float, eps_c: complex) -> GroundKernels:
        """Ground part at one frequency.

        Parameters
        ----------
        frequency : float
            Frequency, up to the one `k_max` stands for. [Hz]
        eps_c : complex
            Complex relative permittivity of the earth, finite. [1]

        Returns
        -------
        GroundKernels
            In the shape of the pairs.

        Raises
        ------
        OutOfRangeError
            If frequency or earth is outside what the operator was built for.

        Notes
        -----
        Validity as of `build`.
        """
        check_frequency(frequency, self.k_max)
        if wave_index(eps_c) > self.index_max * (1.0 + 1e-9):
            raise OutOfRangeError(
                f"an earth of wave index {wave_index(eps_c):.3g} is outside the operator's {self.index_max:.3g}: "
                "build it for a larger index_max"
            )
        kernels = self.table.read(
            self.table.values(wavenumber(frequency), eps_c), self.weights, self.distance
        )
        return GroundKernels(*kernels[:, self.pair])

    def summed(self, frequency: float, eps_c: ComplexArray, coefficients: ComplexArray) -> ComplexArray:
        """Sums of all kernels over the pairs, weighted, for many earths at one frequency.

        Parameters
        ----------
        frequency : float
            Frequency, up to the one `k_max` stands for. [Hz]
        eps_c : ndarray of complex128, shape (n,)
            Complex relative permittivities of the earths, finite. [1]
        coefficients : ndarray of complex128, shape (n_pairs, 4, q)
            Of K_phi, K_xx, K_zz and W at each pair, in the order of `POTENTIALS`; for q sums. [any]

        Returns
        -------
        ndarray of complex128, shape (n, q)
            The sums. [unit of the coefficients over that of the kernel]

        Raises
        ------
        OutOfRangeError
            If the frequency is outside what the operator was built for.

        Notes
        -----
        The same path of integration serves every earth; of a wave index up to 2.7 times the operator's it leaves 1e-3.
        """
        check_frequency(frequency, self.k_max)
        distinct = _summed_by(self.pair, coefficients, count=len(self.distance))
        for column, kernel in enumerate(self.table.kernels):
            distinct[:, column] /= (self.distance**kernel.decay)[:, None]
        flat = distinct.reshape(len(self.distance), -1)
        at_points = (self.weights.T @ flat.view(float)).view(complex)
        return self.table.summed(wavenumber(frequency), eps_c, at_points.reshape(-1, *coefficients.shape[1:]))


def _summed_by(pair: npt.NDArray[np.int64], coefficients: ComplexArray, *, count: int) -> ComplexArray:
    """Coefficients (n_pairs, ...) of equal pairs together, (count, ...)."""
    together = csr_array((np.ones(pair.size), (pair.ravel(), np.arange(pair.size))), shape=(count, pair.size))
    flat = np.ascontiguousarray(coefficients.reshape(pair.size, -1))
    return np.asarray((together @ flat.view(float)).view(complex)).reshape(count, *coefficients.shape[1:])


def check_frequency(frequency: float, k_max: float) -> None:
    """Refuse a frequency [Hz] outside what paths of integration up to `k_max` [1/m] are made for."""
    if not K_MIN <= wavenumber(frequency) <= k_max * (1.0 + 1e-9):
        one_megahertz = wavenumber(1e6)
        raise OutOfRangeError(
            f"frequency over a lossy earth must be {K_MIN / one_megahertz:.3g} to {k_max / one_megahertz:.4g} MHz "
            f"here, got {frequency / 1e6:.4g} MHz"
        )


def _distinct(rho: FloatArray, h: FloatArray) -> tuple[FloatArray, FloatArray, npt.NDArray[np.int64]]:
    """Pairs that differ by more than rounding, and which of them each pair is: a ring repeats most of its own."""
    grain = 1e-9 * float(h.min())
    key = np.rint(rho / grain) + 1j * np.rint(h / grain)
    _, first, pair = np.unique(key, return_index=True, return_inverse=True)
    return rho.ravel()[first], h.ravel()[first], np.asarray(pair.reshape(rho.shape))


@dataclass(frozen=True, slots=True, eq=False)
class PerfectEarth:
    """Ground part over a perfectly conducting plane: the image, exactly.

    Attributes
    ----------
    rho, h : ndarray of float64, shape (...)
        Horizontal distance, >= 0, and sum of the heights, > 0, of the pairs. [m]
    """

    rho: FloatArray
    h: FloatArray

    def evaluate(self, frequency: float, eps_c: complex) -> GroundKernels:
        """Ground part at one frequency.

        Parameters
        ----------
        frequency : float
            Frequency. [Hz]
        eps_c : complex
            `PERFECT_EARTH`; asked for so that both earths are called alike. [1]

        Returns
        -------
        GroundKernels
            In the shape of the pairs: the image's kernel, negative for charge and horizontal current.

        Raises
        ------
        OutOfRangeError
            If `eps_c` is an earth that is not perfect.

        Notes
        -----
        Exact at any distance and frequency.
        """
        if np.isfinite(eps_c):
            raise OutOfRangeError(f"a perfect earth has no finite eps_c, got {eps_c:.4g}: use GroundOperator")
        r = np.hypot(self.rho, self.h)
        image = np.asarray(np.exp(-1j * wavenumber(frequency) * r) / (4.0 * np.pi * r), dtype=complex)
        return GroundKernels(k_phi=-image, k_xx=-image, k_zz=image, w=np.zeros_like(image))

    def summed(self, frequency: float, eps_c: ComplexArray, coefficients: ComplexArray) -> ComplexArray:
        """Sums of all kernels over the pairs, weighted: one row for every earth asked for.

        Parameters
        ----------
        frequency : float
            Frequency. [Hz]
        eps_c : ndarray of complex128, shape (n,)
            `PERFECT_EARTH` each. [1]
        coefficients : ndarray of complex128, shape (n_pairs, 4, q)
            As of `GroundOperator.summed`. [any]

        Returns
        -------
        ndarray of complex128, shape (n, q)
            The sums. [unit of the coefficients over that of the kernel]

        Raises
        ------
        OutOfRangeError
            If an earth is not perfect.

        Notes
        -----
        Exact.
        """
        kernels = [self.evaluate(frequency, complex(each)) for each in eps_c]
        rows = [np.stack([k.k_phi, k.k_xx, k.k_zz, k.w], axis=-1).reshape(-1, 4) for k in kernels]
        return np.asarray(np.einsum("npk,pkq->nq", np.array(rows), coefficients), dtype=complex)
