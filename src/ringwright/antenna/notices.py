# SPDX-License-Identifier: BSD-3-Clause
"""What the person should know beside the figures."""

from collections.abc import Iterable

import numpy as np

from ringwright.antenna.bands import RADIATED_POWER_LIMITS
from ringwright.antenna.capacitor import range_at_gap
from ringwright.antenna.design import Design
from ringwright.antenna.prediction import BandPrediction, Notice
from ringwright.antenna.site_clearance import unjoined_contacts
from ringwright.units import format_quantity

SMALL_GAP_CAPACITANCE = 20e-12
"""Below it the 0.25 pF by which real gaps differ exceeds 1 % of the setting."""
THICK_RING = 0.04
"""Conductor radius over ring radius from which crowding adds over 1 % of loss the method does not see."""


def find_notices(design: Design, bands: Iterable[BandPrediction]) -> tuple[Notice, ...]:
    """All notices, design first, then band by band."""
    return tuple(_of_design(design)) + tuple(notice for band in bands for notice in _of_band(design, band))


def _of_design(design: Design) -> Iterable[Notice]:
    yield from _of_insulation(design)
    if design.ring.conductor.electrical_radius > THICK_RING * design.ring.perimeter / (2.0 * np.pi):
        yield Notice(
            code="thick-conductor",
            text="This conductor is thick for its ring: current crowds to the inner side and the true loss is "
            "over 1 % higher than shown.",
        )
    touching = dict.fromkeys((a.kind, b.kind) for a, b in unjoined_contacts(design.site.metal))
    for first, second in touching:
        yield Notice(
            code="metal-not-joined",
            text=f"{first} and {second} touch but are not joined: end one on the other's axis, or keep them "
            "apart.",
        )


def _of_insulation(design: Design) -> Iterable[Notice]:
    """What nobody may take for rated because the file states it."""
    gap = design.capacitor.plate_gap
    if gap is not None and design.capacitor.rated_voltage is None:
        yield Notice(
            code="gap-not-rated",
            text=f"What a plate gap of {format_quantity(gap, 'mm')} stands is not computed: the peak voltage shown is "
            "what it must stand. State capacitor.rated_voltage to learn how much power it takes.",
        )
    if design.site.altitude > 0.0 and design.capacitor.kind != "vacuum":
        yield Notice(
            code="altitude-not-counted",
            text=f"The altitude of {format_quantity(design.site.altitude, 'm')} is not counted: in thin air an open "
            "gap breaks down sooner than at sea level.",
        )


def _of_band(design: Design, band: BandPrediction) -> Iterable[Notice]:
    name = band.band if band.band and band.is_whole_band else f"{band.frequency / 1e6:.6g} MHz"
    if not band.tuning.reachable:
        yield Notice(code="out-of-reach", text=_missing_reach(design, band, name), band=band.band)
    power_max = band.limits.power_max
    if power_max is not None and power_max < design.power:
        yield Notice(
            code="power-above-limit",
            text=f"{name}: {design.power:.4g} W is more than the {power_max:.3g} W that the {band.limits.set_by} "
            "allows.",
            band=band.band,
        )
    allowed = RADIATED_POWER_LIMITS.get(band.band or "")
    if allowed is not None and band.limits.eirp is not None and band.limits.eirp > allowed:
        yield Notice(
            code="radiated-power-limit",
            text=f"{name}: {band.limits.eirp:.3g} W EIRP at {design.power:.4g} W; the Radio Regulations allow amateurs "
            f"{allowed:.3g} W EIRP here (No. 5.133B), and your licence decides.",
            band=band.band,
        )
    if band.tuning.capacitance < SMALL_GAP_CAPACITANCE:
        yield Notice(
            code="gap-sets-capacitance",
            text=f"{name}: the shape of the real gap moves the setting by about 0.25 pF, over 1 % here.",
            band=band.band,
        )


def _missing_reach(design: Design, band: BandPrediction, name: str) -> str:
    low, high = range_at_gap(design.capacitor)
    edge = format_quantity(band.tuning.capacitance, "pF", digits=3)
    if band.tuning.tunes_to is not None and band.tuning.capacitance <= low * 1.2:
        return (
            f"{name} is out of reach: with its least {format_quantity(low, 'pF', digits=3)} the ring stops at "
            f"{band.tuning.tunes_to / 1e6:.4g} MHz; mid-band needs {edge}."
        )
    if band.tuning.tunes_from is not None:
        return (
            f"{name} is out of reach: with its greatest {format_quantity(high, 'pF', digits=3)} the ring starts at "
            f"{band.tuning.tunes_from / 1e6:.4g} MHz; mid-band needs {edge}."
        )
    return f"{name} is out of reach of this capacitor; mid-band needs {edge}."
