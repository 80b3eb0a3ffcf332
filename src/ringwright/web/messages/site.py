# SPDX-License-Identifier: BSD-3-Clause
"""The site on the live socket: a draft and a view of it go in, its picture comes back in parts.

Of the requests that wait on one socket only the newest is answered; a newer one ends the parts of the one before.
"""

from typing import Annotated, Literal

from pydantic import Field

from ringwright.web.messages.base import Base, Edits, Message, Problem
from ringwright.web.messages.designs import FigureEntry
from ringwright.web.messages.prediction import Band, Pattern

Point = Annotated[tuple[float, float, float], Field(description="x, y, z in metres; z up from the earth.")]
TierName = Literal["public", "occupational"]


class LimitName(Message):
    """A limit for one tier of people."""

    limit: Annotated[str, Field(max_length=60)]
    tier: TierName


class SiteView(Message):
    """What is looked at. `band` beyond the last means the last; `limits` null: the usual ones of the ITU region.

    `section` is the upright cut: along the ring's `axis`, or the ring's own `plane`. `elevation_deg` is that of the
    cut round the horizon. `is_metal_gone`: all of it as if the metal nearby were not there. `noise_bearing_deg`: true
    bearing of a source of noise. `is_in_space`: the pattern in space, too.
    """

    band: Annotated[int, Field(ge=0, le=200)] = 0
    limits: Annotated[list[LimitName], Field(max_length=20)] | None = None
    section: Literal["axis", "plane"] = "axis"
    plan_height_m: Annotated[float, Field(ge=0.0, le=60.0)] = 1.5
    elevation_deg: Annotated[float, Field(ge=1.0, le=85.0)] = 20.0
    is_metal_gone: bool = False
    noise_bearing_deg: Annotated[float, Field(ge=0.0, le=360.0)] | None = None
    is_in_space: bool = False


class SiteRequest(Message):
    """Draw the site of a draft."""

    type: Literal["site"]
    seq: Annotated[int, Field(ge=0, le=2**53)]
    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    view: SiteView = Field(default_factory=SiteView)


class SitePart(Message):
    """A part of the answer to request `seq`, the `step`th of `steps`, about the band of that number."""

    seq: int
    band: int
    step: int
    steps: int


class Earth(Message):
    name: str
    conductivity_s_per_m: float
    permittivity: float
    is_perfect: bool
    source: str


class StraightMetal(Message):
    """A straight piece of metal, by its number in the file."""

    shape: Literal["wire"]
    number: int
    kind: str
    from_m: Point
    to_m: Point
    diameter_m: float


class MeshMetal(Message):
    """A slab or wall: one corner and the two edges from there."""

    shape: Literal["mesh"]
    number: int
    kind: str
    corner_m: Point
    along_m: Point
    across_m: Point
    spacing_m: float


class Limit(LimitName):
    """A limit that has a level at this frequency; `is_chosen` where its zone is drawn."""

    is_chosen: bool
    averaging_minutes: float | None
    source: str


class Zone(LimitName):
    """Where a limit is exceeded on a cut: closed lines of x, y, x, y ... in metres from the cut's origin, even-odd."""

    rings_m: list[list[float]]


class Cut(Message):
    """A plane through `origin_m`, spanned by the unit vectors `right` and `up`, and the zones on it."""

    name: Literal["axis", "plane", "plan"]
    origin_m: Point
    right: Point
    up: Point
    zones: list[Zone]


class Margin(LimitName):
    """How far the field at a spot lies below a limit; null where there is no field at all.

    `passes` is judged by the unfavourable end of the fields' range.
    """

    margin_db: float | None
    margin_unfavourable_db: float | None
    passes: bool
    power_allowed_w: float | None
    power_allowed_unfavourable_w: float | None


class SitePerson(Message):
    """Somebody's spot, by its number in the file, with one margin for each limit."""

    number: int
    name: str
    kind: Literal["public", "informed"]
    at_m: Point
    margins: list[Margin]


class Direction(Message):
    """An azimuth, from x towards y, its true bearing, and how far the gain there lies below the strongest."""

    azimuth_deg: float
    bearing_deg: float
    depth_db: float


