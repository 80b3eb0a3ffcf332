# SPDX-License-Identifier: BSD-3-Clause
"""The same resonance seen by its SWR alone: a dip whose width and depth tell loaded Q and coupling, but not its side.

With the phase lost the reflection of the model is |G_off| sqrt((M + x^2)/(1 + x^2)), x = Q_L (f/f_L - f_L/f), with
M = ((1 - k)/(1 + k))^2 for a coupling k. It is the same for k and 1/k: an SWR meter cannot tell an under-coupled ring
from an over-coupled one, and every interval of what depends on it spans both.

Readings further apart than the dip is wide have one of them in it, or none, and what a meter shows beside the dip,
where its scale ends or the cable's loss begins, would pass for the dip's width: they are refused unless they fit well.
"""

from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import least_squares

from ringwright.errors import SweepFitError
from ringwright.physics.checks import FloatArray
from ringwright.proof.estimate import Estimate, Flag, half_width, swr_estimate
from ringwright.proof.fit_checks import check_place, neighbours_together
from ringwright.proof.fit_flags import common_flags
from ringwright.proof.fit_result import ResonanceFit
from ringwright.proof.resonance_start import WINDOW, around, find_dip
from ringwright.proof.sweep import Sweep, SweepKind

FEWEST_READINGS = 5
POINTS_FOR_CABLE, WIDTHS_FOR_CABLE = 12, 2.5
"""An SWR sweep shows the cable's loss by itself if it has these points and reaches these loaded widths from the dip."""
REACH = 5.0
LEAST_REFLECTION = 1e-3  # nearer to a match a size of reflection has no slope
MOST_EVALUATIONS = 60
LEAST_SPAN = 0.7  # loaded widths
MOST_UNSURE, MOST_UNSURE_COARSE = 0.7, 0.55  # half the interval of ln Q_L
WELL_INSIDE = 0.7  # of the dip's depth, in power
FEWEST_IN_DIP = 3
AMBIGUOUS, ASSUMED_CABLE = "ambiguous_coupling", "assumed_cable"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Dip:
    """Loaded resonance [Hz], loaded Q, M, and the reflection off resonance."""

    frequency: float
    q_loaded: float
    left: float
    off: float

    @property
    def width(self) -> float:
        return self.frequency / self.q_loaded

    def _x(self, frequency: FloatArray) -> FloatArray:
        ratio = frequency / self.frequency
        return np.asarray(self.q_loaded * (ratio - 1.0 / ratio))

    def size(self, frequency: FloatArray) -> FloatArray:
        x2 = self._x(frequency) ** 2
        return np.asarray(self.off * np.sqrt((self.left + x2) / (1.0 + x2)))

    def jacobian(self, frequency: FloatArray) -> FloatArray:
        """Derivatives (n, 4) by ln f_L, ln Q_L, M and ln of `off`."""
        x, ratio = self._x(frequency), frequency / self.frequency
        size = self.size(frequency)
        per_square = self.off**2 / (2.0 * np.maximum(size, LEAST_REFLECTION) * (1.0 + x * x))
        along = per_square * 2.0 * x * (1.0 - self.left) / (1.0 + x * x)
        return np.stack([-along * self.q_loaded * (ratio + 1.0 / ratio), along * x, per_square, size], axis=1)


def fit_swr(sweep: Sweep, *, off_resonance: float) -> ResonanceFit:
    """The answer of an SWR sweep; SweepFitError where there is none."""
    count = len(sweep.frequency)
    if count < FEWEST_READINGS:
        raise SweepFitError(
            sweep.source,
            f"{count} readings are too few; take {FEWEST_READINGS} or more, one at the dip and two on either side",
        )
    try:
        return _fit_readings(sweep, off_resonance)
    except SweepFitError as exc:
        inside = _in_dip(sweep)
        if inside >= FEWEST_IN_DIP:
            raise
        raise SweepFitError(sweep.source, _coarse_words(sweep, inside)) from exc


def _in_dip(sweep: Sweep) -> int:
    """How many neighbouring readings lie well inside the dip."""
    power = sweep.response.real**2
    if not np.ptp(power) > 0.0:
        return 0
    above = np.flatnonzero(power > power.min() + WELL_INSIDE * np.ptp(power))
    least = int(np.argmin(power))
    first, last = np.max(above[above < least], initial=-1), np.min(above[above > least], initial=len(power))
    return int(last - first) - 1


