# SPDX-License-Identifier: BSD-3-Clause
"""Designs drawn from the stated tolerances: the same ones every time, spread evenly instead of at random.

With a layer of what was measured they are drawn from that, in which the inputs hang together.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from ringwright.antenna.calibration import (
    GREATEST_PERMITTIVITY,
    LEAST_PERMITTIVITY,
    Calibration,
    declared_spread,
)
from ringwright.antenna.design import Earth, Tolerance
from ringwright.antenna.ranges.sobol import DIMENSIONS, sobol_points
from ringwright.physics.constants import EPS_0
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray

BITS = 8
"""256 draws: 1 % of error in how much a range covers, rms over figures that go with any mixture of the inputs."""
NAMES = ("capacitor_q", "joint_resistance", "earth", "earth")
"""Key of the tolerance behind each score."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draws:
    """The design itself first, then designs drawn from its tolerances.

    `scores` (n, 4) are standard normal, one column for each of `NAMES`, 0 where a tolerance is 0 or plays no part; with
    a layer they are correlated. The others (n,): factors on the capacitor's own loss and on the joints' resistance; the
    earth's conductivity [S/m] and relative permittivity.
    """

    scores: FloatArray
    capacitor_loss: FloatArray
    joint_resistance: FloatArray
    conductivity: FloatArray
    permittivity: FloatArray

    @classmethod
    def of(cls, tolerance: Tolerance, earth: Earth | None, layer: Calibration | None = None) -> "Draws":
        """Lognormal, independent without a `layer`; without an earth, or over a mirror, the earth is certain.

        `layer` is one that has moved the design already: here it says how far from there a draw may be.
        """
        spread = declared_spread(tolerance, earth) if layer is None else np.array(layer.spread)
        independent = ndtri(sobol_points(BITS))
        drawn = independent if layer is None else independent @ layer.root
        itself = np.zeros((1, DIMENSIONS))
        drawn = drawn * (spread > 0.0) if spread.any() else itself
        scores = np.concatenate([itself, drawn])
        quality, joints, conductivity, permittivity = np.exp(scores * spread).T
        here = earth or Earth(name="", conductivity=0.0, permittivity=1.0)
        greatest = max(GREATEST_PERMITTIVITY, here.permittivity)
        return cls(
            scores=scores,
            capacitor_loss=1.0 / quality,
            joint_resistance=joints,
            conductivity=here.conductivity * conductivity,
            permittivity=np.clip(here.permittivity * permittivity, LEAST_PERMITTIVITY, greatest),
        )

    @property
    def has_uncertain_earth(self) -> bool:
        """Whether draws differ in their earth."""
        return bool(np.any(self.scores[:, NAMES.index("earth") :]))

    def earths(self, frequency: float) -> ComplexArray:
        """Complex relative permittivity of each earth at a frequency [Hz], shape (n,)."""
        return np.asarray(self.permittivity - 1j * self.conductivity / (2.0 * np.pi * frequency * EPS_0))
