# SPDX-License-Identifier: BSD-3-Clause
"""One target for many draws at once: currents, watts by address, and the figures made of them."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Earth
from ringwright.antenna.geometry import Address
from ringwright.antenna.network import GAP
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.pattern import Pattern
from ringwright.antenna.ranges.drawn_earth import earth_change
from ringwright.antenna.ranges.drawn_ring import DrawnNetwork, DrawnRing
from ringwright.antenna.ranges.drawn_sky import DrawnSky
from ringwright.antenna.ranges.draws import Draws
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray

Drawn = dict[str, FloatArray]
"""Key of a figure -> its value for every draw, the design's own first."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawnBand:
    """A tuned ring at power; `ports` (n, 2) are rms currents into feed and gap [A], `sky` what they send."""

    point: OperatingPoint
    draws: Draws
    ring: DrawnRing
    ports: ComplexArray
    sky: DrawnSky

    @classmethod
    def of(
        cls, point: OperatingPoint, draws: Draws, *, earth: Earth | None, memory: SolutionMemory
    ) -> "DrawnBand":
        """`point` is the design's own, tuned and at power over its `earth`."""
        frequency = point.target.frequency
        network = DrawnNetwork(
            network=point.tuned.network,
            capacitor=point.tuned.capacitor,
            draws=draws,
            earth_change=earth_change(
                draws, point.wires, point.per_ampere, frequency=frequency, earth=earth, memory=memory
            ),
        )
        ring = DrawnRing.at(network, frequency, reference=point.tuned.reference)
        return cls(
            point=point,
            draws=draws,
            ring=ring,
            ports=ring.ports(point.power),
            sky=DrawnSky.of(point, draws, earth),
        )

    def tuned(self) -> Drawn:
        """The setting of the capacitor, its stress, and the ring's resonance."""
        slope = self.ring.slope()
        f0, q = self.ring.unloaded_q(slope)
        on_ring = self.point.per_ampere[self.point.wires.graph.address == Address.RING].reshape(-1, 2)
        return {
            "tuning.capacitance_f": self.ring.capacitance,
            "tuning.capacitor_voltage_peak_v": self.gap_voltage_peak,
            "tuning.capacitor_current_rms_a": self.gap_current,
            "tuning.ring_current_max_rms_a": np.asarray(abs(self.ports @ on_ring.T).max(axis=1)),
            "q_unloaded": q,
            "bandwidth_half_power_hz": f0 / q,
            "bandwidth_swr2_hz": self.ring.bandwidth_swr2(slope),
            "match.swr_min": self.ring.least_swr(slope),
        }

    def budget(self) -> Drawn:
        """Watts by address as ohms and as shares, and the efficiency."""
        watts = self.watts()
        per_cent = {name: 100.0 * each / self.point.power for name, each in watts.items()}
        ohms = {
            "radiation" if name == "sky" else name: each / self.gap_current**2
            for name, each in (watts | {"total": np.asarray(sum(watts.values()))}).items()
        }
        return (
            {f"watts_pct.{name}": each for name, each in per_cent.items()}
            | {f"resistance_ohm.{name}": each for name, each in ohms.items()}
            | {"efficiency_sky_pct": per_cent["sky"]}
        )

    def outside(self, pattern: Pattern) -> Drawn:
        """Gains and radiated power."""
        best, low = self.sky.gains(self.ports, pattern, self.point.power)
        return {
            "pattern.gain_max_dbi": best,
            "pattern.gain_20deg_dbi": low,
            "limits.eirp_w": self.point.power * 10.0 ** (best / 10.0),
        }

    @property
    def gap_current(self) -> FloatArray:
        """Rms current through the capacitor (n,) [A]."""
        return np.asarray(abs(self.ports[:, GAP]))

    @property
    def gap_voltage_peak(self) -> FloatArray:
        """Across the capacitor, without its leads (n,) [V]."""
        resistance, _, _ = self.ring.losses
        reactance = 1.0 / (2.0 * np.pi * self.ring.frequency * self.ring.capacitance)
        return np.asarray(np.sqrt(2.0) * self.gap_current * np.hypot(resistance, reactance))

    def watts(self) -> Drawn:
        """By address (n,) [W]; what leaves the wires and not into the sky goes into the earth."""
        network, frequency = self.point.tuned.network, self.point.target.frequency
        in_capacitors, contact, leads = self.ring.losses
        squared = self.gap_current**2
        watts = {name: self._power_in(form) for name, form in network.power(frequency).items()}
        watts["joints"] = watts["joints"] * self.draws.joint_resistance + contact * squared
        watts["capacitor"] = (in_capacitors + leads) * squared
        left = self._power_in(network.parts(frequency)["radiation"] + self.ring.network.earth_change)
        if self.point.wires.metal:
            watts["metal"] = self._power_in(self.point.metal_resistance())
            left = left - watts["metal"]
        if self.sky.earths is None:
            return watts | {"sky": left, "earth": np.zeros_like(left)}
        sky = self.sky.power(self.ports)
        return watts | {"sky": sky, "earth": left - sky}

    def _power_in(self, impedance: ComplexArray) -> FloatArray:
        """Watts (n,) in a symmetric impedance or a Hermitian form of the ports, (2, 2) or one for each draw [ohm]."""
        volts = (impedance @ self.ports[..., None])[..., 0]
        return np.asarray(np.sum(self.ports.conj() * volts, axis=1).real)