def _coarse_words(sweep: Sweep, inside: int) -> str:
    f = sweep.frequency
    least = int(np.argmin(sweep.response.real))
    step = float(np.diff(f[max(least - 1, 0) : least + 2]).min())
    return (
        f"the readings are {step / 1e3:.3g} kHz apart, too far for this dip: {inside or 'none'} of them "
        f"{'lie' if inside > 1 else 'lies'} well inside it; take five or more around {f[least] / 1e6:.5g} MHz, "
        f"{step / 4e3:.2g} kHz apart or closer, and none where the meter's scale ends"
    )


def _fit_readings(sweep: Sweep, off_resonance: float) -> ResonanceFit:
    f, size = sweep.frequency, sweep.response.real
    centre, width = find_dip(f, -(size**2))
    first, last = around(f, centre, WINDOW * width, fewest=FEWEST_READINGS)
    dip, sees_cable = _start(f[first:last], size[first:last], off_resonance), False
    for _ in range(3):
        dip = _fitted(sweep, dip, slice(first, last), sees_cable=sees_cable)
        first, last = around(f, dip.frequency, REACH * dip.width, fewest=FEWEST_READINGS)
        sees_cable = _shows_cable(f[first:last], dip)
        dip = dip if sees_cable else replace(dip, off=off_resonance)
    dip = _fitted(sweep, dip, slice(first, last), sees_cable=sees_cable)
    check_place(sweep, frequency=dip.frequency, width=dip.width, least_span=LEAST_SPAN)
    return _answer(sweep, dip, slice(first, last), sees_cable=sees_cable)


def _shows_cable(frequency: FloatArray, dip: _Dip) -> bool:
    reach = min(dip.frequency - frequency[0], frequency[-1] - dip.frequency)
    return bool(len(frequency) >= POINTS_FOR_CABLE and reach > WIDTHS_FOR_CABLE * dip.width)


def _start(f: FloatArray, size: FloatArray, off: float) -> _Dip:
    """The best of a lattice of places and widths, M by linear least squares of the power."""
    span = float(np.ptp(f))
    narrowest = max(float(np.diff(f).min()) / 2.0, span * 1e-3)
    places, widths = np.meshgrid(
        np.linspace(f[0], f[-1], 41), np.geomspace(narrowest, 2.0 * span, 30), indexing="ij"
    )
    x2 = (2.0 * (f - places[..., None]) / widths[..., None]) ** 2
    weight, power = 1.0 / (1.0 + x2), (size / off) ** 2
    left = np.clip(
        np.sum(weight * (power - x2 * weight), axis=-1) / np.sum(weight * weight, axis=-1), 0.0, 0.999
    )
    rest = np.sum((np.sqrt(weight * (left[..., None] + x2)) - size / off) ** 2, axis=-1)
    best = np.unravel_index(int(np.argmin(rest)), rest.shape)
    return _Dip(
        frequency=float(places[best]),
        q_loaded=float(places[best] / widths[best]),
        left=float(left[best]),
        off=off,
    )


def _fitted(sweep: Sweep, start: _Dip, cut: slice, *, sees_cable: bool) -> _Dip:
    f, size = sweep.frequency[cut], sweep.response.real[cut]
    count = 4 if sees_cable else 3

    def dip(p: FloatArray) -> _Dip:
        return _Dip(
            frequency=start.frequency * float(1.0 + p[0] / start.q_loaded),
            q_loaded=start.q_loaded * float(np.exp(p[1])),
            left=float(p[2]),
            off=start.off * float(np.exp(p[3])) if sees_cable else start.off,
        )

    def residual(p: FloatArray) -> FloatArray:
        return dip(p).size(f) - size

    def jacobian(p: FloatArray) -> FloatArray:
        here = dip(p)
        columns = here.jacobian(f)[:, :count]
        columns[:, 0] *= start.frequency / (start.q_loaded * here.frequency)
        return columns

    reach = float(np.ptp(f)) / start.width + 1.0
    found = least_squares(
        residual,
        np.array([0.0, 0.0, min(max(start.left, 1e-6), 0.998), 0.0][:count]),
        jac=jacobian,
        bounds=([-reach, -3.0, 0.0, -1.0][:count], [reach, 3.0, 0.999, 0.2][:count]),
        x_scale="jac",
        max_nfev=MOST_EVALUATIONS,
    )
    if found.status <= 0:
        raise SweepFitError(
            sweep.source, "no dip fits the readings; check them, and take more across the dip"
        )
    return dip(found.x)


