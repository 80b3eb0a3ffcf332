# SPDX-License-Identifier: BSD-3-Clause
"""How far people must stay away: distances and margins for each band, limit and tier, never merged.

Distances count from the ring's centre to the last point where the rms of the whole vector exceeds a limit, E and H
apart, the larger distance counting. No margin is in them; `distance_advised` has it. That distance, and whether a
person passes, stand on the unfavourable end of the range of the gap's current, with which all fields grow.
`distance_max` looks no nearer to the site's metal than the fields hold, `BESIDE_METAL`: closer than that touching it is
the hazard, not the field. The far-field formula stands beside the distances to show what it misses: this close it does
not hold.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ringwright.antenna.design import Design, Person, PersonKind
from ringwright.antenna.geometry import Address, Wires
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.antenna.site_fields import NearFieldAt, site_field
from ringwright.physics.constants import ETA_0
from ringwright.physics.graph import FloatArray
from ringwright.safety.beside import metal_beside
from ringwright.safety.exposure import Yardstick, average_power
from ringwright.safety.limits import ExposureLimit, Tier
from ringwright.safety.outermost import RatioAt, Space, farthest, last_along

ADVISED_POWER = 2.0
"""The advised distance is that of twice the power, 3 dB, on top of the unfavourable end of the stated tolerances: room
for reflections from walls and bodies, for a field meter's error. Common practice, no source."""
ADVISED_STEP = 0.1  # [m], upwards
GROUND_FACTOR = 2.56
"""Of power density in the far-field formula, for reflection from the ground: OET Bulletin 65 (97-01)."""
BESIDE_METAL = 0.1
"""Nearer to the axis of a conductor the thin-wire fields are not vouched for. [m]"""
NOTHING = 1e-9  # of a limit
MOST_PLACES = 40  # of a mesh round which small zones are looked for
LEVEL = 1e-6  # a ring whose axis leans less than this lies flat
FAN = np.deg2rad(15.0)  # between the horizontals in a flat ring's plane


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitRow:
    """One limit and tier on one band. Lengths [m]; 0 where nothing exceeds, and `governed_by` is then None.

    `farthest_at` [m] is the place that `distance_max` belongs to, `level` E [V/m] and H [A/m] of the limit there.
    `advised_at` [m] is that of `distance_advised`, and `advised_beside` the kind of metal it lies beside, if any.
    `far_field_formula`: what the far-field formula says, None where no radiated power is known.
    """

    limit: ExposureLimit
    level: tuple[float, float]
    distance_axis: float
    distance_plane: float
    distance_above: float
    distance_below: float
    distance_max: float
    distance_advised: float
    governed_by: Literal["e", "h"] | None
    farthest_at: tuple[float, float, float] | None
    far_field_formula: float | None
    advised_at: tuple[float, float, float] | None = None
    advised_beside: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonRow:
    """One person and limit: the margin of the worse of E and H at that spot, below 0 where it exceeds.

    `power_allowed` [W] is the peak envelope power that just meets the limit there, all else equal. Both again with
    the fields at the unfavourable end of their range, by which `passes` is judged.
    """

    name: str
    kind: PersonKind
    limit: ExposureLimit
    margin_db: float
    margin_unfavourable_db: float
    passes: bool
    power_allowed: float
    power_allowed_unfavourable: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BandKeepOut:
    """One target, its frequency [Hz]; `average_power` [W] is what averaged limits see.

    `unfavourable_factor`: how many times as strong the fields are at the unfavourable end of their range.
    """

    band: str | None
    frequency: float
    average_power: float
    unfavourable_factor: float
    by_limit: tuple[LimitRow, ...]
    people: tuple[PersonRow, ...]

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from ringwright.safety.keepout_html import keepout_html  # it describes this class

        return keepout_html(self)


def keep_out(design: Design, prediction: Prediction) -> tuple[BandKeepOut, ...]:
    """Distances and people on every band of a design and its prediction."""
    return tuple(_on_band(design, band) for band in prediction.bands)


