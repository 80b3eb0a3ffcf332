# SPDX-License-Identifier: BSD-3-Clause
"""Designs for the tests, as values: a 3 m ring of 22 mm copper tube in free space, and what a test changes in it."""

from dataclasses import replace
from typing import Any

from ringwright.antenna.bands import bands_of
from ringwright.antenna.design import (
    Capacitor,
    Conductor,
    ConductorKind,
    Coupling,
    CouplingKind,
    Design,
    Earth,
    Ring,
    RingShape,
    Site,
    Target,
)

COPPER = 58e6
AVERAGE = Earth(name="average", conductivity=0.005, permittivity=13.0)


def tube(diameter: float = 0.022, wall: float = 0.001) -> Conductor:
    return Conductor(kind=ConductorKind.TUBE, diameter=diameter, wall=wall, conductivity=COPPER)


def solid(diameter: float = 0.006) -> Conductor:
    return Conductor(kind=ConductorKind.SOLID, diameter=diameter, conductivity=COPPER)


RING = Ring(shape=RingShape.CIRCLE, perimeter=3.0, conductor=tube())
COUPLING = Coupling(kind=CouplingKind.LOOP, diameter=0.15, conductor=solid())
CAPACITOR = Capacitor(kind="air", minimum=10e-12, maximum=400e-12, esr=0.02)
SITE = Site()


def at(frequency: float) -> Target:
    """A `tune_to` entry."""
    return Target(band=None, frequency=frequency, low=frequency, high=frequency)


def band(name: str, region: int = 1) -> Target:
    found = bands_of(region)[name]
    return Target(band=name, frequency=found.centre, low=found.low, high=found.high)


def built(
    *targets: Target,
    ring: dict[str, Any] | None = None,
    coupling: dict[str, Any] | None = None,
    capacitor: dict[str, Any] | None = None,
    site: dict[str, Any] | None = None,
    **design: Any,
) -> Design:
    """The standard ring with changes; without targets on 14.2 MHz."""
    return Design(
        name="test",
        targets=targets or (at(14.2e6),),
        ring=replace(RING, **(ring or {})),
        coupling=replace(COUPLING, **(coupling or {})),
        capacitor=replace(CAPACITOR, **(capacitor or {})),
        site=replace(SITE, **(site or {})),
        **design,
    )
