# SPDX-License-Identifier: BSD-3-Clause
"""How far a brief is from being possible."""

import math
from collections.abc import Callable, Mapping

from ringwright.antenna.capacitor_parts import range_at_gap
from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.candidate import Place, name_of
from ringwright.choose.rings.found import Nearest
from ringwright.choose.rings.misses import CONSTRAINTS, Misses, relaxing

MOST_PROBES = 6
"""Candidates that the screen refused and that are solved all the same, where nothing else is left."""
UNSOLVABLE = ("ring.conductor", "grid.perimeter")
A_LOT = 10.0
"""What a miss without an amount counts, in nepers."""


def now_of(brief: Brief) -> Callable[[str], float | None]:
    """What stands in the brief for a constraint."""
    room, limits = brief.room, brief.limits
    power = next(iter(brief.bases.values())).power
    stated = {
        "room.width": room.width,
        "room.depth": room.depth,
        "room.height": room.height,
        "limits.mass": limits.mass,
        "limits.cost": limits.cost,
        "limits.swr": limits.swr,
        "limits.capacitor_voltage_margin": power,
        "capacitor.rated_current": power,
        "site.people": power,
    }
    return stated.get


def roughly_nearest(brief: Brief, out: Mapping[Place, Misses]) -> list[Place]:
    """Of the candidates that the screen refused those that miss least by its bounds."""
    solvable = [place for place, misses in out.items() if not any(key in misses for key in UNSOLVABLE)]
    return sorted(solvable, key=lambda place: (_distance(brief, place, out[place]), place))[:MOST_PROBES]


def nearest_of(brief: Brief, missed: Mapping[Place, Misses]) -> Nearest | None:
    """The candidate that misses least."""
    if not missed:
        return None
    place = min(missed, key=lambda each: (_distance(brief, each, missed[each]), each))
    misses = {key: missed[place][key] for key in CONSTRAINTS if key in missed[place]}
    text = relaxing(misses, now=now_of(brief), units=brief.units)
    return Nearest(
        place=place,
        misses=misses,
        text=f"nearest comes {name_of(brief, place)}: {text}",
    )


def _distance(brief: Brief, place: Place, misses: Misses) -> tuple[int, float]:
    return len(misses), sum(_ratio(brief, place, key=key, needed=needed) for key, needed in misses.items())


def _ratio(brief: Brief, place: Place, *, key: str, needed: float) -> float:
    """How far what would be needed is from what is, in nepers."""
    now = now_of(brief)(key)
    if key in ("capacitor.minimum", "capacitor.maximum"):
        now = range_at_gap(brief.capacitors[place[3]].capacitor)[key == "capacitor.maximum"]
    if key in ("grid.perimeter", "ring.conductor"):
        now = brief.perimeters[place[1]]
    return abs(math.log(needed / now)) if now is not None and needed > 0.0 else A_LOT
