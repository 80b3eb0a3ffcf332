# SPDX-License-Identifier: BSD-3-Clause
"""What each of many rings sends, by the far field of the currents known already over each draw's earth."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Earth
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.pattern import LOW_ANGLE, Pattern
from ringwright.antenna.ranges.draws import Draws
from ringwright.physics.constants import ETA_0
from ringwright.physics.graph import FloatArray
from ringwright.physics.half_space.sky import both_ways, fresnel, sky_directions
from ringwright.physics.wave_kernel import ComplexArray

_UP = np.deg2rad(np.arange(5.0, 91.0, 5.0))
_AROUND = np.deg2rad(np.arange(0.0, 360.0, 90.0))
_LOW_AROUND = np.deg2rad(np.arange(0.0, 360.0, 10.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawnSky:
    """Far fields per ampere into feed and gap, for draws whose port currents are given.

    `elements` are places (n, 3) [m] and moments (n, 3, 2) [m] of the wires; `earths` (draws,) their complex relative
    permittivities, None where no draw has its own: over a mirror, and in free space.
    """

    elements: tuple[FloatArray, ComplexArray]
    frequency: float
    earths: ComplexArray | None
    has_mirror: bool

    @classmethod
    def of(cls, point: OperatingPoint, draws: Draws, earth: Earth | None) -> "DrawnSky":
        """One element a segment, enough for how far a figure moves."""
        graph, frequency = point.wires.graph, point.target.frequency
        moments = point.per_ampere.mean(axis=1)[:, None, :] * graph.vectors[:, :, None]
        is_lossy = earth is not None and not earth.perfect
        return cls(
            elements=(graph.centres, moments),
            frequency=frequency,
            earths=draws.earths(frequency) if is_lossy else None,
            has_mirror=earth is not None and earth.perfect,
        )

    def power(self, ports: ComplexArray) -> FloatArray:
        """Into the upper half-space over an earth (n,) [W], for rms currents `ports` (n, 2) [A]."""
        elevation, azimuth, weights = sky_directions(self.elements[0], self.frequency)
        direct, reflected = self._both_ways(elevation, azimuth)
        pairs = (ports.conj()[:, :, None] * ports[:, None, :]).reshape(len(ports), -1)

        def summed(a: ComplexArray, b: ComplexArray) -> ComplexArray:
            """Round every circle of azimuths, either polarisation, (n, 2 e)."""
            by_ports = np.swapaxes(a, 2, 3).conj() @ b * (weights / ETA_0)[:, None, None]
            return np.asarray(pairs @ by_ports.reshape(-1, pairs.shape[1]).T)

        gamma = np.concatenate(self._reflection(elevation), axis=1)
        watts = (
            summed(direct, direct)
            + 2.0 * gamma * summed(direct, reflected)
            + abs(gamma) ** 2 * summed(reflected, reflected)
        )
        return np.asarray(watts.real.sum(axis=1))

    def gains(self, ports: ComplexArray, pattern: Pattern, power: float) -> tuple[FloatArray, FloatArray]:
        """Best gain, and best at 20 degrees elevation (n,) [dBi], sought round the design's own best direction."""
        azimuth, elevation = np.deg2rad(pattern.azimuth_deg), np.deg2rad(pattern.elevation_deg)
        best = self._greatest(ports, np.append(_UP, elevation), azimuth + _AROUND)
        low = self._greatest(ports, np.array([LOW_ANGLE]), _LOW_AROUND)
        return _dbi(best, power), _dbi(low, power)

    def _greatest(self, ports: ComplexArray, elevation: FloatArray, azimuth: FloatArray) -> FloatArray:
        """Greatest intensity of every draw (n,) [W/sr] in all pairs of an elevation and an azimuth."""
        direct, reflected = (way.reshape(2, -1, way.shape[-1]) for way in self._both_ways(elevation, azimuth))
        intensity = np.zeros((len(ports), direct.shape[1]))
        for number, gamma in enumerate(self._reflection(elevation)):
            there = np.repeat(gamma, len(azimuth), axis=1)
            intensity += abs(ports @ direct[number].T + there * (ports @ reflected[number].T)) ** 2
        return np.asarray(intensity.max(axis=1) / ETA_0)

    def _both_ways(self, elevation: FloatArray, azimuth: FloatArray) -> ComplexArray:
        """Direct and reflected, theta and phi parts, per ampere (2, 2, e, a, ports) [V/A]."""
        up, around = (each.ravel() for each in np.meshgrid(elevation, azimuth, indexing="ij"))
        fields = both_ways(*self.elements, elevation=up, azimuth=around, frequency=self.frequency)
        return fields.reshape(2, 2, len(elevation), len(azimuth), -1)

    def _reflection(self, elevation: FloatArray) -> tuple[ComplexArray, ComplexArray]:
        """Coefficients of the theta and of the phi parts, (n, e), or (1, e) where all draws have one."""
        if self.earths is None:
            whole = np.full((1, len(elevation)), complex(self.has_mirror))
            return whole, -whole
        horizontal, vertical = fresnel(elevation, self.earths[:, None])
        return vertical, horizontal


def _dbi(strength: FloatArray, power: float) -> FloatArray:
    return np.asarray(10.0 * np.log10(4.0 * np.pi * strength / power))
