# SPDX-License-Identifier: BSD-3-Clause
"""The parts in which a site's picture comes."""

from dataclasses import dataclass

from ringwright.antenna.design import Earth, Person, SiteMesh, SiteWire
from ringwright.antenna.pattern import Pattern
from ringwright.antenna.prediction import BandPrediction
from ringwright.antenna.reception import Reception
from ringwright.desk.site.lobes import Lobes, Sphere
from ringwright.desk.site.zones import Cut, Zone
from ringwright.safety.keepout import BandKeepOut, PersonRow
from ringwright.safety.limits import ExposureLimit, Tier


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SitePart:
    """What every part says: number of the band it is about, and its place, from 1, among `steps`."""

    band: int
    step: int
    steps: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawn:
    """One cut with the zones on it."""

    cut: Cut
    zones: tuple[Zone, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Scene(SitePart):
    """What follows the hand: the site, its zones with few points, people, lobes.

    `average_power` [W] is what averaged limits see; `limits` are those that have a level at this frequency, `chosen`
    those whose zones are wanted. `earth` None is free space; `earth_source` says where its constants come from.
    `metal` stands there, `is_metal_gone` or not. `margins`: of each person in turn, one for each limit.
    """

    frequency: float
    average_power: float
    earth: Earth | None
    earth_source: str
    metal: tuple[SiteWire | SiteMesh, ...]
    is_metal_gone: bool
    people: tuple[Person, ...]
    limits: tuple[ExposureLimit, ...]
    chosen: tuple[tuple[str, Tier], ...]
    section: Drawn
    plan: Drawn
    margins: tuple[tuple[PersonRow, ...], ...]
    lobes: Lobes


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlines(SitePart):
    """The zones again, drawn finely."""

    section: Drawn
    plan: Drawn


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Distances(SitePart):
    """How far people must stay away on one band."""

    keep_out: BandKeepOut


@dataclass(frozen=True, slots=True, kw_only=True)
class Dipole:
    """A half-wave dipole in the ring's place; the ring's gain over it [dB] at its best and at 20 degrees elevation."""

    pattern: Pattern
    ahead_db: float
    ahead_20deg_db: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Comparison(SitePart):
    """The ring beside a dipole, or why there is none, and as it would be without the metal (None: there is none).

    `quietest_db`: how deep its weakest direction is with and without the outside of the feedline as a wire of the
    antenna (None where no cable can hang there). `receptions`: of every band, one for each kind of place.
    """

    dipole: Dipole | str
    with_metal: BandPrediction
    without_metal: BandPrediction | None
    quietest_db: tuple[float | None, float | None]
    receptions: tuple[tuple[Reception, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Space(SitePart):
    """The pattern in space."""

    sphere: Sphere
