# SPDX-License-Identifier: BSD-3-Clause
"""The design file's tables as they may be written: keys, kinds of value, ranges, and defaults with their reasons.

Defaults that depend on other keys are in `convert`. Every key is described in docs/reference/design-file.md.
"""

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Discriminator, Field, PlainValidator, Tag

from ringwright.antenna.bands import HIGHEST_FREQUENCY, LOWEST_FREQUENCY
from ringwright.antenna.building import CornerKind, StandKind
from ringwright.antenna.design import (
    ConductorKind,
    CouplingKind,
    CouplingPlace,
    CouplingShape,
    FeedSide,
    PersonKind,
    RingShape,
)
from ringwright.antenna.design_file.fields import (
    choice,
    default,
    name_among,
    number,
    quantity,
    read_format,
    read_gap_angle,
    read_locator,
    read_price,
    read_speed,
    read_travel,
    whole,
    words,
)
from ringwright.antenna.dielectrics import CABLES, DIELECTRICS
from ringwright.antenna.earths import EARTHS, FREE_SPACE
from ringwright.antenna.materials import MATERIALS
from ringwright.antenna.modes import MODE_FACTORS
from ringwright.antenna.shaft_materials import SHAFT_MATERIALS

BAND_NAMES = ("160m", "80m", "60m", "40m", "30m", "20m", "17m", "15m", "12m", "10m", "6m")
CAPACITOR_KINDS = ("air", "butterfly", "split-stator", "vacuum", "trombone", "coax stub", "plate")
MADE_KINDS = ("plates", "discs", "tubes", "coax stub", "board")
LAWS = ("linear", "straight-line-frequency")
WIRED = ("parallel", "series")
PLANES = ("vertical", "horizontal")
OUTSIDES = ("ignored", "straight down")
HELD = ("opposite gap", "frame")
LINES = (
    "ring conductor", "corner fittings", "coupling conductor", "core", "capacitor", "box", "straps", "socket", "cable",
    "choke", "motor", "shaft", "stand", "ballast",
)  # fmt: skip
"""What a design's shopping list may name."""

_Coordinate = Annotated[float, quantity("m", low="-200 m", high="200 m")]
_Point = Annotated[list[_Coordinate], Field(min_length=3, max_length=3)]
_PlanePoint = Annotated[list[_Coordinate], Field(min_length=2, max_length=2)]
_Share = Annotated[float, number(above=0.0, high=1.0)]
_Spread = Annotated[float, number(low=0.0, high=3.0)]
_Material = Annotated[str, name_among(MATERIALS)]
_Conductivity = Annotated[float, quantity("S/m", low="0.01 MS/m", high="100 MS/m")]
_Permeability = Annotated[float, number(low=1.0, high=1e5)]
_WireDiameter = Annotated[float, quantity("m", low="0.5 mm", high="100 mm")]
_Capacitance = Annotated[float, quantity("F", low="0 pF", high="100 nF")]
_Quality = Annotated[float, number(low=1.0, high=1e6)]
_SeriesResistance = Annotated[float, quantity("ohm", low="0 ohm", high="100 ohm")]
_RatedVoltage = Annotated[float, quantity("V", above="0 V", high="500 kV")]
_RatedCurrent = Annotated[float, quantity("A", above="0 A", high="10 kA")]
_Frequency = Annotated[
    float, quantity("Hz", low=f"{LOWEST_FREQUENCY / 1e6:g} MHz", high=f"{HIGHEST_FREQUENCY / 1e6:g} MHz")
]
_Metal = Annotated[float, quantity("m", low="1 mm", high="20 m")]
_Space = Annotated[float, quantity("m", low="0.01 mm", high="200 mm")]
_LineImpedance = Annotated[float, quantity("ohm", low="10 ohm", high="1000 ohm")]
_LineLoss = Annotated[float, quantity("dB", low="0 dB", high="200 dB")]
_BoxSize = Annotated[float, quantity("m", low="20 mm", high="2 m")]
_LossFrequency = Annotated[float, quantity("Hz", low="0.1 MHz", high="1 GHz")]


