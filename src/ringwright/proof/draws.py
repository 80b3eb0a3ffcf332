# SPDX-License-Identifier: BSD-3-Clause
"""Many rings that might have been built, side by side: how each differs from what is declared."""

from dataclasses import dataclass

import numpy as np

from ringwright.physics.graph import FloatArray, IntArray
from ringwright.physics.wave_kernel import ComplexArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draws:
    """Samples of what may be other than declared; every array has shape (samples,).

    Attributes
    ----------
    capacitor_loss, joints, conductor : ndarray of float64
        Factors of the declared resistances. [1]
    capacitor_tangent, capacitor_contact : ndarray of float64
        What the capacitor loses beyond, as loss tangent [1] and as a resistance [ohm] at every frequency.
    joint_extra, joint_place : ndarray
        Resistance of one bad joint [ohm] and its place among the joints, 0 at the gap.
    earth_conductivity, earth_permittivity : ndarray of float64
        Natural logarithms over the declared earth's. [1]
    bar_peak, bar_frequency, bar_q, bar_angle : ndarray of float64
        A piece of metal that resonates: the resistance it adds at its resonance [ohm], that frequency [Hz], its Q [1],
        and the phase of what it adds [rad].
    bar_sky : ndarray of float64
        Share of that resistance which leaves for the sky, by the bar's own field alone. [1]
    bar_with_ring : ndarray of float64
        How the bar's far field adds to the ring's: from -1, cancels, to 1, adds. [1]
    frame : ndarray of float64
        Change of radiation and earth's share by a closed frame. [1]
    loop_size, loop_nearness : ndarray of float64
        Natural logarithm of the coupling loop's diameter over the declared one, and a factor of its mutual impedance
        for its place. [1]
    loop_reactance : ndarray of float64
        Factor of the feed's own reactance: leads at the socket, a loop bent by hand. [1]
    line_loss : ndarray of float64
        Loss of the feedline beyond the declared, at 10 MHz. [dB]
    choke_left, has_common_mode : ndarray
        Which of `twin.CHOKES` is left, and whether the cable's outside carries current: 0 or 1.
    is_other_earth : bool
        Whether there is an earth where none is declared.
    """

    capacitor_loss: FloatArray
    joints: FloatArray
    conductor: FloatArray
    capacitor_tangent: FloatArray
    capacitor_contact: FloatArray
    joint_extra: FloatArray
    joint_place: IntArray
    earth_conductivity: FloatArray
    earth_permittivity: FloatArray
    bar_peak: FloatArray
    bar_frequency: FloatArray
    bar_q: FloatArray
    bar_angle: FloatArray
    bar_sky: FloatArray
    bar_with_ring: FloatArray
    frame: FloatArray
    loop_size: FloatArray
    loop_nearness: FloatArray
    loop_reactance: FloatArray
    line_loss: FloatArray
    choke_left: IntArray
    has_common_mode: FloatArray
    is_other_earth: bool = False

    @classmethod
    def as_declared(cls, count: int) -> "Draws":
        """`count` samples of the very design."""
        zero, one = np.zeros(count), np.ones(count)
        first = np.zeros(count, dtype=np.int64)
        return cls(
            capacitor_loss=one,
            joints=one,
            conductor=one,
            capacitor_tangent=zero,
            capacitor_contact=zero,
            joint_extra=zero,
            joint_place=first,
            earth_conductivity=zero,
            earth_permittivity=zero,
            bar_peak=zero,
            bar_frequency=one,
            bar_q=one,
            bar_angle=zero,
            bar_sky=zero,
            bar_with_ring=zero,
            frame=zero,
            loop_size=zero,
            loop_nearness=one,
            loop_reactance=one,
            line_loss=zero,
            choke_left=first,
            has_common_mode=zero,
        )

    def bar_impedance(self, frequency: FloatArray) -> ComplexArray:
        """What the bar adds at the gap, (samples, len(frequency)) [ohm].

        The ring induces a voltage that grows as the frequency; the bar is one series resonance.
        """
        ratio = frequency / self.bar_frequency[:, None]
        detuning = self.bar_q[:, None] * (ratio - 1.0 / ratio)
        strength = self.bar_peak * np.exp(1j * self.bar_angle)
        return np.asarray(strength[:, None] * ratio**2 / (1.0 + 1j * detuning))

    def bar_stiffness(self, frequency: FloatArray, step: float) -> FloatArray:
        """f dX/df + X of the bar [ohm], (samples, len(frequency)), over a `step` of the frequency either way."""
        below, above = (self.bar_impedance(frequency * (1.0 + way * step)).imag for way in (-1.0, 1.0))
        return np.asarray((above - below) / (2.0 * step) + (above + below) / 2.0)
