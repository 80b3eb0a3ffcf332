# SPDX-License-Identifier: BSD-3-Clause
"""Rings built with one known fault, predicted full-wave and measured with noise: what the diagnosis is judged by.

Nothing here knows how the diagnosis thinks: a fault is a change of the design file's own values, a bar is a wire in the
solver, sizes and tolerances are drawn at random, and the figures are those of the circle fitted to the predicted sweep.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from ringwright.antenna.design import Design, SiteWire
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.predict import operating_points
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import DesignError
from ringwright.physics.graph import FloatArray
from ringwright.proof.measured import Measured
from ringwright.proof.resonance_fit import fit_resonance
from ringwright.proof.suspects import Cause
from ringwright.proof.sweep import Sweep, SweepKind

Q_NOISE, COUPLING_NOISE = 0.025, 0.03
MATTERS = 1.25
"""A fault adds at least a quarter to the resistance at the gap on some band: about 1 dB."""

GARDEN_CIRCLE = """
format = 1
name = "Garden circle"
bands = ["40m", "30m", "20m", "17m"]
[ring]
shape = "circle"
diameter = "1 m"
joints = 2
joint_resistance = "0.2 mohm"
[ring.conductor]
kind = "tube"
diameter = "28 mm"
wall = "1 mm"
[coupling]
diameter = "0.2 m"
[coupling.conductor]
kind = "solid"
diameter = "6 mm"
material = "copper"
[capacitor]
kind = "air"
minimum = "10 pF"
maximum = "300 pF"
stray = "4 pF"
q = 1500
[site]
height = "1.5 m"
earth = "good"
"""

ATTIC_HEXAGON = """
format = 1
name = "Attic hexagon"
bands = ["40m", "30m", "20m"]
[ring]
shape = "hexagon"
perimeter = "3.6 m"
joints = 6
joint_resistance = "0.2 mohm"
[ring.conductor]
kind = "tube"
diameter = "15 mm"
wall = "1 mm"
[coupling]
diameter = "0.2 m"
[coupling.conductor]
kind = "solid"
diameter = "4 mm"
material = "copper"
[capacitor]
kind = "butterfly"
minimum = "12 pF"
maximum = "250 pF"
stray = "4 pF"
q = 1000
[site]
height = "6 m"
earth = "average"
[[site.metal]]
kind = "gutter"
from = ["-5 m", "2 m", "5.5 m"]
to = ["5 m", "2 m", "5.5 m"]
diameter = "80 mm"
material = "aluminium"
"""


def designs() -> dict[str, Design]:
    return {
        "terrace octagon": shipped_design(TERRACE_OCTAGON),
        "garden circle": parse_design(GARDEN_CIRCLE, source="garden-circle.toml"),
        "attic hexagon": parse_design(ATTIC_HEXAGON, source="attic-hexagon.toml"),
    }


def log_uniform(rng: np.random.Generator, low: float, high: float) -> float:
    return float(low * (high / low) ** rng.random())


def within_tolerance(design: Design, rng: np.random.Generator, cause: Cause) -> Design:
    """One ring as the design's tolerances allow it; what is to blame is not by luck better than declared."""
    tolerance, earth, capacitor = design.tolerance, design.site.earth, design.capacitor
    assert earth is not None
    assert capacitor.q is not None
    q_off = rng.normal(0.0, tolerance.capacitor_q)
    if cause is Cause.CAPACITOR:
        q_off = 0.0
    return replace(
        design,
        capacitor=replace(capacitor, q=capacitor.q * float(np.exp(q_off))),
        ring=replace(
            design.ring,
            joint_resistance=design.ring.joint_resistance
            * np.exp(rng.normal(0.0, tolerance.joint_resistance)),
        ),
        site=replace(
            design.site,
            earth=replace(
                earth,
                conductivity=earth.conductivity * np.exp(rng.normal(0.0, tolerance.earth)),
                permittivity=max(1.5, earth.permittivity * np.exp(rng.normal(0.0, tolerance.earth))),
            ),
        ),
    )


def bad_joint(design: Design, rng: np.random.Generator) -> tuple[Design, str]:
    ohms = log_uniform(rng, 0.02, 1.0)
    ring = replace(design.ring, joint_resistance=design.ring.joint_resistance + ohms / design.ring.joints)
    return replace(design, ring=ring), f"{ohms * 1e3:.0f} mohm"


def low_capacitor_q(design: Design, rng: np.random.Generator) -> tuple[Design, str]:
    assert design.capacitor.q is not None
    share = log_uniform(rng, 0.05, 0.5)
    capacitor = replace(design.capacitor, q=design.capacitor.q * share)
    return replace(design, capacitor=capacitor), f"Q times {share:.2f}"


