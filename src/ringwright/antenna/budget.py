# SPDX-License-Identifier: BSD-3-Clause
"""Every watt has an address: power by where it goes, as ohms at the gap and as shares of the input."""

from dataclasses import dataclass

from ringwright.antenna.far_side import FarSide
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.prediction import Resistance, WattsPct


@dataclass(frozen=True, slots=True, kw_only=True)
class Watts:
    """Power by address [W]; `earth` and `metal` None where there is none."""

    sky: float
    earth: float | None
    ring: float
    joints: float
    capacitor: float
    coupling: float
    metal: float | None

    @classmethod
    def of(cls, point: OperatingPoint, far: FarSide) -> "Watts":
        """What leaves, counted far away, and what stays, counted on the conductors: independent of the input."""
        heat = point.heat()
        return cls(
            sky=far.sky,
            earth=far.earth,
            ring=heat["ring"],
            joints=heat["joints"],
            capacitor=heat["capacitor"],
            coupling=heat["coupling"],
            metal=heat["metal"] if point.wires.metal else None,
        )

    @property
    def total(self) -> float:
        """Sum over all addresses [W]."""
        here = self.sky + self.ring + self.joints + self.capacitor + self.coupling
        return here + (self.earth or 0.0) + (self.metal or 0.0)

    def resistance(self, gap_current: float) -> Resistance:
        """Watts over the square of the rms gap current [A]."""
        ohms = 1.0 / gap_current**2
        return Resistance(
            radiation=self.sky * ohms,
            ring=self.ring * ohms,
            joints=self.joints * ohms,
            capacitor=self.capacitor * ohms,
            earth=None if self.earth is None else self.earth * ohms,
            metal=None if self.metal is None else self.metal * ohms,
            coupling=self.coupling * ohms,
            total=self.total * ohms,
        )

    def share(self, power: float) -> WattsPct:
        """Per cent of the accepted `power` [W]."""
        pct = 100.0 / power
        return WattsPct(
            sky=self.sky * pct,
            earth=None if self.earth is None else self.earth * pct,
            ring=self.ring * pct,
            joints=self.joints * pct,
            capacitor=self.capacitor * pct,
            coupling=self.coupling * pct,
            metal=None if self.metal is None else self.metal * pct,
            sum=self.total * pct,
        )
