# SPDX-License-Identifier: BSD-3-Clause
"""Every conductor of a family with one capacitor: the coupling that suits all bands, and what the ring then does.

The same network and tuning as a prediction's, for many rings at once. Currents and voltages are at the brief's power;
`unfavourable` is by how much they may be higher, to first order in the stated tolerances.
"""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ringwright.antenna.capacitor_parts import lead_impedance, losses, range_at_gap
from ringwright.antenna.capacitor_stress import part_stresses, voltage_stood
from ringwright.antenna.design import Capacitor, Conductor, Design
from ringwright.antenna.network import FEED, GAP, internal_impedance
from ringwright.antenna.tuning import capacitance_of_best_match
from ringwright.choose.rings.family import Family, coupling_weights
from ringwright.physics.constants import C_0
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray

BoolArray = npt.NDArray[np.bool_]

FIRST_LOOK, ZOOM = 36, 9
"""Couplings tried along the mesh, and between the neighbours of the best."""
GRAIN = 0.001
"""Of a coupling loop's diameter, to which one bends [m]."""
TENTH = 1.2815515655446004
"""Of a normal distribution's deviations: one value in ten lies beyond."""
EARTH_SHARE = 0.25
"""By which the logarithm of the earth's watts changes with that of its constants, at most about."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rated:
    """Conductors c with one capacitor, at bands f.

    `coupling` (c,) [m]; (c, f): least `swr`, whole `capacitance` for it [F] and at the band's edges (c, f, 2),
    rms `gap_current` [A], peak `gap_voltage` [V], `sky` share of the accepted power, `bandwidth` f0/Q0 [Hz],
    `unfavourable` factor, `stands` peak volts across the gap that the capacitor stands, nan where nobody knows,
    `carries` rms amperes. `is_tuned` (c,): whether a capacitor tunes the ring on all bands.
    """

    coupling: FloatArray
    swr: FloatArray
    capacitance: FloatArray
    edges: FloatArray
    gap_current: FloatArray
    gap_voltage: FloatArray
    sky: FloatArray
    bandwidth: FloatArray
    unfavourable: FloatArray
    stands: FloatArray
    carries: FloatArray
    is_tuned: BoolArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rings:
    """A family with its conductors' loss: `joint_resistance` (c,) [ohm] at each place of a joint."""

    base: Design
    family: Family
    frequency: FloatArray
    lossy: ComplexArray  # (c, d, f, 2, 2): what conductors and joints add [ohm]
    joints: FloatArray  # (c, d, f, 2, 2): of it the joints' resistance [ohm]

    @classmethod
    def of(
        cls, base: Design, family: Family, conductors: tuple[Conductor, ...], *, joint_resistance: FloatArray
    ) -> "Rings":
        frequency = np.array([target.frequency for target in base.targets])
        assert base.coupling.conductor is not None
        of_ring = np.stack([internal_impedance(each, frequency) for each in conductors])
        of_loop = internal_impedance(base.coupling.conductor, frequency)
        joints = joint_resistance[:, None, None, None, None] * family.joints
        in_metal = of_ring[:, None, :, None, None] * family.ring + of_loop[:, None, None] * family.coupling
        return cls(base=base, family=family, frequency=frequency, lossy=in_metal + joints, joints=joints)

    def rated(self, capacitor: Capacitor) -> Rated:
        """With a capacitor, each matched."""
        coupling = self._matched(capacitor)
        weights = np.stack([coupling_weights(self.family, each[None])[0] for each in coupling])
        joints = np.einsum("cd,cdfpq->cfpq", weights, self.joints)[..., GAP, GAP]
        z = np.einsum("cd,cdfpq->cfpq", weights, self.family.outside + self.lossy)
        return self._at(capacitor, coupling, z, joints=joints)

    def _matched(self, capacitor: Capacitor) -> FloatArray:
        """Diameter (c,) of the loop with the least SWR on the worst band [m], to a millimetre."""
        ratios, across = np.array(self.family.ratios), self.family.perimeter / math.pi
        total = self.family.outside + self.lossy
        tried = np.broadcast_to(
            np.geomspace(ratios[0], ratios[-1], FIRST_LOOK) * across, (len(total), FIRST_LOOK)
        )
        step = (ratios[-1] / ratios[0]) ** (1.0 / (FIRST_LOOK - 1))
        best = self._best_of(capacitor, total, tried)
        near = best[:, None] * np.geomspace(1.0 / step, step, ZOOM)
        best = self._best_of(capacitor, total, np.clip(near, ratios[0] * across, ratios[-1] * across))
        rounded = np.round(best / GRAIN) * GRAIN
        return np.asarray(np.clip(rounded, np.ceil(ratios[0] * across / GRAIN) * GRAIN, ratios[-1] * across))

    def _best_of(self, capacitor: Capacitor, total: ComplexArray, tried: FloatArray) -> FloatArray:
        """Of diameters (c, n) [m] the one (c,) with the least SWR on the worst band."""
        c, n = tried.shape
        weights = coupling_weights(self.family, tried.ravel()).reshape(c, n, -1)
        z = np.einsum("cnd,cdfpq->cnfpq", weights, total)
        swr, _, _ = self._tuned(capacitor, z)
        worst = swr.max(axis=2)
        return np.asarray(tried[np.arange(c), np.argmin(worst, axis=1)])

    def _tuned(self, capacitor: Capacitor, z: ComplexArray) -> tuple[FloatArray, FloatArray, ComplexArray]:
        """Least SWR, whole capacitance [F], impedance of the capacitor [ohm] (..., f) of two-ports (..., f, 2, 2)."""
        shape = z.shape[:-2]
        frequency = np.broadcast_to(self.frequency, shape).ravel()
        reference = self.base.feedline.impedance
        flat = z.reshape(-1, 2, 2)
        with np.errstate(all="ignore"):  # a ring past its own resonance is refused below
            farads = capacitance_of_best_match(flat, capacitor, frequency, reference=reference)
            lost = losses(capacitor, farads, frequency).total
            leads = lead_impedance(capacitor, frequency).imag
            load = lost + 1j * (leads - 1.0 / (2.0 * np.pi * frequency * farads))
            seen = flat[:, FEED, FEED] - flat[:, FEED, GAP] ** 2 / (flat[:, GAP, GAP] + load)
            size = np.minimum(abs((seen - reference) / (seen + reference)), 1.0 - 1e-15)
            is_tuned = (farads > 0.0) & (flat[:, GAP, GAP].real > 0.0) & (flat[:, GAP, GAP].imag > 0.0)
        swr = np.where(is_tuned & np.isfinite(size), (1.0 + size) / (1.0 - size), 1e6)
        return swr.reshape(shape), farads.reshape(shape), load.reshape(shape)

    def _at(
        self, capacitor: Capacitor, coupling: FloatArray, z: ComplexArray, *, joints: FloatArray
    ) -> Rated:
        """At the coupling found; `joints` (c, f) is their resistance at the gap [ohm]."""
        swr, farads, load = self._tuned(capacitor, z)
        is_tuned = np.asarray((swr < 1e6).all(axis=1))
        farads = np.where(is_tuned[:, None], farads, 1e-12)
        ratio = -z[..., GAP, FEED] / (z[..., GAP, GAP] + load)
        seen = (z[..., FEED, FEED] + z[..., FEED, GAP] * ratio).real
        current = np.sqrt(self.base.power / np.maximum(seen, 1e-12)) * abs(ratio)
        omega = 2.0 * np.pi * self.frequency
        own = losses(capacitor, farads, np.broadcast_to(self.frequency, farads.shape)).capacitors
        gap = z[..., GAP, GAP]
        resistance = (gap + load).real
        slope = _log_slope(self.family.perimeter, self.frequency)
        stands, carries = self._stood(capacitor, farads, is_tuned)
        return Rated(
            coupling=coupling,
            swr=swr,
            capacitance=farads,
            edges=self._edges(farads, slope),
            gap_current=np.asarray(current, dtype=float),
            gap_voltage=np.sqrt(2.0) * current * np.hypot(own, 1.0 / (omega * farads)),
            sky=current**2 * self.family.sky / self.base.power,
            bandwidth=2.0 * self.frequency * resistance / (gap.imag * (1.0 + slope)),
            unfavourable=self._unfavourable(resistance, own=own, joints=joints),
            stands=stands,
            carries=carries,
            is_tuned=is_tuned,
        )

    def _edges(self, farads: FloatArray, slope: FloatArray) -> FloatArray:
        """Capacitance at both edges of each band (c, f, 2): f^-(1 + slope) in f."""
        ends = np.array([[target.low, target.high] for target in self.base.targets]) / self.frequency[:, None]
        return np.asarray(farads[..., None] * ends ** -(1.0 + slope[:, None]))

    def _unfavourable(self, resistance: FloatArray, *, own: FloatArray, joints: FloatArray) -> FloatArray:
        """By how much the gap's current may be above that of the design, to one in ten."""
        spread, family = self.base.tolerance, self.family
        leaves = self.family.outside.real.mean(axis=1)[..., GAP, GAP]
        into_earth = np.zeros_like(leaves)
        if self.base.site.earth is not None and not self.base.site.earth.perfect:
            into_earth = np.maximum(leaves - family.sky - family.metal, 0.0)
        logs = np.hypot(spread.capacitor_q * own, spread.joint_resistance * joints)
        logs = np.hypot(logs, spread.earth * EARTH_SHARE * into_earth) / np.maximum(resistance, 1e-12)
        return np.asarray(np.exp(TENTH * logs / 2.0))

    def _stood(
        self, capacitor: Capacitor, farads: FloatArray, is_tuned: BoolArray
    ) -> tuple[FloatArray, FloatArray]:
        """Peak volts and rms amperes at the gap that the capacitor stands and carries (c, f); nan where unknown."""
        volts, amperes = np.full(farads.shape, np.nan), np.full(farads.shape, np.nan)
        low, high = range_at_gap(capacitor)
        altitude = self.base.site.altitude
        is_plain = capacitor.series is None and capacitor.fixed == 0.0 and capacitor.rated_current is None
        plain = _stood_at(capacitor, low, altitude) if is_plain else None
        for place in zip(*np.nonzero(is_tuned[:, None] & np.ones(farads.shape, dtype=bool)), strict=True):
            at = plain or _stood_at(capacitor, float(np.clip(farads[place], low, high)), altitude)
            volts[place], amperes[place] = at
        return volts, amperes


def _stood_at(capacitor: Capacitor, farads: float, altitude: float) -> tuple[float, float]:
    parts = list(part_stresses(capacitor, farads, altitude=altitude))
    volts, _ = voltage_stood(parts)
    amperes = [limit for part in parts if (limit := part.carries_at_gap()) is not None]
    return math.nan if volts is None else volts, min(amperes, default=math.nan)


def _log_slope(perimeter: float, frequency: FloatArray) -> FloatArray:
    """d ln X/d ln f of a ring's reactance: that of a shorted line of half its length, 1 for a small one."""
    u = np.minimum(np.pi * frequency * perimeter / C_0, 1.45)
    return np.asarray(2.0 * u / np.sin(2.0 * u))