def poor_conductor(design: Design, rng: np.random.Generator) -> tuple[Design, str]:
    factor = log_uniform(rng, 1.4, 7.0)
    conductor = replace(
        design.ring.conductor, roughness_factor=design.ring.conductor.roughness_factor * factor
    )
    return replace(design, ring=replace(design.ring, conductor=conductor)), f"resistance times {factor:.2f}"


def long_bar(design: Design, rng: np.random.Generator) -> tuple[Design, str]:
    """Near half a wave on one band, one to two and a half metres beside the ring, turned and moved at random."""
    target = design.targets[rng.integers(len(design.targets))]
    length = 142.5e6 / (target.frequency * rng.uniform(0.97, 1.03))
    turn = rng.choice([0.0, np.pi / 4.0, np.pi / 2.0])
    along = np.array([np.cos(turn), np.sin(turn), 0.0])
    beside = np.array([-along[1], along[0], 0.0]) * rng.uniform(1.0, 2.5) * rng.choice([-1.0, 1.0])
    up = max(design.site.height + rng.uniform(-1.0, 2.5), 0.4)
    middle = beside + rng.uniform(-0.4, 0.4) * length * along + np.array([0.0, 0.0, up])
    ends = [tuple(float(x) for x in middle + way * length / 2.0 * along) for way in (-1.0, 1.0)]
    bar = SiteWire(
        kind="bar",
        start=(ends[0][0], ends[0][1], ends[0][2]),
        end=(ends[1][0], ends[1][1], ends[1][2]),
        diameter=0.03,
        conductivity=30e6,
    )
    site = replace(design.site, metal=(*design.site.metal, bar))
    return replace(design, site=site), f"{length:.1f} m, near half a wave on {target.band}"


def small_coupling_loop(design: Design, rng: np.random.Generator) -> tuple[Design, str]:
    share = rng.uniform(0.55, 0.85)
    assert design.coupling.diameter is not None
    coupling = replace(design.coupling, diameter=design.coupling.diameter * share)
    return replace(design, coupling=coupling), f"diameter times {share:.2f}"


def nothing(design: Design, rng: np.random.Generator) -> tuple[Design, str]:
    return design, ""


FAULTS: dict[Cause, Callable[[Design, np.random.Generator], tuple[Design, str]]] = {
    Cause.JOINTS: bad_joint,
    Cause.CAPACITOR: low_capacitor_q,
    Cause.CONDUCTOR: poor_conductor,
    Cause.METAL: long_bar,
    Cause.COUPLING: small_coupling_loop,
    Cause.NONE: nothing,
}


@dataclass(frozen=True)
class Built:
    """A ring as it was built; `adds` is the largest factor by which its fault raises the resistance on a band."""

    design: Design
    size: str
    adds: float
    points: list[OperatingPoint]

    def measured(self, rng: np.random.Generator) -> list[Measured]:
        return [_measured(point, rng) for point in self.points]


def built_with(cause: Cause, design: Design, rng: np.random.Generator) -> Built:
    """A ring with a fault that matters, everything else within tolerance."""
    for _ in range(200):
        sound, memory = within_tolerance(design, rng, cause), SolutionMemory()
        faulty, size = FAULTS[cause](sound, rng)
        try:
            points = operating_points(faulty, build_wires(faulty), memory)
        except DesignError:  # the bar runs through the ring
            continue
        before = _resistances(operating_points(sound, build_wires(sound), memory))
        adds = float(np.max(_resistances(points) / before))
        if adds >= MATTERS or cause in {Cause.NONE, Cause.COUPLING}:
            return Built(faulty, size, adds, points)
    raise AssertionError(f"no {cause.value} fault of {design.name} matters")


def _resistances(points: list[OperatingPoint]) -> FloatArray:
    return np.array([point.tuned.ring_resistance(point.target.frequency) for point in points])


def predicted_sweep(point: OperatingPoint, *, widths: float = 6.0, points: int = 121) -> Sweep:
    """Reflection at the coupling loop over so many half-power widths."""
    f0, q = point.tuned.resonance()
    f = f0 * (1.0 + widths / q * np.linspace(-0.5, 0.5, points))
    return Sweep(
        source="planted.s1p",
        kind=SweepKind.REFLECTION,
        frequency=f,
        response=point.tuned.reflection(f),
        reference=point.tuned.reference,
    )


def behind_cable(sweep: Sweep, loss_db: float) -> Sweep:
    """The same through a cable of so many decibels one way; its delay is left out."""
    return replace(sweep, response=sweep.response * 10.0 ** (-loss_db / 10.0))


def _measured(point: OperatingPoint, rng: np.random.Generator) -> Measured:
    fit = fit_resonance(predicted_sweep(point))
    return Measured(
        frequency=point.target.frequency,
        q_unloaded=fit.q_unloaded.value * float(np.exp(rng.normal(0.0, Q_NOISE))),
        q_spread=Q_NOISE,
        coupling=fit.coupling.value * float(np.exp(rng.normal(0.0, COUPLING_NOISE))),
        coupling_spread=COUPLING_NOISE,
    )
