# SPDX-License-Identifier: BSD-3-Clause
"""What is built: the design as plain values, SI throughout, with no file or unit in sight.

Angles are radians, lengths metres, frequencies hertz, voltages peak volts where the name says so. The
file form with its defaults is `ringwright.antenna.design_file`; the axes are those of the design file's reference.
"""

from dataclasses import dataclass, field, replace
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING

from ringwright.antenna.building import Bought, Building, Stand

if TYPE_CHECKING:
    from ringwright.antenna.calibration import Calibrated

SCREEN_DIAMETER = 0.005
"""Of a thin coaxial cable's screen, where none is stated. [m]"""


class ConductorKind(Enum):
    TUBE = "tube"
    SOLID = "solid"
    STRIP = "strip"
    BRAID = "braid"


class RingShape(Enum):
    CIRCLE = "circle"
    SQUARE = "square"
    HEXAGON = "hexagon"
    OCTAGON = "octagon"
    OVAL = "oval"
    POLYGON = "polygon"


class CouplingKind(Enum):
    LOOP = "loop"
    TAPPED = "tapped"
    TRANSFORMER = "transformer"


class CouplingShape(Enum):
    CIRCLE = "circle"
    OVAL = "oval"


class CouplingPlace(Enum):
    OPPOSITE_GAP = "opposite gap"
    CENTRE = "centre"


class FeedSide(Enum):
    """Where the coupling loop is opened for the feedline, seen from the ring's conductor."""

    FAR = "far"
    NEAR = "near"


