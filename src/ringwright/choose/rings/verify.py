# SPDX-License-Identifier: BSD-3-Clause
"""A candidate solved for itself, as `predict` would, and judged by that."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from ringwright.antenna.capacitor_stress import part_stresses
from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import BandPrediction
from ringwright.antenna.site_fields import site_field
from ringwright.choose.rings.brief import Limits
from ringwright.choose.rings.candidate import Candidate, CandidateBand
from ringwright.choose.rings.judging import decibels
from ringwright.choose.rings.misses import Misses
from ringwright.errors import DesignError, OutOfRangeError
from ringwright.safety.exposure import Yardstick
from ringwright.safety.keepout import person_rows, unfavourable_factor
from ringwright.safety.mechanics.masses import find_masses


@dataclass(frozen=True, slots=True, kw_only=True)
class VerifyTask:
    """A candidate with its design file's text."""

    candidate: Candidate
    text: str
    limits: Limits


def verify(task: VerifyTask) -> Candidate | Misses:
    """Solve it; the candidate with its own figures, or what it misses."""
    try:
        design = parse_design(task.text, source="candidate")
        prediction = predict(design)
    except DesignError:
        return {"site": 0.0}
    except OutOfRangeError:
        return {"grid.perimeter": 0.0}
    shares = [_people_share(design, band, task.limits) for band in prediction.bands]
    misses = _misses(design, prediction.bands, shares, limits=task.limits)
    masses = find_masses(replace(design, stand=None), prediction.bands[0].point.wires)
    if task.limits.mass is not None and masses.head > task.limits.mass:
        misses["limits.mass"] = masses.head
    if misses:
        return misses
    return replace(
        task.candidate,
        mass=masses.head,
        bands=tuple(_band(band, share) for band, share in zip(prediction.bands, shares, strict=True)),
        is_verified=True,
    )


def _band(band: BandPrediction, share: float) -> CandidateBand:
    stands = band.capacitor.stands_peak
    assert stands is not None
    return CandidateBand(
        band=band.band,
        frequency=band.frequency,
        sky=band.efficiency_sky_pct / 100.0,
        swr_min=band.match.swr_min,
        capacitance=band.tuning.capacitance,
        bandwidth=band.bandwidth_half_power,
        voltage_peak=band.tuning.capacitor_voltage_peak,
        voltage_margin_db=decibels(stands / band.capacitor.must_stand_peak),
        people_margin_db=-decibels(share),
    )


def _misses(
    design: Design, bands: Iterable[BandPrediction], shares: list[float], *, limits: Limits
) -> dict[str, float]:
    misses: dict[str, float] = {}
    for band, share in zip(bands, shares, strict=True):
        missing = band.tuning.missing
        if not band.tuning.reachable:
            is_low = missing is not None and missing < 0.0
            edges = (band.tuning.capacitance_lower_edge, band.tuning.capacitance_upper_edge)
            misses["capacitor.minimum" if is_low else "capacitor.maximum"] = (min if is_low else max)(edges)
        stands = band.capacitor.stands_peak
        if stands is None:
            misses["capacitor.rated_voltage"] = 0.0
        else:
            room = stands / band.capacitor.must_stand_peak / limits.voltage_margin
            _lower(misses, "limits.capacitor_voltage_margin", design.power * room**2, power=design.power)
        parts = part_stresses(design.capacitor, band.tuning.capacitance, altitude=design.site.altitude)
        carried = [limit for part in parts if (limit := part.carries_at_gap()) is not None]
        if carried:
            room = min(carried) / band.capacitor.must_carry_rms
            _lower(misses, "capacitor.rated_current", design.power * room**2, power=design.power)
        if share > 0.0:
            _lower(misses, "site.people", design.power / share**2, power=design.power)
        if limits.swr is not None and band.match.swr_min > limits.swr:
            misses["limits.swr"] = max(misses.get("limits.swr", 0.0), band.match.swr_min)
    return misses


def _lower(misses: dict[str, float], key: str, allowed: float, *, power: float) -> None:
    if allowed < power:
        misses[key] = min(misses.get(key, power), allowed)


def _people_share(design: Design, band: BandPrediction, limits: Limits) -> float:
    """Greatest field over limit of anybody, at the unfavourable end of its range; 0 where nobody is."""
    if not design.site.people:
        return 0.0
    yardstick = Yardstick.of(design, band.frequency)
    field_at = site_field(design, band.point)
    margins = [
        row.margin_unfavourable_db
        for person in design.site.people
        for row in person_rows(
            person,
            yardstick,
            field_at=field_at,
            power=design.power,
            unfavourable=unfavourable_factor(band),
        )
        if not limits.exposure or row.limit.name in limits.exposure
    ]
    return float(max((10.0 ** (-each / 20.0) for each in margins), default=0.0))