def _on_band(design: Design, band: BandPrediction) -> BandKeepOut:
    yardstick = Yardstick.of(design, band.frequency)
    field_at = site_field(design, band.point)
    floor = None if design.site.earth is None else 0.0
    return BandKeepOut(
        band=band.band,
        frequency=band.frequency,
        average_power=average_power(design),
        unfavourable_factor=unfavourable_factor(band),
        by_limit=tuple(_limit_rows(yardstick, field_at, band=band, floor=floor)),
        people=tuple(
            row
            for person in design.site.people
            for row in person_rows(
                person,
                yardstick,
                field_at=field_at,
                power=design.power,
                unfavourable=unfavourable_factor(band),
            )
        ),
    )


def unfavourable_factor(band: BandPrediction) -> float:
    """How many times as strong fields are at the upper end of the range of the gap's current; never below 1.

    With a layer over the design that end is never below the one without it.
    """
    return max(1.0, band.capacitor.must_carry_rms / band.tuning.capacitor_current_rms)


def _limit_rows(
    yardstick: Yardstick, field_at: NearFieldAt, *, band: BandPrediction, floor: float | None
) -> Iterator[LimitRow]:
    wires, count = band.point.wires, len(yardstick.rows)
    advised = np.sqrt(ADVISED_POWER) * unfavourable_factor(band)

    def ratio_at(points: FloatArray) -> FloatArray:
        worse = yardstick.shares(field_at, points).max(axis=2)
        return np.concatenate([worse, worse * advised], axis=1)

    named, points = _searched(ratio_at, wires, floor)
    distances = np.nan_to_num(np.linalg.norm(points - wires.centre, axis=2))
    outermost = np.argmax(distances, axis=0)
    for number, limit in enumerate(yardstick.rows):
        distance = float(distances[outermost[number], number])
        at = points[outermost[number], number]
        last = int(np.argmax(distances[:, count + number]))
        advised_at, is_advised = points[last, count + number], distances[last, count + number] > 0.0
        is_magnetic = bool(np.argmax(yardstick.shares(field_at, at[None])[0, number]))
        yield LimitRow(
            limit=limit,
            level=limit.at(band.frequency),
            distance_axis=float(named["axis"][number]),
            distance_plane=float(named["plane"][number]),
            distance_above=float(named["above"][number]),
            distance_below=float(named["below"][number]),
            distance_max=distance,
            distance_advised=_rounded_up(float(distances[last, count + number])),
            governed_by=None if distance == 0.0 else ("h" if is_magnetic else "e"),
            farthest_at=None if distance == 0.0 else _place(at),
            far_field_formula=_far_field_distance(band.limits.eirp, yardstick.levels[number]),
            advised_at=_place(advised_at) if is_advised else None,
            advised_beside=metal_beside(wires, advised_at) if is_advised else None,
        )


def _place(point: FloatArray) -> tuple[float, float, float]:
    return float(point[0]), float(point[1]), float(point[2])


def _searched(
    ratio_at: RatioAt, wires: Wires, floor: float | None
) -> tuple[dict[str, FloatArray], FloatArray]:
    """Named distances (rows,) [m], and the last points found on every ray and anywhere (n, rows, 3) [m]."""
    space = Space(
        ratio_at=ratio_at,
        centre=wires.centre,
        frame=np.stack([wires.across, wires.axis, wires.up]),
        floor=floor,
        places=wires.graph.nodes,
        strange=_strange_places(wires),
    )
    reach = space.reach()
    rays = _rays(wires)
    directions = np.concatenate(list(rays.values()))
    last = last_along(space, directions, reach)
    ends = np.split(last, np.cumsum([len(each) for each in rays.values()])[:-1])
    anywhere = farthest(replace(space, ratio_at=_off_metal(ratio_at, wires)), reach)
    return (
        {name: found.max(axis=0) for name, found in zip(rays, ends, strict=True)},
        np.concatenate([wires.centre + last[..., None] * directions[:, None, :], anywhere[None]]),
    )