def _answer(sweep: Sweep, dip: _Dip, cut: slice, *, sees_cable: bool) -> ResonanceFit:
    """Intervals of the figures: those of M give the SWR, and it the couplings on either side of a match."""
    count = 4 if sees_cable else 3
    f = sweep.frequency[cut]
    freedom = len(f) - count
    left = dip.size(f) - sweep.response.real[cut]
    noise = float(np.sqrt(np.sum(left**2) / freedom))
    if sweep.rounding is not None:
        noise = max(noise, float(np.sqrt(np.mean(sweep.rounding[cut] ** 2) / 3.0)))
    inverse = np.linalg.pinv(dip.jacobian(f)[:, :count])
    covariance = inverse @ inverse.T * noise**2 * neighbours_together(left)
    spread_f, spread_q, spread_left = (half_width(row, covariance, freedom) for row in np.eye(count)[:3])
    if not spread_q < (MOST_UNSURE if _in_dip(sweep) >= FEWEST_IN_DIP else MOST_UNSURE_COARSE):
        raise SweepFitError(
            sweep.source, "the readings do not tell the dip's width; take more, closer around the dip"
        )
    ends = (max(dip.left - spread_left, 0.0), min(dip.left + spread_left, 1.0))
    swr = swr_estimate(
        Estimate(value=dip.left**0.5, low=-1e-12 if ends[0] == 0.0 else ends[0] ** 0.5, high=ends[1] ** 0.5)
    )
    at, q = dip.frequency, dip.q_loaded
    # Least and greatest unloaded Q belong to opposite sides of a match; the value given is the under-coupled one.
    unloaded = Estimate(
        value=q * (1.0 + 1.0 / swr.value),
        low=q * (1.0 + 1.0 / swr.high) * np.exp(-spread_q),
        high=q * (1.0 + swr.high) * np.exp(spread_q),
    )
    result = ResonanceFit(
        source=sweep.source,
        kind=SweepKind.SWR,
        frequency=Estimate.additive(at, at * spread_f),
        q_loaded=Estimate.factor(q, spread_q),
        q_unloaded=unloaded,
        coupling=Estimate(value=1.0 / swr.value, low=1.0 / swr.high, high=swr.high),
        swr_min=swr,
        bandwidth_half_power=Estimate(
            value=at / unloaded.value, low=at / unloaded.high, high=at / unloaded.low
        ),
        flags=(),
        off_resonance=Estimate.factor(
            dip.off, half_width(np.eye(count)[3], covariance, freedom) if sees_cable else 0.0
        ),
        delay=None,
        noise=noise,
        first=cut.start,
        last=cut.stop,
        resonance=None,
    )
    return replace(result, flags=(*common_flags(sweep, result), *_own_flags(result, sees_cable)))


def as_over_coupled(result: ResonanceFit) -> ResonanceFit:
    """The same answer with the values of an over-coupled ring; the intervals span both sides either way."""
    assert result.swr_min is not None
    swr, q, unloaded = result.swr_min.value, result.q_loaded.value, result.q_unloaded
    value = q * (1.0 + swr)
    return replace(
        result,
        coupling=replace(result.coupling, value=swr),
        q_unloaded=replace(unloaded, value=value),
        bandwidth_half_power=replace(result.bandwidth_half_power, value=result.frequency.value / value),
    )


def _own_flags(result: ResonanceFit, sees_cable: bool) -> list[Flag]:
    assert result.swr_min is not None
    q, swr = result.q_loaded.value, result.swr_min.value
    flags = [
        Flag(
            code=AMBIGUOUS,
            text=f"SWR does not tell the side of the match: under-coupled the unloaded Q is {q * (1 + 1 / swr):.4g}, "
            f"over-coupled {q * (1 + swr):.4g}; a sweep with phase tells",
        )
    ]
    if not sees_cable:
        flags.append(
            Flag(
                code=ASSUMED_CABLE,
                text=f"the readings do not show the cable's loss; {-10 * np.log10(result.off_resonance.value):.2g} dB "
                f"one way are assumed",
            )
        )
    return flags
