# SPDX-License-Identifier: BSD-3-Clause
"""What the feed reflects, by where the rotor truly stands: the face of every simulated ring, and one of numbers."""

import math
from dataclasses import dataclass
from typing import Protocol


class TwinRing(Protocol):
    """A ring whose rotor stands somewhere, in steps of the drive, and is `kelvin` warmer than it was cold."""

    def reflected_share(self, frequency: float, rotor: float, kelvin: float) -> float:
        """Reflected over forward power at the feed, 0 to 1, at a frequency [Hz]."""
        ...

    def resonance(self, rotor: float, kelvin: float) -> float:
        """Frequency [Hz] of the least reflection."""
        ...

    def half_power_steps(self, frequency: float) -> float:
        """Half-power bandwidth f0/Q0 of the unloaded ring there, in steps of the drive."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberRing:
    """One resonance, coupled to the feed.

    `frequency` [Hz] is met with the rotor at `place`, cold. `per_step`: relative change of the resonance for one step,
    of either sign. `q` unloaded; `coupling`: the input resistance at resonance over the feedline's impedance.
    `drift` [1/K]: relative change of the resonance with warmth.

    Notes
    -----
    The input impedance is coupling / (1 + j y), y = Q0 (f/f0 - f0/f), so that the reflected share is
    ((coupling - 1)^2 + y^2) / ((coupling + 1)^2 + y^2).
    """

    frequency: float
    place: float
    per_step: float
    q: float
    coupling: float
    drift: float = 0.0

    def resonance(self, rotor: float, kelvin: float) -> float:
        return self.frequency * math.exp(self.per_step * (rotor - self.place)) * (1.0 + self.drift * kelvin)

    def reflected_share(self, frequency: float, rotor: float, kelvin: float) -> float:
        x = frequency / self.resonance(rotor, kelvin)
        y = self.q * (x - 1.0 / x)
        y2 = y * y
        return ((self.coupling - 1.0) ** 2 + y2) / ((self.coupling + 1.0) ** 2 + y2)

    def half_power_steps(self, frequency: float) -> float:  # noqa: ARG002 -- the law is the same everywhere
        return 1.0 / (self.q * abs(self.per_step))


def swr_of(reflected_share: float) -> float:
    """Standing-wave ratio where that share of the power comes back."""
    size = math.sqrt(min(reflected_share, 1.0 - 1e-12))
    return (1.0 + size) / (1.0 - size)
