# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps whose truth is known: the textbook resonator behind a cable, and the circuit of ring and coupling loop."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.proof.sweep import Sweep, SweepKind

C_0 = 299_792_458.0
VELOCITY = 0.66 * C_0


@dataclass(frozen=True, kw_only=True)
class Truth:
    """A resonator, and the cable before it: its length [m], and its loss there and back at resonance [Np].

    The loss goes with this power of frequency: 0.5 the skin effect's, 0 that of a pad, 1 that of a poor dielectric.
    """

    frequency: float = 7.1e6
    q: float = 800.0
    coupling: float = 0.8
    cable: float = 0.0
    loss: float = 0.0
    power: float = 0.5
    phase: float = 1.0

    @property
    def q_loaded(self) -> float:
        return self.q / (1.0 + self.coupling)

    @property
    def width(self) -> float:
        return self.frequency / self.q_loaded

    def reflection(self, f: FloatArray) -> ComplexArray:
        """D. Kajfez, Q Factor, 1994: the circle 1 - d/(1 + jx), d = 2k/(1 + k), x = Q_L (f/f_L - f_L/f); a cable."""
        d = 2.0 * self.coupling / (1.0 + self.coupling)
        x = self.q_loaded * (f / self.frequency - self.frequency / f)
        turn = 2.0 * np.pi * (2.0 * self.cable / VELOCITY) * (f - self.frequency)
        line = np.exp(-self.loss * (f / self.frequency) ** self.power + 1j * (self.phase - turn))
        return np.asarray(line * (1.0 - d / (1.0 + 1j * x)))


def grid(truth: Truth, *, widths: float, points: int, off_centre: float = 0.0) -> FloatArray:
    """Frequencies over so many loaded widths; `off_centre` is a share of the span."""
    return np.asarray(truth.frequency + truth.width * widths * (np.linspace(-0.5, 0.5, points) + off_centre))


def complex_noise(rng: np.random.Generator, count: int, size: float) -> ComplexArray:
    return np.asarray(size * (rng.normal(size=count) + 1j * rng.normal(size=count)))


def sweep_of(
    f: FloatArray, response: NDArray[np.complex128], kind: SweepKind = SweepKind.REFLECTION
) -> Sweep:
    return Sweep(
        source="made.s1p", kind=kind, frequency=f, response=np.asarray(response, dtype=np.complex128)
    )


def ring_and_loop(f: FloatArray, *, f0: float, q: float, coupling: float, cable: float = 0.0) -> ComplexArray:
    """Reflection of the coupled circuits: a ring of 2.31 uH, a loop of half the line's reactance, a thin cable."""
    w, w0, z0, x = 2.0 * np.pi * f, 2.0 * np.pi * f0, 50.0, 25.0
    inductance = 2.31e-6
    resistance = w0 * inductance / q
    mutual = np.sqrt(coupling * resistance * (z0**2 + x**2) / z0) / w0
    ring = resistance + 1j * w * inductance * (1.0 - (f0 / f) ** 2)
    z = 1j * w * x / w0 + (w * mutual) ** 2 / ring
    # 4.8 dB in 100 m at 10 MHz, as the root of frequency.
    attenuation = 0.048 / 8.685889638 * cable * np.sqrt(f / 10e6)
    return np.asarray((z - z0) / (z + z0) * np.exp(-2.0 * attenuation - 2j * w * cable / VELOCITY))
