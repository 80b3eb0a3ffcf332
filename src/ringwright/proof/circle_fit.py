# SPDX-License-Identifier: BSD-3-Clause
"""The circle of a resonance through a sweep with phase, and what its residuals say about the error."""

from dataclasses import dataclass, replace

import numpy as np

from ringwright.errors import SweepFitError
from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.proof.estimate import Estimate, half_width, swr_estimate
from ringwright.proof.fit_checks import check_place, neighbours_together
from ringwright.proof.fit_flags import circle_flags
from ringwright.proof.fit_result import ResonanceFit
from ringwright.proof.resonance_model import (
    DIAMETER,
    OFF,
    PARAMETERS,
    ExpectedSlope,
    Resonance,
    fit,
    with_expected,
)
from ringwright.proof.resonance_start import WINDOW, around, find_dip, start_values
from ringwright.proof.sweep import MOST_REFLECTED, Sweep, SweepKind

REACH = 5.0
"""Loaded widths to either side that are fitted: further out the cable bends and other things begin."""
FEWEST_POINTS = 9
MOST_UNSURE = 0.5
"""Half the interval of ln Q_L; a sweep that tells less than a factor of 1.6 tells nothing."""
MOST_LEFT = 0.1
"""Of the circle's diameter: larger residuals that are no noise belong to something else."""
LEAST_SPAN = 0.3  # loaded widths
ROUNDS = 6
SETTLED, ROUNDING = 0.01, 1e-9
"""Change of the noise from round to round, relative and absolute, at which the expected slope's weight is settled."""
SLOPE_DOUBT_BETWEEN_PROBES, LEAST_SLOPE_DOUBT = 0.1, 0.01  # [Np] for each relative frequency
LEAST_OFF = 0.05  # reflection left by 13 dB of cable, through which nobody measures


def fit_circle(sweep: Sweep) -> ResonanceFit:
    """The answer of a reflection or transmission sweep; SweepFitError where there is none."""
    if len(sweep.frequency) < FEWEST_POINTS:
        raise SweepFitError(
            sweep.source,
            f"too few points with phase, {len(sweep.frequency)}; sweep the dip with {FEWEST_POINTS} or more",
        )
    if not np.any(np.diff(sweep.response)):
        raise SweepFitError(
            sweep.source,
            "all points are the same, so that there is no dip; look at the lead and the socket, and sweep again",
        )
    resonance, cut, expected = _fitted(sweep)
    check_place(sweep, frequency=resonance.frequency, width=resonance.width, least_span=LEAST_SPAN)
    return _answer(sweep, resonance, cut, expected=expected)


def _fitted(sweep: Sweep) -> tuple[Resonance, slice, ExpectedSlope]:
    """The resonance, the points it was fitted to, cut to its surroundings until these stay, and the slope expected."""
    f, s = sweep.frequency, sweep.response
    power = np.asarray(abs(s) ** 2, dtype=float)
    centre, width = find_dip(f, power if sweep.kind is SweepKind.TRANSMISSION else -power)
    window = around(f, centre, WINDOW * width, fewest=FEWEST_POINTS)
    cut = slice(*window)
    resonance = start_values(f[cut], s[cut], centre=centre, width=width)
    expected, noise = ExpectedSlope(value=0.0, weight=1.0), 0.0
    for _ in range(ROUNDS):
        before, noise = noise, _noise(resonance, f[cut], s[cut])
        cut = slice(*window)
        expected = _expected_slope(resonance, noise, sweep.kind)
        found = fit(f[cut], s[cut], start=resonance, expected=expected)
        if found is None:
            raise SweepFitError(
                sweep.source,
                "no single resonance fits the sweep; sweep the dip alone, with more points across it",
            )
        resonance = found
        window = around(f, found.frequency, REACH * found.width, fewest=FEWEST_POINTS)
        if window == (cut.start, cut.stop) and abs(noise - before) <= SETTLED * noise + ROUNDING:
            break
    return resonance, cut, expected


def _noise(resonance: Resonance, frequency: FloatArray, response: ComplexArray) -> float:
    """Rms error of a real or imaginary part, the expected slope counted as an observation."""
    left = abs(resonance.response(frequency) - response) ** 2
    return float(np.sqrt(np.sum(left) / (2 * len(frequency) + 1 - PARAMETERS)))


def _expected_slope(resonance: Resonance, noise: float, kind: SweepKind) -> ExpectedSlope:
    """Half the loss there and back, that of a cable; from none to all of it, as of a pad or a wet cable, is not odd."""
    if kind is SweepKind.TRANSMISSION:
        return ExpectedSlope(value=0.0, weight=noise / SLOPE_DOUBT_BETWEEN_PROBES)
    loss = -float(np.log(np.clip(abs(resonance.off), LEAST_OFF, MOST_REFLECTED)))
    return ExpectedSlope(value=0.5 * loss, weight=noise / (0.5 * abs(loss) + LEAST_SLOPE_DOUBT))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Errors:
    """Noise of a point (rms of real or imaginary part), covariance of the parameters, degrees of freedom.

    `together` is by how much neighbouring residuals going together make the variance larger than noise would.
    """

    noise: float
    covariance: FloatArray
    freedom: int
    together: float

    def of(self, gradient: FloatArray) -> float:
        return half_width(gradient, self.covariance, self.freedom)


