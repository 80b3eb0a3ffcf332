# SPDX-License-Identifier: BSD-3-Clause
"""The reflection of one resonance behind a length of lossy cable, and its least-squares fit.

    G(f) = exp(-(b + j 2 pi tau f_L) y) [ G_off + D / (1 + j x) ],   y = f/f_L - 1,   x = Q_L (f/f_L - f_L/f)

The bracket is a circle, run through once: G_off off resonance, G_off + D at f_L. tau is the cable's delay there and
back, b how its loss in nepers rises with relative frequency: half of -ln|G_off| if it follows the root of frequency. A
transmission from probe to probe has the same form, G_off being what leaks past. D may have any phase: what changes with
frequency inside the ring, its own resistance and the coupling, turns it by about 1/Q_L and is so taken up. x is that of
an inductance and a capacitance, not its tangent 2 Q_L y, which would move f_L by f_L/(8 Q_L^2).

References
----------
.. [1] A. P. Gregory, Q-factor Measurement by using a Vector Network Analyser, NPL Report MAT 58, 2021, eqs. 12, 26.
"""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import least_squares

from ringwright.physics.checks import ComplexArray, FloatArray

PARAMETERS = 8
SLOPE, OFF, DIAMETER = 3, slice(4, 6), slice(6, 8)  # their places
MOST_EVALUATIONS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Resonance:
    """The parameters: loaded resonance [Hz], loaded Q, off-resonance point and diameter, delay there and back [s].

    `slope` [Np] is that of the cable's loss, for each relative frequency.
    """

    frequency: float
    q_loaded: float
    off: complex
    diameter: complex
    delay: float
    slope: float = 0.0

    @property
    def width(self) -> float:
        """Loaded half-power width [Hz]."""
        return self.frequency / self.q_loaded

    def response(self, frequency: FloatArray) -> ComplexArray:
        """Reflection or transmission at `frequency` [Hz]."""
        return np.asarray(self._cable(frequency) * (self.off + self.diameter * self._swing(frequency)))

    def jacobian(self, frequency: FloatArray) -> ComplexArray:
        """Derivatives (n, 8) by ln f_L, ln Q_L, delay, slope, real and imaginary part of `off`, those of `diameter`."""
        cable, swing = self._cable(frequency), self._swing(frequency)
        whole = cable * (self.off + self.diameter * swing)
        per_x = -1j * cable * self.diameter * swing**2
        offset = frequency - self.frequency
        ratio = frequency / self.frequency
        return np.stack(
            [
                -per_x * self.q_loaded * (ratio + 1.0 / ratio)
                + (self.slope * ratio + 2j * np.pi * self.delay * self.frequency) * whole,
                per_x * self._x(frequency),
                -2j * np.pi * offset * whole,
                -offset / self.frequency * whole,
                cable,
                1j * cable,
                cable * swing,
                1j * cable * swing,
            ],
            axis=1,
        )

    def _x(self, frequency: FloatArray) -> FloatArray:
        ratio = frequency / self.frequency
        return np.asarray(self.q_loaded * (ratio - 1.0 / ratio))

    def _swing(self, frequency: FloatArray) -> ComplexArray:
        return np.asarray(1.0 / (1.0 + 1j * self._x(frequency)))

    def _cable(self, frequency: FloatArray) -> ComplexArray:
        offset = frequency - self.frequency
        return np.asarray(np.exp(-self.slope * offset / self.frequency - 2j * np.pi * self.delay * offset))


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedSlope:
    """What is known of the cable's slope before the sweep, as one more observation: `value` [Np], and the `weight` that
    its deviation has beside the points, the noise of a point over the doubt of the slope.
    """

    value: float
    weight: float


@np.errstate(over="ignore", invalid="ignore")  # the search turns back from steps that overflow
def fit(
    frequency: FloatArray, response: ComplexArray, *, start: Resonance, expected: ExpectedSlope
) -> Resonance | None:
    """The resonance nearest to the points in the least-squares sense, found from `start`; None where none is found."""
    reach = float(np.ptp(frequency))

    def resonance(p: FloatArray) -> Resonance:
        return Resonance(
            frequency=start.frequency * float(1.0 + p[0] / start.q_loaded),
            q_loaded=start.q_loaded * float(np.exp(p[1])),
            delay=start.delay + float(p[2]) / (2.0 * np.pi * reach),
            slope=float(p[3]),
            off=complex(p[4], p[5]),
            diameter=complex(p[6], p[7]),
        )

    def residual(p: FloatArray) -> FloatArray:
        here = split(resonance(p).response(frequency) - response)
        return np.append(here, expected.weight * (p[3] - expected.value))

    def jacobian(p: FloatArray) -> FloatArray:
        here = resonance(p)
        rows = with_expected(here.jacobian(frequency), expected)
        rows[:, 0] *= start.frequency / (start.q_loaded * here.frequency)
        rows[:, 2] /= 2.0 * np.pi * reach
        return rows

    circle = (start.off.real, start.off.imag, start.diameter.real, start.diameter.imag)
    first = np.array([0.0, 0.0, 0.0, expected.value, *circle])
    # Bounded: a step of the search never leaves what could be meant, and never takes for ever.
    widest = np.array([reach / start.width + 1.0, 4.0, 20.0, 5.0, 3.0, 3.0, 30.0, 30.0])
    if not np.all(np.isfinite(residual(first))):
        return None
    found = least_squares(
        residual,
        first,
        jac=jacobian,
        bounds=(np.minimum(-widest, first - 1.0), np.maximum(widest, first + 1.0)),
        x_scale="jac",
        max_nfev=MOST_EVALUATIONS,
        ftol=1e-12,
        xtol=1e-10,
        gtol=1e-14,
    )
    return resonance(found.x) if found.status > 0 else None


def with_expected(jacobian: ComplexArray, expected: ExpectedSlope) -> FloatArray:
    """The real rows of all points, and that of what is expected."""
    row = np.zeros((1, PARAMETERS))
    row[0, SLOPE] = expected.weight
    return np.concatenate([split(jacobian), row])


def split(z: ComplexArray) -> FloatArray:
    """Real parts above imaginary parts: the real rows of complex equations."""
    return np.concatenate([z.real, z.imag])
