# SPDX-License-Identifier: BSD-3-Clause
"""What can hurt while one builds and tests, and what goes into the bag of a portable ring."""

from collections.abc import Iterator
from typing import Final

from ringwright.antenna.design import ConductorKind, Design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.prediction import Prediction
from ringwright.safety.cautions import AUTHORITY, HIGH_VOLTAGE, IMPLANTS, NEARBY_METAL
from ringwright.safety.mechanics import Mechanics
from ringwright.sheet.measures import Measures

SAWING: Final = (
    "Sawn metal cuts, and its chips fly: eye protection, gloves for carrying, edges filed round, which also "
    "keeps them "
    "from arcing. Ream the inside of each tube."
)
SOLDERING: Final = (
    "Solder and flux burn and give off fumes: air the room, keep a bucket of water and an extinguisher within "
    "reach, no "
    "flame near a wall or plastic, and wash your hands before you eat."
)
BOX: Final = (
    "A box wall that lies against hot metal softens, chars and then conducts: keep the stated distance, use plastic "
    "without metal or carbon in it, and let water out at the bottom."
)
WIND: Final = (
    "A ring that falls breaks bones: ballast or guys before the wind comes, take it down or lay it flat before "
    "a storm, "
    "and never stand it where it can fall onto a street or a line."
)
LADDERS: Final = (
    "Look for power lines before anything goes up, and keep twice its height away from them. Not alone on a "
    "ladder, and "
    "not with a ring in one hand."
)
LIGHTNING: Final = (
    "Disconnect the feedline and the drive outdoors before a thunderstorm. Mast and cable screen are earthed "
    "as local "
    "codes ask; that is a job for someone who knows them."
)
SHARP_STEP: Final = (
    "The transmitter stays off, and unable to key, whenever a hand is nearer than the keep-out distance."
)


_GRAVE = {"power-above-limit", "radiated-power-limit", "out-of-reach"}


def grave_notices(prediction: Prediction) -> tuple[str, ...]:
    """What the prediction warns of that nobody should build past."""
    return tuple(notice.text for notice in prediction.warnings if notice.code in _GRAVE)


def build_cautions(design: Design, mechanics: Mechanics) -> tuple[str, ...]:
    """Those that apply to this design, in the order in which they bite."""
    return tuple(_cautions(design, mechanics))


def _cautions(design: Design, mechanics: Mechanics) -> Iterator[str]:
    yield SAWING
    if design.ring.joints > 0 or design.ring.conductor.kind is ConductorKind.BRAID:
        yield SOLDERING
    voltage = FIGURES["capacitor.must_stand_peak_v"]
    most = voltage.text(mechanics.clearance.voltage)
    yield f"Up to {most} peak at the gap at {design.power:.4g} W. {HIGH_VOLTAGE}"
    yield BOX
    yield SHARP_STEP
    if design.site.metal:
        yield NEARBY_METAL
    yield WIND
    if mechanics.wind.moment > 0.0 and design.site.height - mechanics.stand.floor > 1.5:
        yield LADDERS
    yield LIGHTNING
    yield IMPLANTS
    yield AUTHORITY


def pack_list(design: Design, mechanics: Mechanics, measures: Measures) -> tuple[str, ...]:
    """What a portable ring needs along, so that nothing is missing on the hill."""
    return tuple(_packed(design, mechanics, measures))


def _packed(design: Design, mechanics: Mechanics, measures: Measures) -> Iterator[str]:
    kind = design.ring.conductor.kind.value
    number = sum(piece.count for piece in mechanics.cuts.pieces)
    yield f"the ring: {kind}, {number} piece{'s' if number > 1 else ''}"
    yield f"the {design.capacitor.kind} capacitor in its box, shut"
    if mechanics.cuts.coupling:
        yield "the coupling, with the spacer that keeps its clearance"
    if design.drive is not None:
        yield "the drive with its insulating shaft, controller and battery"
    if design.feedline.length > 0.0:
        choke = ", with its choke" if design.feedline.choke else ""
        yield f"feedline of {measures.distance(design.feedline.length)}{choke}"
    if mechanics.standing is not None:
        yield "mast and feet"
        if mechanics.mass.ballast > 0.0:
            yield f"ballast, {measures.mass(mechanics.mass.ballast)}: what it is laid or hung with"
        if mechanics.standing.ballast_needed > 0.0:
            yield "guys and pegs, or a bag to fill on the spot as ballast"
    yield "the tuning table of this sheet, and a pencil"
    yield "analyser or SWR meter, with a full battery"
    yield "a tape with the keep-out distance marked on it (the command keepout tells it), and a line or cones"
    yield "spare screws and washers, contact cleaner, a cloth"
    yield "the licence, and a telephone"
