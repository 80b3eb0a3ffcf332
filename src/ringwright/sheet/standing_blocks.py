# SPDX-License-Identifier: BSD-3-Clause
"""How the ring stands up, on the sheet: wind, weight, ballast, sag."""

from collections.abc import Iterator

from ringwright.antenna.building import Stand
from ringwright.safety.mechanics.bending import Sag
from ringwright.safety.mechanics.masses import Masses
from ringwright.sheet.blocks import Block, aside, caution, drawing, facts, heading, quiet
from ringwright.sheet.build import Build
from ringwright.sheet.cautions import WIND
from ringwright.sheet.measures import Measures
from ringwright.sheet.sketch import Sketch


def standing_blocks(build: Build, drawn: dict[str, Sketch]) -> Iterator[Block]:
    """Wind, weight, feet, sag."""
    mechanics, measures = build.mechanics, build.measures
    wind, standing, sag, stand = mechanics.wind, mechanics.standing, mechanics.sag, mechanics.stand
    yield heading("Stand it up")
    yield caution(WIND)
    rows = [
        ("wind", f"{measures.speed(wind.speed)}, {measures.pressure(wind.pressure)}"),
        (
            "on the ring",
            f"{measures.force(wind.face_on)} from the worst side, {measures.force(wind.edge_on)} from the best",
        ),
        (
            "on everything",
            (
                f"{measures.force(wind.force)}, of it {measures.force(wind.box)} on the box and "
                f"{measures.force(wind.mast)} on the mast, the coupling counted; {measures.moment(wind.moment)} about "
                "the floor"
            ),
        ),
        ("weight", _weight(mechanics.mass, measures)),
    ]
    if standing is not None:
        rows.append(("tips over at", f"{measures.speed(standing.tips_at)}, without margin"))
        rows.append(
            ("slides at", f"{measures.speed(standing.slides_at)} on a smooth wet floor (friction 0.3)")
        )
        need = (
            "none against tipping"
            if standing.holds
            else f"{measures.mass(standing.ballast_needed)}, low in the middle, or guys"
        )
        rows.append(("ballast to add", need))
    else:
        rows.append(("fixing", "must take that force and that moment, with its own margins"))
    if sag is not None:
        rows.append(("ring sags", _sags(sag, measures)))
        rows.append(("stress", _stress(sag, measures)))
    yield aside(drawing(drawn["stand"]), facts(rows))
    if mechanics.stand_assumed:
        yield quiet(assumed_stand(stand, measures))
    yield quiet(
        "Static wind; the ballast has 1.5 on it and 0.9 on the weight (EN 1990), against tipping. Gusts that rock it, "
        "soft ground, ice, slopes and the lift at a roof's edge are not in it; against sliding: spikes, a step or guys."
    )


def assumed_stand(stand: Stand, measures: Measures) -> str:
    """What was taken for a design without [stand], and what to write where it stands otherwise."""
    return (
        f"The design has no [stand]: taken were {stand.feet} feet on a circle of "
        f"{measures.distance(stand.foot_circle)}, {measures.mass(stand.mass)} of mast and legs, a mast "
        f"{measures.fine(stand.mast_diameter)} thick on real earth, outdoors in the wind; indoors or on a house write "
        'kind = "fixed" below [stand], and as floor how high the floor or the fixing is.'
    )


def _weight(mass: Masses, measures: Measures) -> str:
    ballast = f", {measures.mass(mass.ballast)} of it ballast" if mass.ballast > 0.0 else ""
    return f"{measures.mass(mass.total)} in all{ballast}"


def _sags(sag: Sag, measures: Measures) -> str:
    if sag.by_weight is None:
        return "too far to be said: it does not carry itself"
    windy = "too far to be said" if sag.by_wind is None else f"up to {measures.length(sag.by_wind)}"
    return f"up to {measures.length(sag.by_weight)}; in that wind {windy}"


def _stress(sag: Sag, measures: Measures) -> str:
    """A number only where the unloaded shape still stands for the loaded one."""
    if sag.by_wind is None:
        return "not to be said of so much bending; carry it by a frame"
    soft = "" if sag.stress_wind < sag.yields_at else ": it may stay bent; carry it by a frame"
    return f"{measures.stress(sag.stress_wind)} of {measures.stress(sag.yields_at)}{soft}"