def _is_strange(wires: Wires) -> NDArray[np.bool_]:
    """Which segments are not the ring's or its coupling loop's."""
    return np.isin(wires.graph.address, [Address.METAL, Address.FEEDLINE])


def _strange_places(wires: Wires) -> FloatArray:
    """Nodes of site metal and of the feedline's outside, at most `MOST_PLACES` of them."""
    nodes = np.unique(wires.graph.segments[_is_strange(wires)])
    return wires.graph.nodes[nodes[:: 1 + len(nodes) // MOST_PLACES]]


def _off_metal(ratio_at: RatioAt, wires: Wires) -> RatioAt:
    """The ratios, less those of points that lie nearer than `BESIDE_METAL` to the axis of strange metal."""
    graph, strange = wires.graph, _is_strange(wires)
    start = graph.nodes[graph.segments[strange, 0]]
    tangent, length = graph.tangents[strange], graph.lengths[strange]

    def counted(points: FloatArray) -> FloatArray:
        ratios = ratio_at(points)
        offset = points[:, None, :] - start
        along = np.clip(np.einsum("psc,sc->ps", offset, tangent), 0.0, length)
        apart = np.linalg.norm(offset - along[..., None] * tangent, axis=2)
        ratios[(apart < BESIDE_METAL).any(axis=1)] = NOTHING
        return ratios

    return counted if strange.any() else ratio_at


def _rays(wires: Wires) -> dict[str, FloatArray]:
    """Unit vectors (d, 3) of the named distances; the worst of each set counts.

    Of a flat ring the axis is the vertical, and every horizontal lies in its plane.
    """
    plane = np.stack([wires.across, -wires.across])
    if np.hypot(wires.axis[0], wires.axis[1]) < LEVEL:
        azimuth = np.arange(0.0, 2.0 * np.pi - 1e-9, FAN)
        plane = np.stack([np.cos(azimuth), np.sin(azimuth), 0.0 * azimuth], axis=1)
    up = np.array([[0.0, 0.0, 1.0]])
    return {"axis": np.stack([wires.axis, -wires.axis]), "plane": plane, "above": up, "below": -up}


def _rounded_up(distance: float) -> float:
    return round(float(np.ceil(distance / ADVISED_STEP - 1e-9)) * ADVISED_STEP, 10)


def _far_field_distance(eirp: float | None, level: FloatArray) -> float | None:
    """Distance [m] by S = 2.56 EIRP / (4 pi r^2), for the smaller of the two plane waves with the limit's E or H."""
    if eirp is None:
        return None
    density = min(float(level[0]) ** 2 / ETA_0, float(level[1]) ** 2 * ETA_0)
    return float(np.sqrt(GROUND_FACTOR * eirp / (4.0 * np.pi * density)))


def person_rows(
    person: Person, yardstick: Yardstick, *, field_at: NearFieldAt, power: float, unfavourable: float
) -> Iterator[PersonRow]:
    """One row for each limit: the tier for workers where the limit has one and the person is informed.

    `unfavourable`: as `unfavourable_factor` of the band.
    """
    shares = yardstick.shares(field_at, np.array([person.at]))[0].max(axis=1)
    tiers = {(row.name, row.tier) for row in yardstick.rows}
    for limit, share in zip(yardstick.rows, shares, strict=True):
        is_informed = person.kind is PersonKind.INFORMED and (limit.name, Tier.OCCUPATIONAL) in tiers
        if limit.tier is (Tier.OCCUPATIONAL if is_informed else Tier.PUBLIC):
            yield PersonRow(
                name=person.name,
                kind=person.kind,
                limit=limit,
                margin_db=_margin_db(share),
                margin_unfavourable_db=_margin_db(share * unfavourable),
                passes=bool(share * unfavourable <= 1.0),
                power_allowed=float(power / share**2),
                power_allowed_unfavourable=float(power / (share * unfavourable) ** 2),
            )


def _margin_db(share: float) -> float:
    return float(-20.0 * np.log10(share))