def _errors(resonance: Resonance, sweep: Sweep, *, expected: ExpectedSlope) -> _Errors:
    frequency, response = sweep.frequency, sweep.response
    jacobian = with_expected(resonance.jacobian(frequency), expected)
    scale = np.linalg.norm(jacobian, axis=0)
    scale[scale == 0.0] = 1.0
    inverse = np.linalg.pinv(jacobian / scale)
    noise = _noise(resonance, frequency, response)
    together = neighbours_together(resonance.response(frequency) - response)
    covariance = (inverse @ inverse.T) / np.outer(scale, scale) * noise**2 * together
    freedom = 2 * len(frequency) + 1 - PARAMETERS
    return _Errors(noise=noise, covariance=covariance, freedom=freedom, together=together)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Circle:
    """The circle's size against the most a passive ring can have, twice the reflection off resonance or all of the
    transmission: `share` of `most` 2 or 1, and the derivatives of ln `share` by the model's parameters.
    """

    share: float
    most: float
    log_share: FloatArray
    closest: Estimate | None

    @classmethod
    def of(cls, resonance: Resonance, errors: _Errors, *, is_through: bool) -> "_Circle | None":
        """None where the circle is as large as no passive ring's."""
        off, diameter = resonance.off, resonance.diameter
        most, whole = (1.0, 1.0) if is_through else (2.0, abs(off))
        if not 0.0 < abs(diameter) < most * whole:
            return None
        gradient = np.zeros(PARAMETERS, dtype=np.complex128)
        gradient[DIAMETER] = np.array([1.0, 1j]) / diameter
        if not is_through:
            gradient[OFF] = -np.array([1.0, 1j]) / off
        return cls(
            share=abs(diameter) / whole,
            most=most,
            log_share=gradient.real,
            closest=None if is_through else _closest(diameter / off, gradient, errors),
        )

    @property
    def coupling(self) -> float:
        return self.share / (self.most - self.share)

    @property
    def log_unloading(self) -> FloatArray:
        """Derivatives of ln(1 + coupling)."""
        return self.log_share * self.coupling

    @property
    def log_coupling(self) -> FloatArray:
        return self.log_share * (1.0 + self.coupling)


def _closest(ratio: complex, log_gradient: ComplexArray, errors: _Errors) -> Estimate:
    """Where the circle comes closest to the match, as seen at the coupling loop; below 0 if it goes round the match.

    `ratio` is diameter over off-resonance point, with the derivatives of its logarithm.
    """
    half = ratio / 2.0
    gradient, middle = half * log_gradient, 1.0 + half
    inward = (half.conjugate() * gradient).real / abs(half)
    outward = (middle.conjugate() * gradient).real / max(abs(middle), LEAST_OFF * abs(half))
    return Estimate.additive(abs(middle) - abs(half), errors.of(outward - inward))


def _answer(sweep: Sweep, resonance: Resonance, cut: slice, *, expected: ExpectedSlope) -> ResonanceFit:
    """The figures of the contract with their intervals."""
    errors = _errors(resonance, sweep.part(cut.start, cut.stop), expected=expected)
    is_through = sweep.kind is SweepKind.TRANSMISSION
    circle = _Circle.of(resonance, errors, is_through=is_through)
    problem = _problem(resonance, errors, circle)
    if circle is None or problem:
        raise SweepFitError(sweep.source, problem)
    unit = np.eye(PARAMETERS)
    log_f, log_q, delay = unit[:3]
    off, f, q = resonance.off, resonance.frequency, resonance.q_loaded
    unloaded, log_unloaded = q * (1.0 + circle.coupling), log_q + circle.log_unloading
    off_spread = 0.0 if is_through else errors.of(np.array([off.real, off.imag]) @ unit[OFF] / abs(off) ** 2)
    result = ResonanceFit(
        source=sweep.source,
        kind=sweep.kind,
        frequency=Estimate.additive(f, f * errors.of(log_f)),
        q_loaded=Estimate.factor(q, errors.of(log_q)),
        q_unloaded=Estimate.factor(unloaded, errors.of(log_unloaded)),
        coupling=Estimate.factor(circle.coupling, errors.of(circle.log_coupling)),
        swr_min=None if circle.closest is None else swr_estimate(circle.closest),
        bandwidth_half_power=Estimate.factor(f / unloaded, errors.of(log_f - log_unloaded)),
        flags=(),
        off_resonance=Estimate.factor(abs(off), off_spread),
        delay=Estimate.additive(resonance.delay, errors.of(delay)),
        noise=errors.noise,
        first=cut.start,
        last=cut.stop,
        resonance=resonance,
    )
    return replace(result, flags=tuple(circle_flags(sweep, result, together=errors.together)))


def _problem(resonance: Resonance, errors: _Errors, circle: _Circle | None) -> str:
    """Why the fit is no answer, or nothing."""
    if errors.together > 1.0 and errors.noise > MOST_LEFT * abs(resonance.diameter):
        return "more than one resonance or disturbance is in the sweep; sweep closer around one dip"
    if circle is None:
        return "the resonance's circle is larger than a passive ring's can be; calibrate and sweep again"
    log_q = np.eye(PARAMETERS)[1]
    if not max(errors.of(log_q), errors.of(circle.log_coupling) / 2.0) < MOST_UNSURE:
        return "no resonance stands out of the noise; sweep closer around the dip, slower or averaged"
    return ""
