# SPDX-License-Identifier: BSD-3-Clause
r"""The middle of differences that share receivers and times: both as random effects, wild ones tamed.

A difference is :math:`d = \delta + u_{receiver} + v_{time} + e`. Its middle is an M-estimate with Tukey's biweight
[2]_, which gives no say to what lies far off (a wrong power, a broken receiver). Its variance adds up what differences
have in common, whatever the distribution: all pairs of differences of one receiver, all that are close in time, less
those that are both, [1]_. Clusters are left out in turn, and few of them cost width. With equal clusters, no outliers
and no effect of time it is the classical interval of the balanced one-way random-effects analysis of variance.

References
----------
.. [1] A. C. Cameron, J. B. Gelbach, D. L. Miller, Robust inference with multiway clustering, J. Bus. Econ. Stat. 29
       (2), 2011, 238-249, eq. 2.11.
.. [2] P. J. Huber, E. M. Ronchetti, Robust Statistics, 2nd ed., Wiley, 2009, ch. 3 and 6.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from ringwright.physics.checks import FloatArray

BIWEIGHT = 4.685
"""Widths from the middle beyond which a difference has no say; 95 % efficient on normal errors."""
_TO_SIGMA = 1.4826  # median absolute deviation of a normal distribution to its standard deviation
_MOST_ROUNDS = 60
FEWEST_RECEIVERS = 2
"""Below it no interval is given: one receiver says nothing of how receivers differ."""
RESOLUTION = 0.4
"""Standard deviation [dB] of the difference of two readings of which each is rounded to 1 dB: sqrt(2 / 12)."""
_TAPER = (1.0, 1.0, 1.0, 2.0 / 3.0, 1.0 / 3.0)
"""How much of what two differences have in common counts, by how many half stretches of time lie between them."""
_DOUBT = 0.6
"""Share of the time's variance that may be chance even where single pairs explain it; from simulated campaigns."""

Labels = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Middle:
    """Middle and 95 % interval in the unit of the differences; `spread` is the width of the single difference.

    `receivers` and `stretches` are how many equal ones would say as much; `of_receivers` and `of_times` are the shares
    of the variance that only more receivers or more time bring down.
    """

    value: float
    low: float
    high: float
    error: float
    spread: float
    degrees: float
    receivers: float
    stretches: float
    of_receivers: float
    of_times: float


