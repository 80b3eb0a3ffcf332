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
from ringwright.proof.resonance_model import PARAMETERS, Resonance, fit, split
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
ROUNDS = 5
SETTLED = 1e-5  # [Np]
LEAST_OFF = 0.05  # reflection left by 13 dB of cable, through which nobody measures


def fit_circle(sweep: Sweep) -> ResonanceFit:
    """The answer of a reflection or transmission sweep; SweepFitError where there is none."""
    if len(sweep.frequency) < FEWEST_POINTS:
        raise SweepFitError(
            sweep.source,
            f"{len(sweep.frequency)} points with phase are too few; sweep the dip with {FEWEST_POINTS} or more",
        )
    resonance, first, last = _fitted(sweep)
    check_place(sweep, frequency=resonance.frequency, width=resonance.width, least_span=LEAST_SPAN)
    return _answer(sweep, resonance, slice(first, last))


def _fitted(sweep: Sweep) -> tuple[Resonance, int, int]:
    """The resonance, and the points it was fitted to: cut to its surroundings until these stay."""
    f, s = sweep.frequency, sweep.response
    is_through = sweep.kind is SweepKind.TRANSMISSION
    power = np.asarray(abs(s) ** 2, dtype=float)
    centre, width = find_dip(f, power if is_through else -power)
    window = around(f, centre, WINDOW * width, fewest=FEWEST_POINTS)
    cut = slice(*window)
    resonance = start_values(f[cut], s[cut], centre=centre, width=width)
    for _ in range(ROUNDS):
        start = replace(resonance, attenuation=0.0 if is_through else _attenuation(resonance.off))
        found = fit(f[cut], s[cut], start)
        if found is None:
            raise SweepFitError(
                sweep.source,
                "no single resonance fits the sweep; sweep the dip alone, with more points across it",
            )
        resonance, fitted = found, window
        window = around(f, found.frequency, REACH * found.width, fewest=FEWEST_POINTS)
        if window == fitted and (is_through or abs(_attenuation(found.off) - start.attenuation) < SETTLED):
            break
        cut = slice(*window)
    return resonance, *fitted


def _attenuation(off: complex) -> float:
    """Of the cable [Np], there and back."""
    return -float(np.log(np.clip(abs(off), LEAST_OFF, MOST_REFLECTED)))


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


def _errors(resonance: Resonance, frequency: FloatArray, response: ComplexArray) -> _Errors:
    left = resonance.response(frequency) - response
    jacobian = split(resonance.jacobian(frequency))
    scale = np.linalg.norm(jacobian, axis=0)
    scale[scale == 0.0] = 1.0
    inverse = np.linalg.pinv(jacobian / scale)
    freedom = 2 * len(frequency) - PARAMETERS
    variance = float(np.sum(abs(left) ** 2)) / freedom
    together = neighbours_together(left)
    covariance = (inverse @ inverse.T) / np.outer(scale, scale) * variance * together
    return _Errors(noise=float(np.sqrt(variance)), covariance=covariance, freedom=freedom, together=together)


def _answer(sweep: Sweep, resonance: Resonance, cut: slice) -> ResonanceFit:
    """The figures of the contract; gradients are by the parameters in the order of the model's Jacobian."""
    is_through = sweep.kind is SweepKind.TRANSMISSION
    errors = _errors(resonance, sweep.frequency[cut], sweep.response[cut])
    off, diameter = resonance.off, resonance.diameter
    if errors.together > 1.0 and errors.noise > MOST_LEFT * abs(diameter):
        raise SweepFitError(
            sweep.source,
            "more than one resonance or disturbance is in the sweep; sweep closer around one dip",
        )
    zero = np.zeros(PARAMETERS)
    log_f, log_q, delay = np.eye(PARAMETERS)[:3]
    log_off, log_diameter = zero.astype(complex), zero.astype(complex)
    log_off[3:5], log_diameter[5:7] = np.array([1.0, 1j]) / off, np.array([1.0, 1j]) / diameter
    # What the circle's diameter may be at most: twice the reflection off resonance, or all of the transmission.
    most, d = (1.0, abs(diameter)) if is_through else (2.0, abs(diameter / off))
    if d >= most:
        raise SweepFitError(
            sweep.source,
            "the resonance's circle is larger than a passive ring's can be; calibrate and sweep again",
        )
    slope = d * (log_diameter - (0.0 if is_through else log_off)).real
    log_unloaded = log_q + slope / (most - d)
    spread_q, spread_coupling = errors.of(log_q), errors.of(most / (d * (most - d)) * slope)
    if not max(spread_q, spread_coupling / 2.0) < MOST_UNSURE:
        raise SweepFitError(
            sweep.source,
            "no resonance stands out of the noise; sweep closer around the dip, slower or averaged",
        )
    q_loaded, unloaded = resonance.q_loaded, resonance.q_loaded * most / (most - d)
    result = ResonanceFit(
        source=sweep.source,
        kind=sweep.kind,
        frequency=Estimate.additive(resonance.frequency, resonance.frequency * errors.of(log_f)),
        q_loaded=Estimate.factor(q_loaded, spread_q),
        q_unloaded=Estimate.factor(unloaded, errors.of(log_unloaded)),
        coupling=Estimate.factor(d / (most - d), spread_coupling),
        swr_min=None
        if is_through
        else swr_estimate(_closest(diameter / off, log_diameter - log_off, errors)),
        bandwidth_half_power=Estimate.factor(resonance.frequency / unloaded, errors.of(log_f - log_unloaded)),
        flags=(),
        off_resonance=Estimate.additive(abs(off), abs(off) * errors.of(log_off.real)),
        delay=Estimate.additive(resonance.delay, errors.of(delay)),
        noise=errors.noise,
        first=cut.start,
        last=cut.stop,
        resonance=resonance,
    )
    return replace(result, flags=tuple(circle_flags(sweep, result, together=errors.together)))


def _closest(ratio: complex, log_gradient: ComplexArray, errors: _Errors) -> Estimate:
    """Where the circle comes closest to the match, as seen at the coupling loop; below 0 if it goes round the match."""
    half = ratio / 2.0
    gradient = half * log_gradient
    middle = 1.0 + half
    slope = (middle.conjugate() * gradient).real / abs(middle) - (half.conjugate() * gradient).real / abs(
        half
    )
    return Estimate.additive(abs(middle) - abs(half), errors.of(slope))
