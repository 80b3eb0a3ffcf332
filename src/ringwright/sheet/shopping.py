# SPDX-License-Identifier: BSD-3-Clause
"""What is to be bought: lines that follow from the design, with the person's own names and prices."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ringwright.antenna.building import CornerKind, Price
from ringwright.antenna.design import Conductor, ConductorKind, CouplingKind, Design, RingShape
from ringwright.safety.mechanics import Mechanics
from ringwright.sheet.measures import Measures, angle


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """`key` names a line of the design's own, "" for one that was added; `price` of one piece, None if not known."""

    key: str
    name: str
    count: int
    price: Price | None = None

    @property
    def cost(self) -> Price | None:
        """Of all pieces."""
        return (
            None
            if self.price is None
            else Price(amount=self.price.amount * self.count, currency=self.price.currency)
        )


def shopping_list(design: Design, mechanics: Mechanics, *, measures: Measures) -> tuple[Line, ...]:
    """All lines, the person's names and prices in the place of ours."""
    own = {part.replaces: part for part in design.parts if part.replaces is not None}
    lines = []
    for line in _lines(design, mechanics, measures):
        part = own.pop(line.key, None)
        if part is not None:
            count = part.count if part.count > 1 else line.count
            line = replace(line, name=f"{line.name}: {part.name}", price=part.price, count=count)  # noqa: PLW2901
        lines.append(line)
    lines += [Line(key=key, name=part.name, count=part.count, price=part.price) for key, part in own.items()]
    added = (part for part in design.parts if part.replaces is None)
    lines += [Line(key="", name=part.name, count=part.count, price=part.price) for part in added]
    return tuple(lines)


def totals(lines: tuple[Line, ...]) -> dict[str, float]:
    """Sum of the known prices by currency."""
    found: dict[str, float] = {}
    for line in lines:
        if line.cost is not None:
            found[line.cost.currency] = found.get(line.cost.currency, 0.0) + line.cost.amount
    return found


def conductor_words(conductor: Conductor, measures: Measures) -> str:
    """As one asks for it in a shop."""
    metal = conductor.material or "metal of stated conductivity"
    match conductor.kind:
        case ConductorKind.TUBE:
            assert conductor.diameter is not None
            assert conductor.wall is not None
            size = f"{measures.fine(conductor.diameter)} tube, wall {measures.fine(conductor.wall)}"
        case ConductorKind.STRIP:
            assert conductor.width is not None
            assert conductor.thickness is not None
            size = f"strip {measures.fine(conductor.width)} by {measures.fine(conductor.thickness)}"
        case kind:
            assert conductor.diameter is not None
            word = "rod or wire" if kind is ConductorKind.SOLID else "braid"
            size = f"{measures.fine(conductor.diameter)} {word}"
    return f"{size}, {metal}"


def _lines(design: Design, mechanics: Mechanics, measures: Measures) -> Iterator[Line]:
    cuts = mechanics.cuts
    tube = conductor_words(design.ring.conductor, measures)
    if cuts.stock is not None and cuts.lengths is not None:
        yield Line(
            key="ring conductor",
            name=f"{tube}, length of {measures.distance(cuts.stock)}",
            count=cuts.lengths,
        )
    else:
        yield Line(key="ring conductor", name=f"{tube}, {measures.distance(cuts.needed)}", count=1)
    yield from _corners(design, mechanics)
    yield from _coupling(design, mechanics, measures)
    capacitor = design.capacitor
    least, most = (f"{float(f'{value * 1e12:.3g}'):g} pF" for value in (capacitor.minimum, capacitor.maximum))
    volts = f"{mechanics.clearance.voltage / 1e3:.3g} kV"
    yield Line(
        key="capacitor", name=f"{capacitor.kind} capacitor, {least} to {most}, to stand {volts} peak", count=1
    )
    box = " by ".join(measures.length(side) for side in mechanics.clearance.box)
    yield Line(key="box", name=f"plastic box, {box}", count=1)
    yield Line(key="straps", name="copper straps, short and wide, with brass screws", count=2)
    yield Line(key="socket", name="coaxial socket", count=1)
    if design.feedline.length > 0.0:
        words = f"coaxial cable, {design.feedline.impedance:g} Ω, {measures.distance(design.feedline.length)}"
        yield Line(key="cable", name=words, count=1)
    if design.feedline.choke is not None:
        yield Line(key="choke", name=f"common-mode choke, {design.feedline.choke / 1e3:.3g} kΩ", count=1)
    if design.drive is not None:
        steps = f"{design.drive.steps_per_turn} steps a turn, reduction {design.drive.reduction:g}"
        yield Line(key="motor", name=f"stepper motor, {steps}", count=1)
    yield from _shaft(design, measures)
    feet = (
        ""
        if mechanics.standing is None
        else f", {mechanics.stand.feet} feet on {measures.distance(mechanics.stand.foot_circle)}"
    )
    yield Line(key="stand", name=f"mast of {measures.fine(mechanics.stand.mast_diameter)}{feet}", count=1)
    if mechanics.standing is not None and mechanics.standing.ballast_needed > 0.0:
        words = f"ballast, {measures.mass(mechanics.standing.ballast_needed)}, or guys"
        yield Line(key="ballast", name=words, count=1)


def _corners(design: Design, mechanics: Mechanics) -> Iterator[Line]:
    if design.ring.shape in (RingShape.CIRCLE, RingShape.OVAL) or design.building.corners is CornerKind.MITRE:
        return
    for turning, count in mechanics.cuts.corners:
        yield Line(key="corner fittings", name=f"elbow of {angle(abs(turning))}", count=count)


def _coupling(design: Design, mechanics: Mechanics, measures: Measures) -> Iterator[Line]:
    coupling = design.coupling
    if coupling.kind is CouplingKind.TRANSFORMER:
        assert coupling.core is not None
        nano = coupling.core.inductance_factor * 1e9
        yield Line(key="core", name=f"ferrite core, {nano:.3g} nH a turn squared", count=1)
        return
    assert coupling.conductor is not None
    words = conductor_words(coupling.conductor, measures)
    length = math.fsum(piece.cut * piece.count for piece in mechanics.cuts.coupling)
    yield Line(key="coupling conductor", name=f"{words}, {measures.length(length)}", count=1)


def _shaft(design: Design, measures: Measures) -> Iterator[Line]:
    if design.drive is None or design.drive.shaft is None or design.drive.shaft.material is None:
        return
    shaft = design.drive.shaft
    size = "" if shaft.diameter is None else f", {measures.fine(shaft.diameter)} thick"
    long = "" if shaft.length is None else f", {measures.length(shaft.length)} clear length"
    yield Line(key="shaft", name=f"shaft of {shaft.material}{size}{long}", count=1)