class Table(BaseModel):
    """What all tables share: no unknown keys, nothing guessed from another type."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class ConductorTable(Table):
    kind: Annotated[ConductorKind, choice(ConductorKind)] | None = None
    diameter: _WireDiameter | None = None
    wall: Annotated[float, quantity("m", low="0.01 mm", high="20 mm")] | None = None
    width: Annotated[float, quantity("m", low="1 mm", high="300 mm")] | None = None
    thickness: Annotated[float, quantity("m", low="0.01 mm", high="20 mm")] | None = None
    braid_factor: Annotated[float, number(low=1.0, high=100.0)] | None = None
    material: _Material | None = None
    conductivity: _Conductivity | None = None
    mu_r: _Permeability | None = None
    temperature: Annotated[float, quantity("degC", low="-60 degC", high="200 degC")] = default(
        "20 degC", "temperature the material's conductivity is stated at"
    )


class RingTable(Table):
    shape: Annotated[RingShape, choice(RingShape)] = default(
        "circle", "the shape with most area for its perimeter"
    )
    perimeter: Annotated[float, quantity("m", low="0.1 m", high="100 m")] | None = None
    diameter: Annotated[float, quantity("m", low="30 mm", high="32 m")] | None = None
    side: Annotated[float, quantity("m", low="10 mm", high="25 m")] | None = None
    points: Annotated[list[_PlanePoint], Field(min_length=3, max_length=64)] | None = None
    aspect: Annotated[float, number(low=0.1, high=10.0)] | None = None
    turns: Annotated[int, whole(low=1, high=20)] = default(1, "one turn unless more are stated")
    turn_spacing: Annotated[float, quantity("m", above="0 m", high="2 m")] | None = None
    turn_lead: Annotated[float, quantity("m", above="0 m", high="2 m")] | None = None
    plane: Annotated[str, name_among(PLANES)] | None = None
    tilt: Annotated[float, quantity("rad", low="0 deg", high="90 deg")] | None = None
    gap_at: Annotated[float, PlainValidator(read_gap_angle, json_schema_input_type=str)] = default(
        "top", "the capacitor at the top, the coupling loop at the bottom"
    )
    joints: Annotated[int, whole(low=0, high=1000)] | None = None
    joint_resistance: Annotated[float, quantity("ohm", low="0 ohm", high="100 ohm")] | None = None
    conductor: ConductorTable | None = None


class CouplingTable(Table):
    kind: Annotated[CouplingKind, choice(CouplingKind)] = default("loop", "the commonest")
    shape: Annotated[CouplingShape, choice(CouplingShape)] | None = None
    diameter: Annotated[float, quantity("m", low="10 mm", high="10 m")] | None = None
    squash: Annotated[float, number(low=0.05, high=20.0)] = default(1.0, "a round loop")
    at: Annotated[CouplingPlace, choice(CouplingPlace)] = default(
        "opposite gap", "where the ring's current is largest"
    )
    clearance: Annotated[float, quantity("m", above="0 mm", high="10 m")] | None = None
    feed_at: Annotated[FeedSide, choice(FeedSide)] = default(
        "far", "away from the ring's conductor, easy to reach"
    )
    conductor: ConductorTable | None = None
    tap_at: Annotated[float, quantity("m", low="10 mm", high="50 m")] | None = None
    turns: Annotated[int, whole(low=1, high=200)] | None = None
    passes: Annotated[int, whole(low=1, high=20)] = default(1, "the ring's conductor goes through once")
    inductance_factor: Annotated[float, quantity("H", low="1 nH", high="1 mH")] | None = None
    core_q: Annotated[float, number(low=0.1, high=1000.0)] | None = None
    coupling_factor: Annotated[float, number(above=0.0, high=1.0)] = default(
        0.98, "a winding spread over a closed core, common practice"
    )


class MadeTable(Table):
    kind: Annotated[str, name_among(MADE_KINDS)]
    plates: Annotated[int, whole(low=2, high=100)] | None = None
    width: _Metal | None = None
    length: _Metal | None = None
    diameter: _Metal | None = None
    gap: _Space | None = None
    least_overlap: _Metal | None = None
    greatest_gap: _Space | None = None
    inner_diameter: _Metal | None = None
    bore: _Metal | None = None
    overlap: _Metal | None = None
    dielectric: Annotated[str, name_among(DIELECTRICS)] | None = None
    thickness: _Space | None = None
    cable: Annotated[str, name_among(CABLES)] | None = None
    impedance: _LineImpedance | None = None
    velocity_factor: Annotated[float, number(low=0.3, high=1.0)] | None = None
    loss_per_100m: _LineLoss | None = None
    loss_at: _LossFrequency | None = None


class CapacitorTable(Table):
    kind: Annotated[str, name_among(CAPACITOR_KINDS)] = default("air", "the commonest")
    made: MadeTable | None = None
    minimum: _Capacitance | None = None
    maximum: Annotated[float, quantity("F", above="0 pF", high="100 nF")] | None = None
    fixed: _Capacitance = default("0 pF", "no fixed capacitor in parallel")
    stray: _Capacitance = default(
        "0 pF", "none stated; housing and leads often add 2 to 6 pF, common practice"
    )
    stray_within: _Capacitance | None = None
    series: Annotated[float, quantity("F", above="0 pF", high="100 nF")] | None = None
    sections: Annotated[int, whole(low=2, high=8)] | None = None
    wired: Annotated[str, name_among(WIRED)] | None = None
    q: _Quality | None = None
    esr: _SeriesResistance | None = None
    variable_q: _Quality | None = None
    variable_esr: _SeriesResistance | None = None
    fixed_q: _Quality | None = None
    fixed_esr: _SeriesResistance | None = None
    series_q: _Quality | None = None
    series_esr: _SeriesResistance | None = None
    contact_resistance: _SeriesResistance | None = None
    rated_voltage: _RatedVoltage | None = None
    rated_current: _RatedCurrent | None = None
    fixed_rated_voltage: _RatedVoltage | None = None
    fixed_rated_current: _RatedCurrent | None = None
    series_rated_voltage: _RatedVoltage | None = None
    series_rated_current: _RatedCurrent | None = None
    air_temperature: Annotated[float, quantity("degC", low="-60 degC", high="120 degC")] | None = None
    gap_width: Annotated[float, quantity("m", low="2 mm", high="300 mm")] | None = None
    lead_length: Annotated[float, quantity("m", low="5 mm", high="1 m")] | None = None
    lead_width: Annotated[float, quantity("m", low="6 mm", high="200 mm")] | None = None
    body_diameter: Annotated[float, quantity("m", low="5 mm", high="1 m")] | None = None
    body_length: Annotated[float, quantity("m", low="5 mm", high="1 m")] | None = None
    plate_gap: Annotated[float, quantity("m", low="0.01 mm", high="200 mm")] | None = None
    travel: Annotated[tuple[float, str], PlainValidator(read_travel, json_schema_input_type=str)] | None = (
        None
    )
    law: Annotated[str, name_among(LAWS)] | None = None
    table: Annotated[list[Any], Field(min_length=2, max_length=1000)] | None = None


class ShaftTable(Table):
    material: Annotated[str, name_among(SHAFT_MATERIALS)] | None = None
    length: Annotated[float, quantity("m", low="1 mm", high="5 m")] | None = None
    diameter: Annotated[float, quantity("m", low="1 mm", high="100 mm")] | None = None
    bore: Annotated[float, quantity("m", low="0 mm", high="99 mm")] | None = None
    stiffness: Annotated[float, quantity("Nm/rad", above="0 Nm/rad", high="1e6 Nm/rad")] | None = None


class DriveTable(Table):
    steps_per_turn: Annotated[int, whole(low=1, high=100_000)] = default(200, "1.8 degree stepper motor")
    microsteps: Annotated[int, whole(low=1, high=256)] = default(1, "whole steps")
    reduction: Annotated[float, number(above=0.0, high=1e5)] = default(1.0, "motor straight on the shaft")
    backlash: Annotated[float, quantity("rad", low="0 deg", high="360 deg")] = default("0 deg", "none stated")
    windup: Annotated[float, quantity("rad", low="0 deg", high="360 deg")] | None = None
    speed: Annotated[tuple[float, str], PlainValidator(read_speed, json_schema_input_type=str)] = default(
        "120 rpm", "reached from standstill without a ramp, common practice"
    )
    motor_torque: Annotated[float, quantity("Nm", above="0 Nm", high="100 Nm")] = default(
        "0.2 Nm", "a stepper of 42 mm while it turns, half of what it holds, common practice"
    )
    efficiency: Annotated[float, number(above=0.0, high=1.0)] | None = None
    shaft_torque: Annotated[float, quantity("Nm", above="0 Nm", high="100 Nm")] | None = None
    shaft: ShaftTable | None = None


class FeedlineTable(Table):
    impedance: _LineImpedance = default("50 ohm", "usual coaxial cable")
    loss_per_100m: _LineLoss = default("0 dB", "no loss stated")
    loss_at: _LossFrequency | None = None
    length: Annotated[float, quantity("m", low="0 m", high="1000 m")] = default("0 m", "no length stated")
    choke: Annotated[float, quantity("ohm", low="0 ohm", high="1 Mohm")] | None = None
    outside: Annotated[str, name_among(OUTSIDES)] = default("ignored", "a choke at the loop keeps it quiet")
    outer_diameter: Annotated[float, quantity("m", low="1 mm", high="50 mm")] | None = None


class WireTable(Table):
    kind: Annotated[str, words(longest=60)] = default("wire", "a plain wire")
    start: _Point = Field(alias="from")
    end: _Point = Field(alias="to")
    diameter: _WireDiameter
    material: _Material | None = None
    conductivity: _Conductivity | None = None
    mu_r: _Permeability | None = None


class MeshTable(Table):
    kind: Annotated[str, name_among(("mesh",))]
    corner: _Point
    along: _Point
    across: _Point
    spacing: Annotated[float, quantity("m", low="20 mm", high="10 m")]
    diameter: _WireDiameter
    material: _Material | None = None
    conductivity: _Conductivity | None = None
    mu_r: _Permeability | None = None


def _metal_kind(value: object) -> str:
    return "mesh" if isinstance(value, dict) and value.get("kind") == "mesh" else "wire"


class PersonTable(Table):
    name: Annotated[str, words(longest=100)]
    at: _Point
    kind: Annotated[PersonKind, choice(PersonKind)] = default("public", "the stricter limits")


class SiteTable(Table):
    height: Annotated[float, quantity("m", above="0 m", high="200 m")] = default(
        "1.8 m", "a ring on a short mast or a balcony; raise or lower it to yours"
    )
    turn: Annotated[float, quantity("rad", low="-360 deg", high="360 deg")] = default(
        "0 deg", "in the x-z plane"
    )
    x_bearing: Annotated[float, quantity("rad", low="-360 deg", high="360 deg")] = default(
        "90 deg", "x points east"
    )
    locator: Annotated[str, PlainValidator(read_locator, json_schema_input_type=str)] | None = None
    earth: Annotated[str, name_among((*EARTHS, FREE_SPACE))] | None = None
    conductivity: Annotated[float, quantity("S/m", low="0 S/m", high="100 S/m")] | None = None
    permittivity: Annotated[float, number(low=1.0, high=100.0)] | None = None
    altitude: Annotated[float, quantity("m", low="-450 m", high="9000 m")] = default("0 m", "sea level")
    metal: Annotated[
        list[
            Annotated[
                Annotated[WireTable, Tag("wire")] | Annotated[MeshTable, Tag("mesh")],
                Discriminator(_metal_kind),
            ]
        ],
        Field(max_length=200),
    ] = []
    people: Annotated[list[PersonTable], Field(max_length=100)] = []


class ToleranceTable(Table):
    capacitor_q: _Spread = default(0.3, "makers rarely state it, common practice")
    joint_resistance: _Spread = default(0.5, "soldered by hand, common practice")
    earth: _Spread = default(0.5, "changes with place and weather, common practice")


class TuneToTable(Table):
    frequency: _Frequency


class BuildTable(Table):
    corners: Annotated[CornerKind, choice(CornerKind)] | None = None
    take_off: Annotated[float, quantity("m", low="0 mm", high="300 mm")] | None = None
    stock: Annotated[float, quantity("m", low="100 mm", high="1000 m")] | None = None
    kerf: Annotated[float, quantity("m", low="0 mm", high="10 mm")] = default(
        "2 mm", "a hacksaw or a tube cutter"
    )
    bend_allowance: Annotated[float, quantity("m", low="0 mm", high="1 m")] | None = None
    connector_gap: Annotated[float, quantity("m", low="1 mm", high="100 mm")] = default(
        "10 mm", "across a coaxial socket"
    )
    capacitor_mass: Annotated[float, quantity("kg", low="1 g", high="100 kg")] | None = None
    box_mass: Annotated[float, quantity("kg", low="0 kg", high="100 kg")] = default(
        "0.5 kg", "a small plastic box"
    )
    box_width: _BoxSize | None = None
    box_height: _BoxSize | None = None
    box_depth: _BoxSize | None = None
    held: Annotated[str, name_among(HELD)] | None = None


class StandTable(Table):
    kind: Annotated[StandKind, choice(StandKind)] = default("standing", "on feet, and so it can tip over")
    feet: Annotated[int, whole(low=3, high=12)] | None = None
    foot_circle: Annotated[float, quantity("m", low="50 mm", high="20 m")] | None = None
    floor: Annotated[float, quantity("m", low="0 m", high="200 m")] = default("0 m", "on real earth")
    mass: Annotated[float, quantity("kg", low="0 kg", high="10000 kg")] = default(
        "4 kg", "a mast and light legs"
    )
    ballast: Annotated[float, quantity("kg", low="0 kg", high="10000 kg")] = default("0 kg", "none stated")
    mast_diameter: Annotated[float, quantity("m", low="5 mm", high="1 m")] = default("40 mm", "a usual tube")
    wind: Annotated[float, quantity("m/s", low="1 m/s", high="100 m/s")] = default(
        "25 m/s", "a gust in a storm; local codes name another"
    )


class PartTable(Table):
    name: Annotated[str, words(longest=100)]
    count: Annotated[int, whole(low=1, high=10_000)] = default(1, "one piece")
    price: Annotated[tuple[float, str], PlainValidator(read_price, json_schema_input_type=str)] | None = None
    replaces: Annotated[str, name_among(LINES)] | None = None


class OperatingTable(Table):
    """What is sent where: a design and a brief have these keys alike."""

    format: Annotated[int, PlainValidator(read_format, json_schema_input_type=int)]
    bands: (
        Annotated[list[Annotated[str, name_among(BAND_NAMES)]], Field(min_length=1, max_length=11)] | None
    ) = None
    tune_to: Annotated[list[TuneToTable], Field(min_length=1, max_length=100)] | None = None
    power: Annotated[float, quantity("W", low="1 mW", high="100 kW")] = default(
        "100 W", "a usual transceiver"
    )
    mode: Annotated[str, name_among(MODE_FACTORS)] | None = None
    transmit_share: _Share | None = None
    duty: _Share | None = None
    region: Annotated[int, whole(low=1, high=3)] = default(1, "ITU region for the band edges")


class DesignTable(OperatingTable):
    name: Annotated[str, words(longest=200)]
    ring: RingTable
    coupling: CouplingTable
    capacitor: CapacitorTable
    drive: DriveTable | None = None
    feedline: FeedlineTable = Field(default_factory=FeedlineTable)
    site: SiteTable | None = None
    tolerance: ToleranceTable = Field(default_factory=ToleranceTable)
    build: BuildTable | None = None
    stand: StandTable | None = None
    parts: Annotated[list[PartTable], Field(max_length=100)] = []