class SitePattern(Pattern):
    """The strongest direction with its true bearing."""

    bearing_deg: float


class Lobes(Message):
    """Gains to draw. `over_dbi` at `over_angle_deg` from the section's right hand over the zenith; `around_dbi` from
    the x axis towards y, one a degree, at `elevation_deg`. `nulls` of that round, the deepest first; `quietest` is its
    weakest direction in any case; `towards` that of the noise source."""

    over_angle_deg: list[float]
    over_dbi: list[float]
    elevation_deg: float
    around_dbi: list[float]
    pattern: SitePattern
    nulls: list[Direction]
    quietest: Direction
    towards: Direction | None


class SiteScene(SitePart):
    """What follows the hand, always the first part. `earth` null is free space."""

    type: Literal["site_scene"]
    frequency_hz: float
    average_power_w: float
    earth: Earth | None
    metal: list[Annotated[StraightMetal | MeshMetal, Field(discriminator="shape")]]
    is_metal_gone: bool
    limits: list[Limit]
    section: Cut
    plan: Cut
    people: list[SitePerson]
    lobes: Lobes


class SiteOutlines(SitePart):
    """The zones of the scene again, drawn finely."""

    type: Literal["site_outlines"]
    section: Cut
    plan: Cut


class KeepOutLimit(LimitName):
    """Distances from the ring's centre under one limit, as in the keep-out document."""

    distance_axis_m: float
    distance_plane_m: float
    distance_above_m: float
    distance_below_m: float
    distance_max_m: float
    distance_advised_m: float
    governed_by: Literal["e", "h"] | None
    farthest_at_m: Point | None
    advised_at_m: Point | None
    advised_beside: str | None
    e_limit_v_per_m: float
    h_limit_a_per_m: float
    averaging_minutes: float | None
    source: str
    far_field_formula_m: float | None


class SiteDistances(SitePart):
    """How far people must stay away on one band, one row for each limit and tier, never merged."""

    type: Literal["site_distances"]
    by_limit: list[KeepOutLimit]


class Dipole(Message):
    """A half-wave dipole in the ring's place; `ahead_db`: the ring's gain over it."""

    gain_max_dbi: float
    elevation_deg: float
    gain_20deg_dbi: float
    ahead_db: float
    ahead_20deg_db: float


class Reception(Message):
    """What the ring's loss costs on receive at one kind of place, against the same ring without loss."""

    place: str
    external_noise_figure_db: float
    loss_db: float
    least_efficiency_pct: float
    costs_nothing: bool


class BandReception(Message):
    band: int
    places: list[Reception]


class SiteComparison(SitePart):
    """The ring beside a dipole, or why there is none, and what it would be without the metal; null: there is none.

    `quietest_with_cable_db`, `quietest_without_cable_db`: how deep its weakest direction is with and without the
    outside of the feedline as a wire of the antenna, null where no cable can hang. `receptions`: of every band.
    """

    type: Literal["site_comparison"]
    dipole: Dipole | None
    why_no_dipole: str | None
    with_metal: Band
    without_metal: Band | None
    quietest_with_cable_db: float | None
    quietest_without_cable_db: float | None
    receptions: list[BandReception]


class SiteSpace(SitePart):
    """Gains in space: one row for each elevation, one column for each azimuth."""

    type: Literal["site_space"]
    elevation_deg: list[float]
    azimuth_deg: list[float]
    gain_dbi: list[list[float]]


class SiteProblem(Problem):
    """Why there is no picture of the site; `seq` null where the request could not be read."""

    type: Literal["site_problem"]
    seq: int | None


class SiteCautions(Message):
    """What can hurt near a ring, in words to be shown where the danger is."""

    high_voltage: str
    implants: str
    nearby_metal: str
    distances: str
    near_field: str
    authority: str


class SiteTable(Message):
    """What a page needs to know about sites once: what each figure is, and the cautions."""

    figures: list[FigureEntry]
    cautions: SiteCautions


SiteAnswer = SiteScene | SiteOutlines | SiteDistances | SiteComparison | SiteSpace | SiteProblem
