# SPDX-License-Identifier: BSD-3-Clause
"""Why a candidate is refused: what it misses, and to what that would have to be relaxed."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from ringwright.choose.rings.brief_units import Units
from ringwright.units import format_quantity, to_si

MORE = 2e-4
"""Of an amount, so that what just passes by one way of counting passes by the other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Constraint:
    """`key` as the brief or the design names it; `reason` in words; `unit` of what would be needed, unless `units` has
    another for the key.

    `rises`: whether it is relaxed by more of it. `remedy` says so, with {} for the amount.
    """

    key: str
    reason: str
    remedy: str
    unit: str = ""
    rises: bool = True

    def shown(self, amount: float, units: Units) -> str:
        """An amount as people read it."""
        if self.unit in ("", "currency"):
            return f"{amount:.4g}"
        return format_quantity(amount, units.get(self.key, self.unit), digits=4)

    def relaxed(self, needed: float, units: Units) -> str:
        """What to do, with the amount rounded to the safe side."""
        unit = units.get(self.key)
        size = (
            1.0 if unit is None else to_si(f"1 {unit}", unit)
        )  # a digit is rounded in the unit it is read in
        return self.remedy.format(self.shown(_outwards(needed / size, is_up=self.rises) * size, units))


def _outwards(needed: float, *, is_up: bool) -> float:
    """What is needed and a little more, its fourth digit rounded away from what is refused."""
    if needed == 0.0 or not math.isfinite(needed):
        return needed
    amount = needed * (1.0 + (MORE if is_up else -MORE))
    step = 10.0 ** (math.floor(math.log10(abs(amount))) - 3)
    return (math.ceil if is_up else math.floor)(amount / step) * step


def _table(*constraints: Constraint) -> Mapping[str, Constraint]:
    return MappingProxyType({each.key: each for each in constraints})


CONSTRAINTS = _table(
    Constraint(
        key="room.width",
        reason="wider than the room",
        remedy="make room.width at least {}",
        unit="m",
    ),
    Constraint(
        key="room.depth",
        reason="thicker than the room is deep",
        remedy="make room.depth at least {}",
        unit="m",
    ),
    Constraint(
        key="room.height",
        reason="higher than the room",
        remedy="make room.height at least {}",
        unit="m",
    ),
    Constraint(
        key="ring.conductor",
        reason="conductor too thick for so small a ring",
        remedy="take perimeters from {} up",
        unit="m",
    ),
    Constraint(
        key="limits.mass",
        reason="too heavy",
        remedy="make limits.mass at least {}",
        unit="kg",
    ),
    Constraint(key="prices", reason="price not known", remedy="write the missing prices into parts.toml"),
    Constraint(
        key="limits.cost",
        reason="too dear",
        remedy="make limits.cost at least {}",
        unit="currency",
    ),
    Constraint(
        key="grid.perimeter",
        reason="past its own resonance on a band",
        remedy="take perimeters down to {}, or leave the highest band out",
        unit="m",
        rises=False,
    ),
    Constraint(
        key="capacitor.minimum",
        reason="the capacitor's least, with stray, is too much for the highest band edge",
        remedy="take a capacitor whose least, with stray, is at most {}, a smaller ring, or leave the highest band out",
        unit="pF",
        rises=False,
    ),
    Constraint(
        key="capacitor.maximum",
        reason="the capacitor's most, with stray, is too little for the lowest band edge",
        remedy="take a capacitor whose most, with stray, is at least {}, a larger ring, or leave the lowest band out",
        unit="pF",
    ),
    Constraint(
        key="site",
        reason="cannot be built on this site",
        remedy="move what the ring or its coupling loop would touch",
    ),
    Constraint(
        key="capacitor.rated_voltage",
        reason="nobody knows what the capacitor stands",
        remedy="state its rated_voltage or plate_gap",
    ),
    Constraint(
        key="limits.capacitor_voltage_margin",
        reason="more volts than the capacitor stands with the margin asked for",
        remedy="take power down to {}, or a capacitor that stands more",
        unit="W",
        rises=False,
    ),
    Constraint(
        key="capacitor.rated_current",
        reason="more current than the capacitor carries",
        remedy="take power down to {}, or a capacitor that carries more",
        unit="W",
        rises=False,
    ),
    Constraint(
        key="site.people",
        reason="more field than the limits allow where people are",
        remedy="take power down to {}, transmit less of the time, or move ring or people apart",
        unit="W",
        rises=False,
    ),
    Constraint(
        key="limits.swr",
        reason="no coupling loop serves all bands well enough",
        remedy="make limits.swr at least {}, or take fewer bands",
    ),
)
"""All, in the order in which a candidate that misses several is counted."""

UNSOLVED = "; it was not solved, and may then miss more"

Misses = Mapping[str, float]
"""What would be needed, by the constraint's key, in its SI unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """`count` candidates with one reason, of which `screened` were provably out before any solution.

    `relax` is what would let the nearest of them pass, `needs` the amount (SI).
    """

    key: str
    reason: str
    count: int
    screened: int
    relax: str
    needs: float


def first_of(misses: Misses) -> str:
    """The constraint that a candidate is counted under."""
    return next(key for key in CONSTRAINTS if key in misses)


def relaxing(misses: Misses, *, now: Callable[[str], float | None], units: Units) -> str:
    """All that would have to be relaxed, in the order of `misses`, each with what stands there now."""
    parts = []
    for key, needed in misses.items():
        stands = now(key)
        stood = "" if stands is None else f" (now {CONSTRAINTS[key].shown(stands, units)})"
        parts.append(CONSTRAINTS[key].relaxed(needed, units) + stood)
    return "; and ".join(parts)


def refusals(
    screened: Sequence[Misses],
    solved: Sequence[Misses],
    *,
    now: Callable[[str], float | None],
    units: Units,
) -> tuple[Refused, ...]:
    """Candidates by their first reason, the commonest first.

    What relaxes a reason is told of those that miss nothing else, and of solved ones before those that were screened
    out, of which only a bound is known.
    """
    found = []
    for key, constraint in CONSTRAINTS.items():
        before, after = ([each for each in group if first_of(each) == key] for group in (screened, solved))
        if not before and not after:
            continue
        groups = [[each for each in group if len(each) == 1] for group in (after, before)] + [after, before]
        pick = min if constraint.rises else max
        number, group = next((number, group) for number, group in enumerate(groups) if group)
        nearest = pick(group, key=lambda each: each[key])
        is_unsolved = bool(number % 2)
        ordered = [key, *(other for other in CONSTRAINTS if other in nearest and other != key)]
        found.append(
            Refused(
                key=key,
                reason=constraint.reason,
                count=len(before) + len(after),
                screened=len(before),
                relax=relaxing({other: nearest[other] for other in ordered}, now=now, units=units)
                + is_unsolved * UNSOLVED,
                needs=nearest[key],
            )
        )
    return tuple(sorted(found, key=lambda each: -each.count))