def middle(difference: FloatArray, receiver: Labels, *, time: FloatArray, stretch: float) -> Middle | None:
    """The middle of all differences; None where there are too few to say how far it can be trusted.

    `stretch` is how long what is common to a moment lasts, in the unit of `time`.
    """
    if len(np.unique(receiver)) < FEWEST_RECEIVERS:
        return None
    weight = receiver_weights(difference, receiver)
    value, scale = location(difference, weight)
    pull, slope = biweight(difference - value, scale)
    total = float((weight * slope).sum())
    if total <= 0.0:
        return None
    half = ((time - time.min()) // (stretch / 2.0)).astype(np.int64)
    return interval(
        value,
        weight * pull / total,
        shares=weight * slope / total,
        receiver=receiver,
        half_stretch=half,
        spread=scale,
    )


def location(difference: FloatArray, weight: FloatArray) -> tuple[float, float]:
    """Weighted biweight location from the median outward, and the width of the differences about the median."""
    value = _median(difference, weight)
    scale = max(_TO_SIGMA * _median(np.abs(difference - value), weight), RESOLUTION)
    for _ in range(_MOST_ROUNDS):
        off = (difference - value) / (BIWEIGHT * scale)
        say = weight * np.where(np.abs(off) < 1.0, (1.0 - off**2) ** 2, 0.0)
        step = float((say * (difference - value)).sum() / say.sum())
        value += step
        if abs(step) < 1e-6 * scale:
            break
    return value, scale


def biweight(off: FloatArray, scale: float) -> tuple[FloatArray, FloatArray]:
    """Tukey's psi in the unit of `off`, and its slope."""
    u2 = (off / (BIWEIGHT * scale)) ** 2
    psi = np.where(u2 < 1.0, off * (1.0 - u2) ** 2, 0.0)
    return psi, np.where(u2 < 1.0, (1.0 - u2) * (1.0 - 5.0 * u2), 0.0)


def receiver_weights(difference: FloatArray, receiver: Labels) -> FloatArray:
    """Weight of each difference: 1 / (1 + n r) where its receiver has n of them, which share r of one's own variance.

    So no receiver counts for more than it can tell, however busy it is.
    """
    value, scale = location(difference, np.ones(len(difference)))
    cut = np.clip(difference - value, -2.5 * scale, 2.5 * scale)
    between, within = variances(cut, receiver)
    _, code, count = np.unique(receiver, return_inverse=True, return_counts=True)
    return np.asarray(1.0 / (1.0 + count[code] * (between / within if within > 0.0 else 0.0)))


def variances(difference: FloatArray, label: Labels) -> tuple[float, float]:
    """Variance between clusters and within them, by the moments of the one-way random-effects analysis."""
    _, code, count = np.unique(label, return_inverse=True, return_counts=True)
    total, groups = len(difference), len(count)
    if not 1 < groups < total:
        return 0.0, float(np.var(difference))
    means = np.bincount(code, difference) / count
    within = float(((difference - means[code]) ** 2).sum() / (total - groups))
    square = float((count * (means - difference.mean()) ** 2).sum() / (groups - 1))
    typical = (total - float((count**2).sum()) / total) / (groups - 1)
    return max((square - within) / typical, 0.0), within


def interval(
    value: float,
    influence: FloatArray,
    *,
    shares: FloatArray,
    receiver: Labels,
    half_stretch: Labels,
    spread: float,
) -> Middle:
    """The 95 % interval from each difference's influence on the middle and share of its weight."""
    by_receiver, receivers = cluster_variance(influence, shares, receiver)
    both_label = receiver * (int(half_stretch.max()) + len(_TAPER) + 1) + half_stretch
    single = float((influence**2).sum())
    stretches, boths = (1.0 / _tapered(shares, label) for label in (half_stretch, both_label))
    by_time = max(_tapered(influence, half_stretch), single / 2.0) * stretches / max(stretches - 1.0, 1.0)
    both = max(_tapered(influence, both_label), single / 2.0)
    rounding = RESOLUTION**2 * float((shares**2).sum())
    variance = max(by_receiver + by_time - both, by_receiver, by_time, both, rounding)
    own = by_receiver, max(by_time - both, _DOUBT * by_time), both
    counted = receivers, stretches, boths
    noise = sum(part**2 / max(count - 1.0, 1.0) for part, count in zip(own, counted, strict=True))
    degrees = max(min(variance**2 / noise, boths - 1.0), 1.0) if noise > 0.0 else max(boths - 1.0, 1.0)
    half = float(stats.t.ppf(0.975, degrees)) * variance**0.5
    return Middle(
        value=value,
        low=value - half,
        high=value + half,
        error=variance**0.5,
        spread=spread,
        degrees=degrees,
        receivers=receivers,
        stretches=stretches,
        of_receivers=max(by_receiver - both, 0.0) / variance,
        of_times=max(by_time - both, 0.0) / variance,
    )


def cluster_variance(influence: FloatArray, shares: FloatArray, label: Labels) -> tuple[float, float]:
    """Variance from whole clusters, each left out in turn, and how many equal clusters would say as much."""
    _, code = np.unique(label, return_inverse=True)
    pull, share = np.bincount(code, influence), np.bincount(code, shares)
    left_out = pull / np.maximum(1.0 - share, 0.1)
    return float((len(pull) - 1) / len(pull) * (left_out**2).sum()), float(1.0 / (share**2).sum())


def _tapered(values: FloatArray, label: Labels) -> float:
    """Sum of the products of all values whose labels lie close together."""
    known, code = np.unique(label, return_inverse=True)
    sums = np.bincount(code, values)
    total = float((sums**2).sum())
    for apart, counts in enumerate(_TAPER[1:], start=1):
        at = np.searchsorted(known, known + apart)
        there = np.flatnonzero(at < len(known))
        there = there[known[at[there]] == known[there] + apart]
        total += 2.0 * counts * float((sums[there] * sums[at[there]]).sum())
    return max(total, 1e-12 * float((values**2).sum()))


def _median(values: FloatArray, weight: FloatArray) -> float:
    order = np.argsort(values)
    running = np.cumsum(weight[order])
    return float(values[order][np.searchsorted(running, running[-1] / 2.0)])
