# SPDX-License-Identifier: BSD-3-Clause
"""The reflection of one resonance behind a length of lossy cable, and its least-squares fit.

    G(f) = exp(-a y/2 - j 2 pi tau (f - f_L)) [ G_off + D / (1 + j Q_L t) ],   y = f/f_L - 1,  t = f/f_L - f_L/f

The bracket is a circle, run through once: G_off off resonance, G_off + D at f_L. tau is the cable's delay there and
back; a = -ln|G_off| is its loss at f_L, which grows with the root of frequency. A transmission from probe to probe has
the same form, G_off being what leaks past. D may have any phase: what changes with frequency inside the ring, its own
resistance and the coupling, turns it by about 1/Q_L and is so taken up.

References
----------
.. [1] A. P. Gregory, Q-factor Measurement by using a Vector Network Analyser, NPL Report MAT 58, 2021, eqs. 12, 26.
"""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import least_squares

from ringwright.physics.checks import ComplexArray, FloatArray

PARAMETERS = 7
MOST_EVALUATIONS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Resonance:
    """The parameters: loaded resonance [Hz], loaded Q, off-resonance point and diameter, delay there and back [s]."""

    frequency: float
    q_loaded: float
    off: complex
    diameter: complex
    delay: float
    attenuation: float = 0.0

    @property
    def width(self) -> float:
        """Loaded half-power width [Hz]."""
        return self.frequency / self.q_loaded

    def response(self, frequency: FloatArray) -> ComplexArray:
        """Reflection or transmission at `frequency` [Hz]."""
        return np.asarray(self._cable(frequency) * (self.off + self.diameter * self._swing(frequency)))

    def jacobian(self, frequency: FloatArray) -> ComplexArray:
        """Derivatives (n, 7) by ln f_L, ln Q_L, delay, real and imaginary part of `off`, the same of `diameter`."""
        cable, swing = self._cable(frequency), self._swing(frequency)
        whole = cable * (self.off + self.diameter * swing)
        slope = -1j * self.q_loaded * cable * self.diameter * swing**2
        offset = frequency - self.frequency
        return np.stack(
            [
                -slope * (frequency / self.frequency + self.frequency / frequency)
                + 2j * np.pi * self.delay * self.frequency * whole,
                slope * self._detuning(frequency),
                -2j * np.pi * offset * whole,
                cable,
                1j * cable,
                cable * swing,
                1j * cable * swing,
            ],
            axis=1,
        )

    def _detuning(self, frequency: FloatArray) -> FloatArray:
        return np.asarray(frequency / self.frequency - self.frequency / frequency)

    def _swing(self, frequency: FloatArray) -> ComplexArray:
        return np.asarray(1.0 / (1.0 + 1j * self.q_loaded * self._detuning(frequency)))

    def _cable(self, frequency: FloatArray) -> ComplexArray:
        offset = frequency - self.frequency
        return np.asarray(
            np.exp(-0.5 * self.attenuation * offset / self.frequency - 2j * np.pi * self.delay * offset)
        )


@np.errstate(over="ignore", invalid="ignore")  # the search turns back from steps that overflow
def fit(frequency: FloatArray, response: ComplexArray, start: Resonance) -> Resonance | None:
    """The resonance nearest to the points in the least-squares sense, found from `start`; None where none is found."""

    def resonance(p: FloatArray) -> Resonance:
        return Resonance(
            frequency=start.frequency * float(1.0 + p[0] / start.q_loaded),
            q_loaded=start.q_loaded * float(np.exp(p[1])),
            delay=start.delay + float(p[2]) / (2.0 * np.pi * reach),
            off=complex(p[3], p[4]),
            diameter=complex(p[5], p[6]),
            attenuation=start.attenuation,
        )

    def residual(p: FloatArray) -> FloatArray:
        return split(resonance(p).response(frequency) - response)

    def jacobian(p: FloatArray) -> FloatArray:
        here = resonance(p)
        columns = split(here.jacobian(frequency))
        columns[:, 0] *= start.frequency / (start.q_loaded * here.frequency)
        columns[:, 2] /= 2.0 * np.pi * reach
        return columns

    reach = float(np.ptp(frequency))
    first = np.array(
        [0.0, 0.0, 0.0, start.off.real, start.off.imag, start.diameter.real, start.diameter.imag]
    )
    # Bounded: a step of the search never leaves what could be meant, and never takes for ever.
    widest = np.array([reach / start.width + 1.0, 4.0, 20.0, 3.0, 3.0, 30.0, 30.0])
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


def split(z: ComplexArray) -> FloatArray:
    """Real parts above imaginary parts: the real rows of complex equations."""
    return np.concatenate([z.real, z.imag])
