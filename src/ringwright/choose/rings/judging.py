# SPDX-License-Identifier: BSD-3-Clause
"""From what a family's rings do to candidates, or to what each of them misses."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from ringwright.antenna.capacitor_parts import range_at_gap
from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.candidate import Candidate, CandidateBand, Place
from ringwright.choose.rings.family import Family
from ringwright.choose.rings.misses import Misses
from ringwright.choose.rings.people import worst_share
from ringwright.choose.rings.rating import Rated, Rings
from ringwright.choose.rings.screen import cost_of, extent_of, jointed, least_mass
from ringwright.physics.graph import FloatArray
from ringwright.safety.mechanics.masses import mass_per_metre

DOUBT = 1.02
"""Share by which what is carried from solutions nearby may be off: a candidate this near a limit passes here and is
judged by a solution of its own."""
REACH_DOUBT = 1.005
"""The same of capacitances."""

Judged = tuple[Place, Candidate | Misses]


def judged(brief: Brief, family: Family, wanted: Sequence[Place]) -> Iterator[Judged]:
    """Every wanted candidate of a family, which has the conductors of these in order."""
    base = brief.bases[brief.shapes[wanted[0][0]]]
    conductors = sorted({place[2] for place in wanted})
    row = {conductor: number for number, conductor in enumerate(conductors)}
    parts = [brief.conductors[each].conductor for each in conductors]
    resistance = base.ring.joint_resistance
    joints = np.array([resistance if jointed(each) else 0.0 for each in parts])
    rings = Rings.of(base, family, tuple(parts), joint_resistance=joints)
    for capacitor in sorted({place[3] for place in wanted}):
        rated = rings.rated(brief.capacitors[capacitor].capacitor)
        shares = worst_share(
            base,
            family.fields * (rated.gap_current * rated.unfavourable)[:, :, None, None],
            brief.limits.exposure,
        )
        for place in wanted:
            if place[3] == capacitor:
                yield place, _judge(brief, family, place, rated=rated, shares=shares, row=row[place[2]])


def _judge(
    brief: Brief, family: Family, place: Place, *, rated: Rated, shares: FloatArray, row: int
) -> Candidate | Misses:
    if not family.is_built[row]:
        return {"site": 0.0}
    if not rated.is_tuned[row]:
        return {"grid.perimeter": family.perimeter * 0.9}
    misses = _misses(brief, place, rated, shares=shares[row], row=row)
    if misses:
        return misses
    return _candidate(brief, place, rated, shares=shares[row], row=row)


def _misses(brief: Brief, place: Place, rated: Rated, *, shares: FloatArray, row: int) -> dict[str, float]:
    limits, power = brief.limits, next(iter(brief.bases.values())).power
    low, high = range_at_gap(brief.capacitors[place[3]].capacitor)
    misses: dict[str, float] = {}
    if rated.edges[row].min() * REACH_DOUBT < low:
        misses["capacitor.minimum"] = float(rated.edges[row].min())
    if rated.edges[row].max() > high * REACH_DOUBT:
        misses["capacitor.maximum"] = float(rated.edges[row].max())
    room = rated.stands[row] / (rated.gap_voltage[row] * rated.unfavourable[row])
    if np.isnan(room).any():
        misses["capacitor.rated_voltage"] = 0.0
    elif room.min() * DOUBT < limits.voltage_margin:
        misses["limits.capacitor_voltage_margin"] = power * float(room.min() / limits.voltage_margin) ** 2
    carried = rated.carries[row] / (rated.gap_current[row] * rated.unfavourable[row])
    if not np.isnan(carried).any() and carried.min() * DOUBT < 1.0:
        misses["capacitor.rated_current"] = power * float(carried.min()) ** 2
    if shares.max() > DOUBT:
        misses["site.people"] = power / float(shares.max()) ** 2
    if limits.swr is not None and rated.swr[row].max() > limits.swr * DOUBT:
        misses["limits.swr"] = float(rated.swr[row].max())
    mass = mass_of(brief, place, float(rated.coupling[row]))
    if limits.mass is not None and mass > limits.mass:
        misses["limits.mass"] = mass
    return misses


def _candidate(brief: Brief, place: Place, rated: Rated, *, shares: FloatArray, row: int) -> Candidate:
    shape, perimeter, conductor, capacitor = place
    length, targets = brief.perimeters[perimeter], next(iter(brief.bases.values())).targets
    return Candidate(
        place=place,
        diameter=extent_of(brief, brief.shapes[shape], length).diameter,
        coupling=float(rated.coupling[row]),
        mass=mass_of(brief, place, float(rated.coupling[row])),
        cost=cost_of(length, brief.conductors[conductor], brief.capacitors[capacitor]),
        bands=tuple(
            CandidateBand(
                band=target.band,
                frequency=target.frequency,
                sky=float(rated.sky[row, number]),
                swr_min=float(rated.swr[row, number]),
                capacitance=float(rated.capacitance[row, number]),
                bandwidth=float(rated.bandwidth[row, number]),
                voltage_peak=float(rated.gap_voltage[row, number]),
                voltage_margin_db=decibels(
                    float(
                        rated.stands[row, number]
                        / (rated.gap_voltage[row, number] * rated.unfavourable[row, number])
                    )
                ),
                people_margin_db=-decibels(float(shares[number])),
            )
            for number, target in enumerate(targets)
        ),
    )


def mass_of(brief: Brief, place: Place, coupling: float) -> float:
    """Of ring, coupling loop, capacitor and box [kg]."""
    _, perimeter, conductor, capacitor = place
    of_loop = next(iter(brief.bases.values())).coupling.conductor
    assert of_loop is not None
    return (
        least_mass(
            brief,
            brief.perimeters[perimeter],
            conductor=brief.conductors[conductor],
            capacitor=brief.capacitors[capacitor],
        )
        + mass_per_metre(of_loop) * math.pi * coupling
    )


def decibels(ratio: float) -> float:
    """Of volts or fields; minus infinity where there is nothing."""
    return 20.0 * math.log10(ratio) if ratio > 0.0 else -math.inf