class PersonKind(Enum):
    PUBLIC = "public"
    INFORMED = "informed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductor:
    """A wire, tube, strip or braid.

    `diameter` is the outer diameter of tube, solid and braid [m]; `wall` the tube's wall [m]; `width` and
    `thickness` belong to a strip [m]. `conductivity` [S/m] at 20 degrees C, `temperature_coefficient` [1/K] of
    its resistivity, `temperature_c` the conductor's temperature. `mu_r` relative permeability.
    `roughness_factor` multiplies the resistance (braid: the stated factor over a solid of the same diameter).
    """

    kind: ConductorKind
    diameter: float | None = None
    wall: float | None = None
    width: float | None = None
    thickness: float | None = None
    conductivity: float
    temperature_coefficient: float = 0.00393
    temperature_c: float = 20.0
    mu_r: float = 1.0
    roughness_factor: float = 1.0
    material: str | None = None

    @property
    def electrical_radius(self) -> float:
        """Radius of the round conductor with the same field outside [m]; a strip's is a quarter of its width."""
        if self.kind is ConductorKind.STRIP:
            assert self.width is not None
            return self.width / 4.0
        assert self.diameter is not None
        return self.diameter / 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """The main radiating loop.

    `perimeter` [m] of one turn along the conductor's axis. `points` [m]: corners of a free polygon, in the ring's
    own plane (across, up), in order, without a repeated end point; `perimeter` is then their sum. `aspect`: width
    over height of an oval. `tilt` [rad] of the ring's plane from vertical: 0 vertical, pi/2 horizontal.
    `gap_angle` [rad]: the gap's place, counted from the top towards x.
    """

    shape: RingShape
    perimeter: float
    conductor: Conductor
    aspect: float = 1.0
    points: tuple[tuple[float, float], ...] = ()
    turns: int = 1
    turn_spacing: float | None = None
    turn_lead: float = 0.080
    tilt: float = 0.0
    gap_angle: float = 0.0
    joints: int = 0
    joint_resistance: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Core:
    """A ferrite core that the ring's conductor passes `passes` times, and the primary winding on it.

    `inductance_factor` [H] of one turn, `q` of the material at the frequencies in use, `coupling_factor` mutual
    inductance over the root of both.
    """

    inductance_factor: float
    q: float
    primary_turns: int
    passes: int = 1
    coupling_factor: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Coupling:
    """What brings the power into the ring. What a kind does not have is None.

    Loop: `diameter` [m] of the circle with its perimeter. Tapped: an arm beside the ring's conductor from the point
    half-way round from the gap to `tap_at` [m] along the conductor. Both: `conductor`, `clearance` [m] between
    surfaces. Transformer: `core`, half-way round.
    """

    kind: CouplingKind
    diameter: float | None = None
    conductor: Conductor | None = None
    shape: CouplingShape = CouplingShape.CIRCLE
    squash: float = 1.0
    place: CouplingPlace = CouplingPlace.OPPOSITE_GAP
    clearance: float = 0.015
    feed_side: FeedSide = FeedSide.FAR
    tap_at: float | None = None
    core: Core | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One capacitor of several: its `q` or `esr` [ohm], rated peak volts and rms amperes; None where not stated."""

    q: float | None = None
    esr: float | None = None
    rated_voltage: float | None = None
    rated_current: float | None = None

    @property
    def states_loss(self) -> bool:
        """Whether its own loss is known."""
        return self.q is not None or self.esr is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Capacitor:
    """The tuning capacitor at the gap.

    A variable one of `minimum` to `maximum`, in series with `series` where there is one; `fixed` and `stray` in
    parallel to both. Farads. Loss: `q` (constant over frequency) or `esr` [ohm] of the whole gap capacitance; both are
    None where the parts state their own: `variable`, `fixed_part`, `series_part`. `contact_resistance` [ohm] of the
    rotor's contact comes on top. `rated_voltage` [V peak], `rated_current` [A rms] and `plate_gap` [m] are of the
    variable one as connected, None where not given; `sections_in_series` of it share the voltage. `travel` counts in
    `travel_unit` ("turns" or "deg"). `law`: (position, farads) pairs, position in `travel_unit`, empty for linear;
    `straight_line_frequency` True for that law. `stray_within` [F] is how far minimum and stray may be off.
    `made`: in a few words how its numbers came from dimensions, None where they are stated.
    `lead_length` and `lead_width` [m] of each strap, `gap_width` [m] between the ring's ends; `air_temperature_c`
    between the plates; `body_diameter` and `body_length` [m] of what gives off the heat.
    """

    kind: str
    minimum: float
    maximum: float
    fixed: float = 0.0
    series: float | None = None
    stray: float = 0.0
    stray_within: float = 0.0
    q: float | None = None
    esr: float | None = None
    variable: Part = field(default_factory=Part)
    fixed_part: Part = field(default_factory=Part)
    series_part: Part = field(default_factory=Part)
    contact_resistance: float = 0.0
    rated_voltage: float | None = None
    rated_current: float | None = None
    plate_gap: float | None = None
    sections_in_series: int = 1
    air_temperature_c: float = 40.0
    travel: float | None = None
    travel_unit: str = "turns"
    straight_line_frequency: bool = False
    law: tuple[tuple[float, float], ...] = ()
    gap_width: float | None = None
    lead_length: float | None = None
    lead_width: float | None = None
    body_diameter: float | None = None
    body_length: float | None = None
    made: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shaft:
    """What joins the drive to the capacitor's shaft: its `stiffness` [N m/rad], or material and dimensions [m].

    `length` is also what keeps the gap's voltage off the motor, if the material insulates; `bore` 0 for a solid one.
    """

    material: str | None = None
    length: float | None = None
    diameter: float | None = None
    bore: float = 0.0
    stiffness: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """Stepper motor and what lies between it and the capacitor's shaft. Angles [rad] at that shaft.

    `windup` as stated; None where it follows from the `shaft`, if there is one. `speed` [turns/s] and `motor_torque`
    [N m] are the motor's while it turns, `efficiency` the reduction's; `shaft_torque` [N m] turns the capacitor, None
    for what is usual of its kind.
    """

    steps_per_turn: int = 200
    microsteps: int = 1
    reduction: float = 1.0
    backlash: float = 0.0
    windup: float | None = None
    speed: float = 2.0
    motor_torque: float = 0.2
    efficiency: float = 1.0
    shaft_torque: float | None = None
    shaft: Shaft | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Feedline:
    """The cable. `loss` [dB/m] at `loss_frequency` [Hz], `length` [m], `choke` [ohm] common-mode impedance.

    `runs_down`: the outside of its screen, `outer_diameter` [m] thick, is a wire from the coupling loop down to just
    above the earth, with the choke at its upper end.
    """

    impedance: float = 50.0
    loss: float = 0.0
    loss_frequency: float | None = None
    length: float = 0.0
    choke: float | None = None
    runs_down: bool = False
    outer_diameter: float = SCREEN_DIAMETER


@dataclass(frozen=True, slots=True, kw_only=True)
class Earth:
    """The half-space under the ring. `perfect` is a mirror; conductivity [S/m], relative permittivity."""

    name: str
    conductivity: float
    permittivity: float
    perfect: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteWire:
    """A straight piece of metal nearby: ends [m], diameter [m], S/m, relative permeability."""

    kind: str
    start: tuple[float, float, float]
    end: tuple[float, float, float]
    diameter: float
    conductivity: float
    mu_r: float = 1.0
    material: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteMesh:
    """A slab or wall as a grid of wires: corner [m], two edge vectors [m], mesh size [m], wire diameter [m]."""

    corner: tuple[float, float, float]
    along: tuple[float, float, float]
    across: tuple[float, float, float]
    spacing: float
    diameter: float
    conductivity: float
    mu_r: float = 1.0
    material: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    name: str
    at: tuple[float, float, float]
    kind: PersonKind = PersonKind.PUBLIC


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Where the ring stands. `earth` None is free space. Angles [rad]; `height` [m] of the ring's lowest axis point."""

    height: float = 1.8
    turn: float = 0.0
    x_bearing: float = 1.5707963267948966
    locator: str | None = None
    earth: Earth | None = None
    altitude: float = 0.0
    metal: tuple[SiteWire | SiteMesh, ...] = ()
    people: tuple[Person, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """Standard deviations of the natural logarithm of what is uncertain."""

    capacitor_q: float = 0.3
    joint_resistance: float = 0.5
    earth: float = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """One frequency to predict: the band it lies in (None outside all), and the band's edges [Hz] if asked by band.

    `low` and `high` equal `frequency` for a `tune_to` entry.
    """

    band: str | None
    frequency: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """One ring, complete. `power` [W] is peak envelope power accepted at the feed.

    `mode_factor` times `transmit_share` is the averaging factor for heat and averaged exposure.
    `defaults_used`: one "key = value" text per default the file left open. `calibration`: the layer of what was
    measured that has moved the uncertain inputs, with what is declared of them; None for the design as declared.
    """

    name: str
    targets: tuple[Target, ...]
    ring: Ring
    coupling: Coupling
    capacitor: Capacitor
    power: float = 100.0
    mode: str | None = None
    mode_factor: float = 1.0
    transmit_share: float = 1.0
    region: int = 1
    drive: Drive | None = None
    feedline: Feedline = field(default_factory=Feedline)
    site: Site = field(default_factory=Site)
    tolerance: Tolerance = field(default_factory=Tolerance)
    building: Building = field(default_factory=Building)
    stand: Stand | None = None
    parts: tuple[Bought, ...] = ()
    defaults_used: tuple[str, ...] = ()
    calibration: "Calibrated | None" = None

    def without_metal(self) -> "Design":
        """The same as if the metal nearby were gone."""
        return replace(self, site=replace(self.site, metal=()))

    @classmethod
    def load(cls, path: str | Path, *, calibration: str | Path | None = None) -> "Design":
        """Read a design file, and lay the layer in the file `calibration` over it."""
        from ringwright.antenna.design_file import load_calibrated, load_design

        return load_design(path) if calibration is None else load_calibrated(path, calibration)
