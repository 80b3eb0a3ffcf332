# SPDX-License-Identifier: BSD-3-Clause
r"""Where the dip is, from a handful of readings: a posterior on a grid, no iteration, no luck.

Reflected over forward power of a ring behind a coupling without loss is :math:`r = A - D / (1 + ((u - c) / w)^2)` in
the detuning u, here in half-widths expected by the design. A reading made on the way is the mean of reflected power
over the mean of forward power: a stretch counts most where the drive was slow, and where a transmitter that folds back
gives most.

Unknown are the centre c, the width w, the floor A, the bottom A - D, and the power P_k below which the meter's
diodes read too little. On a grid of (c, w, P_k) the two that are linear are integrated out with normal priors; the rest
is summed. The prior of c is normal about the place where the tuning curve has it. How noisy the meter is, the residuals
tell: integrated out with a prior worth a few readings, it makes a Student's t of the normal likelihood.
"""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ringwright.tuner.brain.dip import POINTS, Reading

FloatArray = npt.NDArray[np.float64]

WIDTHS = np.array([0.5, 0.63, 0.79, 1.0, 1.26, 1.6])
"""Of the expected half-width: a design's Q is known to some 30 per cent."""
_WIDTH_SPREAD = 0.35
KNEES = np.array([0.02, 0.06, 0.16, 0.42, 1.1])
"""Watts: where a diode turns from square law to linear."""
FLOOR, FLOOR_SIGMA = 0.98, 0.03
"""Far from resonance all comes back but what the cable eats."""
BOTTOM_SIGMA = 0.04
"""Of reflected over forward power: a ring of which a match is expected may have SWR 1.5."""
LEAST_SIGMA = 0.003
"""Of reflected over forward power: the diodes' offset."""
FOLDS_ABOVE = 0.25
"""Reflected over forward power from which transmitters fold back, at SWR 3; common practice, no source."""
FOLDS_BY = 1.5
"""Times the least forward power that the greatest is, if the transmitter folds back off resonance."""
COARSE = 0.4
"""Spacing of the first grid, half-widths; with the widths above a dip cannot fall between."""
FINE_POINTS = 45
WORTH = 6.0
"""Readings that the noise believed beforehand is worth against what the residuals show of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """What is believed before the first reading: centre and its standard deviation, range; reflected over
    forward power at the bottom; noise of a reading.

    Detunings in expected half-widths; `step` is the drive's step in them.
    """

    centre: float
    sigma: float
    low: float
    high: float
    bottom: float
    noise: float
    step: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """The posterior's means, and the standard deviation of the centre.

    `excess` tells how much better a dip explains the readings than none: the difference of the log-likelihoods.
    """

    centre: float
    sigma: float
    width: float
    floor: float
    depth: float
    excess: float


def fit_dip(readings: tuple[Reading, ...], prior: Prior) -> Fit:
    """What the readings say; with none it is the prior."""
    coarse = np.arange(prior.low, prior.high + COARSE, COARSE)
    rough = _Measured.of(readings, prior, knees=KNEES[1::2])
    first = _Posterior.on(coarse, rough, prior, widths=WIDTHS[1::2], blur=COARSE / 3.0)
    reach = max(4.0 * first.sigma, 2.0 * COARSE)
    if reach > 8.0:
        return first.fit()
    fine = np.linspace(first.centre - reach, first.centre + reach, FINE_POINTS)
    spacing = float(fine[1] - fine[0])
    measured = _Measured.of(readings, prior, knees=KNEES)
    return _Posterior.on(fine, measured, prior, widths=WIDTHS, blur=spacing / 3.0).fit()


@dataclass(frozen=True, slots=True)
class _Measured:
    """Readings as arrays; for each knee (rows) what the diodes would have hidden is put back."""

    start: FloatArray
    end: FloatArray
    shares: FloatArray  # (n, points)
    blur: FloatArray
    ratio: FloatArray  # (knees, n)
    sigma: FloatArray  # (knees, n), without what the grid adds
    folds: bool

    @classmethod
    def of(cls, readings: tuple[Reading, ...], prior: Prior, *, knees: FloatArray) -> "_Measured":
        start = np.array([reading.detunings[0] for reading in readings])
        end = np.array([reading.detunings[1] for reading in readings])
        shown = np.array([reading.forward for reading in readings])
        folds = bool(shown.size) and float(shown.max()) > FOLDS_BY * float(shown.min())
        forward = _true_power(shown, knees)
        reflected = _true_power(np.array([reading.reflected for reading in readings]), knees)
        ratio = np.minimum(reflected / np.maximum(forward, 1e-9), 1.2)
        sigma = math.sqrt(2.0) * prior.noise * np.maximum(ratio, 0.01) + LEAST_SIGMA
        shares = np.array([reading.shares for reading in readings]).reshape(-1, len(POINTS))
        blur = np.array([reading.blur for reading in readings])
        return cls(start, end, shares, blur, ratio, sigma, folds)


def _true_power(read: FloatArray, knees: FloatArray) -> FloatArray:
    """Power [W] that a diode detector with each knee reads as `read`: (knees, n)."""
    # Square law far below the knee, linear far above it is textbook (D. M. Pozar, Microwave Engineering, sec. on
    # detectors, from memory); the smooth way between is ours, and the knee is not known.
    return np.asarray(0.5 * (read + np.sqrt(read * (read + 4.0 * knees[:, None]))))


@dataclass(frozen=True, slots=True)
class _Posterior:
    centres: FloatArray
    widths: FloatArray
    weight: FloatArray  # (knees, widths, centres), sums to 1
    floor: FloatArray
    depth: FloatArray
    excess: float

    @property
    def centre(self) -> float:
        return float((self.weight.sum(axis=(0, 1)) * self.centres).sum())

    @property
    def sigma(self) -> float:
        spread = (self.weight.sum(axis=(0, 1)) * (self.centres - self.centre) ** 2).sum()
        return math.sqrt(float(spread))

    def fit(self) -> Fit:
        return Fit(
            centre=self.centre,
            sigma=self.sigma,
            width=float((self.weight.sum(axis=(0, 2)) * self.widths).sum()),
            floor=float((self.weight * self.floor).sum()),
            depth=float((self.weight * self.depth).sum()),
            excess=self.excess,
        )

    @classmethod
    def on(
        cls, centres: FloatArray, measured: _Measured, prior: Prior, *, widths: FloatArray, blur: float
    ) -> "_Posterior":
        """The posterior on a grid of centres whose spacing blurs each place by `blur` half-widths."""
        g, slope = _shape(centres, widths, measured)  # (n, widths, centres)
        smear = np.hypot(measured.blur, blur)
        own = measured.sigma**-2.0
        spread = ((FLOOR - prior.bottom) * slope * smear[:, None, None]) ** 2
        more = 1.0 + spread * own[:, :, None, None]  # variance, relative to the readings' own
        weight = own[:, :, None, None] / more  # (knees, n, widths, centres)
        ratio = measured.ratio
        # normal equations of r = A (1 - g) + B g, with the bottom B = A - D, each with its prior
        to_floor, to_bottom, bottom_before = FLOOR_SIGMA**-2, BOTTOM_SIGMA**-2, prior.bottom
        weighed = np.einsum("knwc,kn->knwc", weight, ratio)
        all_told, by_shape = weighed.sum(axis=1), np.einsum("knwc,nwc->kwc", weighed, g)
        rest = np.einsum("knwc,kn->kwc", weighed, ratio)
        rest += to_floor * FLOOR**2 + to_bottom * bottom_before**2
        once = weight.sum(axis=1)
        weight *= g
        twice = weight.sum(axis=1)
        thrice = np.einsum("knwc,nwc->kwc", weight, g)
        s0, s1, s2 = once - 2.0 * twice + thrice + to_floor, twice - thrice, thrice + to_bottom
        t0, t1 = all_told - by_shape + to_floor * FLOOR, by_shape + to_bottom * bottom_before
        determinant = s0 * s2 - s1 * s1
        floor = (s2 * t0 - s1 * t1) / determinant
        bottom = (s0 * t1 - s1 * t0) / determinant
        squares = rest - floor * t0 - bottom * t1
        depth = floor - bottom
        scale = np.log(more.prod(axis=1)) - np.log(own).sum(axis=1)[:, None, None]
        evidence = -0.5 * (_badness(squares, measured) + scale + np.log(determinant))
        evidence -= 0.5 * (np.log(widths) / _WIDTH_SPREAD)[None, :, None] ** 2
        alone = _without_dip(measured)
        excess = float(evidence.max() + 0.5 * math.log(to_floor * to_bottom) - alone)
        evidence -= 0.5 * ((centres - prior.centre) / prior.sigma)[None, None, :] ** 2
        weights = np.exp(evidence - evidence.max())
        return cls(centres, widths, weights / weights.sum(), floor, depth, excess)


def _without_dip(measured: _Measured) -> float:
    """Greatest log-likelihood of readings that know no dip, on the scale of `_Posterior.on`."""
    weight = measured.sigma**-2.0
    to_floor = FLOOR_SIGMA**-2
    s0 = weight.sum(axis=1) + to_floor
    t0 = (weight * measured.ratio).sum(axis=1) + to_floor * FLOOR
    squares = (weight * measured.ratio**2).sum(axis=1) + to_floor * FLOOR**2 - t0 * t0 / s0
    scale = -np.log(weight).sum(axis=1) + np.log(s0 / to_floor)
    return float((-0.5 * (_badness(squares, measured) + scale)).max())


def _badness(squares: FloatArray, measured: _Measured) -> FloatArray:
    """Twice the negative log-likelihood of a sum of squares of residuals, the meter's noise being known roughly."""
    return np.asarray((WORTH + len(measured.start)) * np.log1p(squares / WORTH))


def _shape(centres: FloatArray, widths: FloatArray, measured: _Measured) -> tuple[FloatArray, FloatArray]:
    """The dip's shape at each reading, 1 at the bottom, and its slope there: (n, widths, centres).

    A mean over the time of the reading, weighed by the forward power meanwhile.
    """
    per_width = 1.0 / widths[None, :, None]
    total = shape = slope = np.zeros((len(measured.start), widths.size, centres.size))
    for number, point in enumerate(POINTS):
        share = measured.shares[:, number, None, None]
        if not share.any():
            continue
        place = measured.start + point * (measured.end - measured.start)
        x = (place[:, None, None] - centres) * per_width
        lorentz = 1.0 / (1.0 + x * x)
        forward = share / np.maximum(1.0 - lorentz, FOLDS_ABOVE) if measured.folds else share
        total = total + forward
        shape = shape + forward * lorentz
        slope = slope - 2.0 * forward * x * lorentz * lorentz
    return shape / total, slope * per_width / total
