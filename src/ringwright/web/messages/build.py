# SPDX-License-Identifier: BSD-3-Clause
"""Messages of the page Build: a draft as a thing to make, its drawings, and what of it is printed."""

from typing import Annotated, Literal

from pydantic import Field

from ringwright.web.messages.base import Base, Edits, Message

Nullable = float | None


class BuildAsked(Message):
    """A draft to build; `units` decide how texts and drawings read, numbers stay in SI."""

    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    units: Literal["metric", "imperial"] = "metric"


class SheetAsked(BuildAsked):
    """What to print: the sheet, with the templates at 1:1 after it, or the templates alone."""

    paper: Literal["a4", "letter"] = "a4"
    contents: Literal["sheet", "sheet and templates", "templates"] = "sheet"


class Piece(Message):
    """One kind of piece; `letter` is its line in the exploded drawing, empty for the coupling's. `*_text` in units."""

    letter: str
    name: str
    count: int
    axis_m: float
    cut_m: float
    cut_text: str
    axis_text: str
    angles_deg: list[float]
    note: str


class Cuts(Message):
    """`lengths` of stock to buy, null from a coil or where a piece is longer than one."""

    gap_m: float
    needed_m: float
    stock_m: Nullable
    lengths: int | None
    pieces: list[Piece]
    coupling: list[Piece]


class Mass(Message):
    ring_per_metre_kg: float
    ring_kg: float
    coupling_kg: float
    capacitor_kg: float
    box_kg: float
    drive_kg: float
    head_kg: float
    stand_kg: float
    ballast_kg: float
    total_kg: float


class BendDone(Message):
    what: str
    radius_m: float
    by_hand_m: float
    with_a_bender_m: float
    verdict: str


class Sag(Message):
    """Null where the ring gives way too far for the method."""

    by_weight_m: Nullable
    by_wind_m: Nullable
    stress_weight_pa: Nullable
    stress_wind_pa: Nullable
    yields_at_pa: float


class Stand(Message):
    kind: str
    feet: int
    foot_circle_m: float
    floor_m: float
    mast_diameter_m: float
    is_assumed: bool


class Wind(Message):
    speed_m_per_s: float
    pressure_pa: float
    face_on_n: float
    edge_on_n: float
    box_n: float
    mast_n: float
    force_n: float
    moment_nm: float


class Standing(Message):
    arm_m: float
    righting_nm: float
    tips_at_m_per_s: float
    slides_at_m_per_s: float
    ballast_needed_kg: float
    holds: bool


class Warmth(Message):
    band: str | None
    frequency_hz: float
    heat_w: float
    final_rise_k: float
    drift_hz: float
    drift_allowed_hz: Nullable
    time_to_drift_s: Nullable


class Clearance(Message):
    voltage_v: float
    air_m: float
    creepage_dry_m: float
    creepage_damp_m: float
    wall_m: float
    box_m: list[float]
    box_is_stated: bool


class PartLine(Message):
    """A line of the shopping list; `line` is the design's own name for it, null for one the person added."""

    line: str | None
    name: str
    count: int
    price: Nullable
    cost: Nullable
    currency: str | None


class BenchTest(Message):
    title: str
    how: str
    expect: list[str]
    stop: str


class DrawingFile(Message):
    """A drawing as SVG, so wide and high on paper."""

    name: str
    title: str
    svg: str
    width_mm: float
    height_mm: float


class BuildFound(Message):
    """A draft as a thing to make."""

    design: str
    cuts: Cuts
    mass: Mass
    bends: list[BendDone]
    sag: Sag | None
    stand: Stand
    wind: Wind
    standing: Standing | None
    warmth: list[Warmth]
    clearance: Clearance
    parts: list[PartLine]
    total: Annotated[dict[str, float], Field(description="Known prices added up, by currency.")]
    tests: list[BenchTest]
    pack: list[str]
    cautions: list[str]
    notices: Annotated[list[str], Field(description="Of the prediction, what nobody should build past.")]
    drawings: list[DrawingFile]
