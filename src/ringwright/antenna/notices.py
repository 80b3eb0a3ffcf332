# SPDX-License-Identifier: BSD-3-Clause
"""What the person should know beside the figures."""

from collections.abc import Iterable

import numpy as np

from ringwright.antenna.bands import RADIATED_POWER_LIMITS
from ringwright.antenna.capacitor_rating import SEALED, stands
from ringwright.antenna.coupling_notices import coupling_notices
from ringwright.antenna.design import Design
from ringwright.antenna.drive_notices import band_drive_notices, drive_notices
from ringwright.antenna.prediction import BandPrediction, Notice
from ringwright.antenna.reach_words import least_margin, out_of_reach
from ringwright.antenna.site_clearance import unjoined_contacts
from ringwright.units import format_quantity

SMALL_GAP_CAPACITANCE = 20e-12
"""Below it the 0.25 pF by which real gaps differ exceeds 1 % of the setting."""
GAPS_SOLVED = (0.020, 0.040)
"""Real gaps that the solver's stands for [m]."""
THICK_RING = 0.04
"""Conductor radius over ring radius from which crowding adds over 1 % of loss the method does not see."""


def find_notices(design: Design, bands: Iterable[BandPrediction]) -> tuple[Notice, ...]:
    """All notices, design first, then band by band."""
    bands = tuple(bands)
    insulation = max(
        (band.drive.insulation_needed_damp for band in bands if band.drive is not None), default=0.0
    )
    of_bands = tuple(notice for band in bands for notice in _of_band(design, band, insulation=insulation))
    return (*_of_design(design), *coupling_notices(design, bands), *drive_notices(design, bands), *of_bands)


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
    """What nobody may take for rated because the file states it, or states the rating of another part."""
    capacitor = design.capacitor
    own, _ = stands(capacitor, design.site.altitude)
    if own is None and capacitor.plate_gap is not None:
        why = (
            "vacuum is no air"
            if capacitor.kind in SEALED
            else "the breakdown law starts at 0.1 mm of dense air"
        )
        yield Notice(
            code="gap-not-rated",
            text=f"What a plate gap of {format_quantity(capacitor.plate_gap, 'mm')} stands here is not computed "
            f"({why}): the peak voltage shown is what it must stand. State capacitor.rated_voltage to learn how much "
            "power it takes.",
        )
    for key, part, is_there in (
        ("fixed", capacitor.fixed_part, capacitor.fixed > 0.0),
        ("series", capacitor.series_part, capacitor.series is not None),
    ):
        if is_there and own is not None and part.rated_voltage is None:
            yield Notice(
                code=f"{key}-not-rated",
                text=f"What the {key} capacitor stands is not stated, and not counted: state "
                f"capacitor.{key}_rated_voltage.",
            )
    if capacitor.made is not None:
        yield Notice(
            code="capacitor-made",
            text=f"The capacitor is computed from its dimensions ({capacitor.made}). Measure it before you trust its "
            "reach; what it stands is an estimate for clean, smooth metal, and an edge, dust or warm insulation breaks "
            "down first.",
        )


def _of_band(design: Design, band: BandPrediction, *, insulation: float) -> Iterable[Notice]:
    """`insulation` [m]: what a shaft needs on the worst of all bands."""
    name = band.band if band.band and band.is_whole_band else f"{band.frequency / 1e6:.6g} MHz"
    if not band.tuning.reachable:
        yield Notice(code="out-of-reach", text=out_of_reach(design, band, name), band=band.band)
    elif (margin := least_margin(design, band)) < design.capacitor.stray_within:
        yield Notice(
            code="reach-uncertain",
            text=f"{name} is in reach with {format_quantity(margin, 'pF', digits=2)} to spare, but stray and minimum "
            f"are known to {format_quantity(design.capacitor.stray_within, 'pF', digits=2)} only: it may be missed.",
            band=band.band,
        )
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
    yield from _of_gap(design, band, name)
    yield from band_drive_notices(band, name, insulation=insulation)


def _of_gap(design: Design, band: BandPrediction, name: str) -> Iterable[Notice]:
    """What the solver's gap leaves open."""
    if band.tuning.capacitance >= SMALL_GAP_CAPACITANCE:
        return
    width = design.capacitor.gap_width
    if width is None or GAPS_SOLVED[0] <= width <= GAPS_SOLVED[1]:
        text = "the shape of the real gap moves the setting by about 0.25 pF, over 1 % here."
    else:
        text = (
            f"the setting is solved for a gap of 20 to 40 mm; with {format_quantity(width, 'mm')} it may be off by "
            "more than 0.25 pF, over 1 % here."
        )
    yield Notice(code="gap-sets-capacitance", text=f"{name}: {text}", band=band.band)
