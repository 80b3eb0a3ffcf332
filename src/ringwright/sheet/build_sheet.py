# SPDX-License-Identifier: BSD-3-Clause
"""The sheet for the bench: what to cut, bend, buy, wire and expect, in which order, and where it bites."""

import math
from collections.abc import Iterator, Sequence

from ringwright.antenna.building import Price
from ringwright.antenna.design import ConductorKind
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.prediction import BandPrediction
from ringwright.safety.mechanics.warmth import Warmth
from ringwright.sheet.blocks import (
    Block,
    caution,
    checks,
    drawing,
    facts,
    heading,
    kept,
    new_page,
    pair,
    paragraph,
    quiet,
    table,
)
from ringwright.sheet.build import Build
from ringwright.sheet.cautions import (
    BOX,
    SAWING,
    SHARP_STEP,
    SOLDERING,
    build_cautions,
    grave_notices,
    pack_list,
)
from ringwright.sheet.drawings import drawings
from ringwright.sheet.figures import BUILD_FIGURES
from ringwright.sheet.measures import angle, minutes
from ringwright.sheet.order import figure_text, named, order_of_tests
from ringwright.sheet.shopping import conductor_words, totals
from ringwright.sheet.sketch import Sketch
from ringwright.sheet.standing_blocks import standing_blocks
from ringwright.sheet.templates import tiles_of
from ringwright.sheet.typeset import typeset

BLANK_ROWS = 4
"""Rows of the tuning table for frequencies of one's own."""


def build_sheet(build: Build, *, paper: str, templates: bool) -> bytes:
    """The sheet as a PDF; with the templates at 1:1 after it, if asked for."""
    tiles = tiles_of(build, paper=paper) if templates else ()
    return typeset(
        list(sheet_blocks(build)), title=build.design.name, footer=_footer(build), paper=paper, tiles=tiles
    )


def template_sheet(build: Build, *, paper: str) -> bytes:
    """The templates alone."""
    title = f"{build.design.name}: templates"
    return typeset([], title=title, footer=_footer(build), paper=paper, tiles=tiles_of(build, paper=paper))


def sheet_blocks(build: Build) -> Iterator[Block]:
    """Everything on the sheet, page by page."""
    drawn = drawings(build)
    yield from _overview(build, drawn)
    yield new_page()
    yield from _cutting(build, drawn)
    yield from _buying(build)
    yield from _wiring(build, drawn)
    yield from standing_blocks(build, drawn)
    yield from _expecting(build, drawn)
    yield from _testing(build)
    yield from _tuning(build)
    yield from _packing(build)


def _footer(build: Build) -> str:
    return f"Ringwright, build sheet of {build.design.name}. Your licence and local codes decide."


def _overview(build: Build, drawn: dict[str, Sketch]) -> Iterator[Block]:
    design, measures, mechanics = build.design, build.measures, build.mechanics
    ring = design.ring
    yield heading(design.name, 1)
    bands = ", ".join(named(band) for band in build.prediction.bands)
    turns = (
        f", {ring.turns} turns {measures.length(ring.turn_spacing or 0.0)} apart" if ring.turns > 1 else ""
    )
    plane = (
        "horizontal"
        if ring.tilt > math.radians(89.0)
        else "vertical"
        if ring.tilt < 0.02
        else f"tilted {angle(ring.tilt)}"
    )
    yield paragraph(f"Build sheet for {bands}, {design.power:.4g} W.")
    for words in grave_notices(build.prediction):
        yield caution(words)
    yield caution(build_cautions(design, mechanics)[1 if ring.joints == 0 else 2])
    yield drawing(drawn["ring"])
    yield facts(
        [
            ("ring", f"{ring.shape.value}, {plane}, {measures.length(ring.perimeter)} round{turns}"),
            ("conductor", conductor_words(ring.conductor, measures)),
            ("coupling", _coupling_words(build)),
            (
                "capacitor",
                (
                    f"{design.capacitor.kind}, {_farads(design.capacitor.minimum)} to "
                    f"{_farads(design.capacitor.maximum)}"
                ),
            ),
            ("lowest point", f"{measures.distance(design.site.height)} above real earth"),
            (
                "weighs",
                f"{measures.mass(mechanics.mass.head)} above the mast, the ring {measures.mass(mechanics.mass.ring)}",
            ),
            *((band_name, words) for band_name, words in _headlines(build)),
        ]
    )


def _headlines(build: Build) -> Iterator[tuple[str, str]]:
    for band in build.prediction.bands:
        sky = figure_text("watts_pct.sky", band)
        swr = figure_text("match.swr_min", band)
        kilovolts = figure_text("tuning.capacitor_voltage_peak_v", band)
        reach = "" if band.tuning.reachable else ", NOT all of the band in reach"
        yield named(band), f"{sky} to the sky, best SWR {swr}, {kilovolts} peak at the gap{reach}"


def _farads(value: float) -> str:
    return f"{float(f'{value * 1e12:.3g}'):g} pF"


def _coupling_words(build: Build) -> str:
    coupling, measures = build.design.coupling, build.measures
    if coupling.core is not None:
        return f"transformer, {coupling.core.primary_turns} turns, the ring through it {coupling.core.passes} times"
    assert coupling.conductor is not None
    size = conductor_words(coupling.conductor, measures)
    if coupling.tap_at is not None:
        return (
            f"arm to a tap {measures.length(coupling.tap_at)} along the ring, "
            f"{measures.length(coupling.clearance)} beside it, {size}"
        )
    assert coupling.diameter is not None
    return f"loop of {measures.length(coupling.diameter)} diameter between axes, {size}"


def _cutting(build: Build, drawn: dict[str, Sketch]) -> Iterator[Block]:
    mechanics, measures, design = build.mechanics, build.measures, build.design
    yield heading("Cut and bend")
    yield caution(SAWING)
    yield drawing(drawn["exploded"])
    rows = [
        (chr(ord("A") + number), piece.name, str(piece.count), measures.length(piece.cut), measures.length(piece.axis),
         _ends(piece.angles), piece.note)
        for number, piece in enumerate(mechanics.cuts.pieces)
    ]  # fmt: skip
    rows += [
        (
            "",
            piece.name,
            str(piece.count),
            measures.length(piece.cut),
            measures.length(piece.axis),
            "square",
            piece.note,
        )
        for piece in mechanics.cuts.coupling
    ]
    head = ("", "piece", "count", "cut", "along the axis", "ends off square", "")
    yield table(head, rows, align="llrrrll", widths=(0, 0, 0, 0, 0, 0, 1))
    cuts = mechanics.cuts
    stock = "" if cuts.stock is None else f" from lengths of {measures.distance(cuts.stock)}"
    number = "" if cuts.lengths is None else f": {cuts.lengths} of them"
    too_long = (
        ""
        if cuts.stock is None or cuts.lengths is not None
        else ": a piece is longer than that, buy longer ones"
    )
    yield quiet(
        f"{measures.distance(cuts.needed)} of conductor with what the saw takes{stock}{number}{too_long}. The "
        "gap between "
        f"the ring's ends is {measures.length(cuts.gap)}."
    )
    if mechanics.bends:
        yield table(
            ("bend", "sharpest radius", "by hand from", "with a bender from", ""),
            [
                (bend.what, *map(measures.length, (bend.radius, bend.by_hand, bend.with_a_bender)), bend.verdict)
                for bend in mechanics.bends
            ],
            align="lrrrl",
            widths=(0, 0, 0, 0, 1),
        )  # fmt: skip
    if design.ring.joints:
        yield caution(SOLDERING)
    corner = [drawn[name] for name in drawn if name.startswith("corner")]
    others = [drawn[name] for name in ("turns", "coupling") if name in drawn]
    if design.ring.turns > 1:
        yield quiet(_turns_words(build))
    yield from _side_by_side([*corner, *others])


def _turns_words(build: Build) -> str:
    """How a ring of several turns gets from one to the next and to the gap."""
    ring, measures = build.design.ring, build.measures
    assert ring.turn_spacing is not None
    strip = (
        " Strip does not bend on its edge: it goes over as a long even slant, and is folded or joined at the leads."
        if ring.conductor.kind is ConductorKind.STRIP
        else ""
    )
    return (
        f"The turns rise evenly, {measures.length(ring.turn_spacing)} for each turn; both ends then go "
        f"{measures.length(ring.turn_lead)} outwards and towards each other to the gap. Spacers of the template "
        f"keep them apart.{strip}"
    )


def _side_by_side(sketches: Sequence[Sketch]) -> Iterator[Block]:
    for number in range(0, len(sketches) - 1, 2):
        yield pair(drawing(sketches[number]), drawing(sketches[number + 1]))
    if len(sketches) % 2:
        yield drawing(sketches[-1])


def _ends(angles: tuple[float, float]) -> str:
    if not any(angles):
        return "square"
    return (
        " and ".join(angle(each) if each else "square" for each in angles)
        if angles[0] != angles[1]
        else f"{angle(angles[0])}, both"
    )


def _buying(build: Build) -> Iterator[Block]:
    lines = build.lines
    yield heading("Buy")
    has_price = any(line.price for line in lines)
    head = ("count", "what", "each", "together") if has_price else ("count", "what")
    rows = [
        (str(line.count), line.name, *((_price(line.price), _price(line.cost)) if has_price else ()))
        for line in lines
    ]
    yield table(head, rows, align="rlrr" if has_price else "rl", widths=(0, 1, 0, 0) if has_price else (0, 1))
    if has_price:
        sums = " and ".join(f"{amount:.2f} {currency}" for currency, amount in totals(lines).items())
        unknown = sum(line.price is None for line in lines)
        rest = f"; {unknown} lines have no price" if unknown else ""
        yield paragraph(f"Together {sums}{rest}.")


def _price(price: Price | None) -> str:
    return "" if price is None else f"{price.amount:.2f} {price.currency}"


def _wiring(build: Build, drawn: dict[str, Sketch]) -> Iterator[Block]:
    clear, measures = build.mechanics.clearance, build.measures
    yield heading("Wire, and keep the kilovolts in")
    yield caution(BOX)
    yield drawing(drawn["box"])
    volts = BUILD_FIGURES["clearance.voltage_v"].text(clear.voltage)
    yield facts(
        [
            ("for", f"{volts} peak, the worst band at the unfavourable end of the tolerances"),
            ("through air", f"{measures.at_least(clear.air)} at least; round every edge and screw"),
            (
                "along a surface",
                (
                    f"{measures.at_least(clear.creepage_dry)} dry, "
                    f"{measures.at_least(clear.creepage_damp)} where damp comes"
                ),
            ),
            ("to the box", f"{measures.at_least(clear.wall)} from hot metal to every wall"),
        ]
    )


def _expecting(build: Build, drawn: dict[str, Sketch]) -> Iterator[Block]:
    yield heading("Expect")
    yield paragraph(
        "Sweeps to hold the measured ones against: at the coupling, before any cable, the capacitor tuned to "
        "each frequency."
    )
    yield from _side_by_side([sketch for name, sketch in drawn.items() if name.startswith("sweep-")])
    keys = (
        "frequency_hz", "tuning.capacitance_f", "tuning.at_travel", "match.swr_min", "bandwidth_swr2_hz", "q_unloaded",
        "efficiency_sky_pct", "tuning.step_hz",
    )  # fmt: skip
    yield table(
        ["band", *(FIGURES[key].label for key in keys)],
        [[named(band), *(figure_text(key, band) for key in keys)] for band in build.prediction.bands],
        align="l" + "r" * len(keys),
    )
    yield table(
        [
            "band",
            "drift per kelvin",
            "heat in the ring",
            "warms by",
            "a tenth of the width",
            "leaves it after",
        ],
        [list(row) for row in _warm(build)],
        align="lrrrrr",
        title="Warmth, transmitting without a pause",
    )
    yield quiet(
        f"Of the ring's metal in still air without sun, at {build.design.mode_factor:.3g} of the power, the average of "
        f"{build.design.mode or 'a steady carrier'}. The capacitor drifts by itself, either way."
    )


def _warm(build: Build) -> Iterator[tuple[str, ...]]:
    def text(key: str, value: float | None) -> str:
        return BUILD_FIGURES[f"warmth.{key}"].text(value)

    for band, warmth in zip(build.prediction.bands, build.mechanics.warmth, strict=True):
        yield (
            named(band),
            f"{figure_text('tuning.drift_per_kelvin_hz', band)}/K",
            text("heat_w", warmth.heat),
            text("final_rise_k", warmth.final_rise),
            text("drift_allowed_hz", warmth.drift_allowed),
            _after(warmth),
        )


def _after(warmth: Warmth) -> str:
    if warmth.drift_allowed is None:
        return "no width here"
    return "never" if warmth.time_to_drift is None else minutes(warmth.time_to_drift)


def _testing(build: Build) -> Iterator[Block]:
    yield heading("Test, in this order")
    yield caution(SHARP_STEP)
    for number, test in enumerate(order_of_tests(build.design, build.prediction, build.mechanics), start=1):
        title = heading(f"{number}. {test.title}", 3)
        yield kept([title, paragraph(test.how), checks(test.expect), quiet(f"Stop at: {test.stop}")])


def _tuning(build: Build) -> Iterator[Block]:
    yield heading("Tuning table to fill in")
    edges = [row for band in build.prediction.bands for row in _rows_of(band)]
    rows = [[name, text, "", "", "", ""] for name, text in edges] + [[""] * 6 for _ in range(BLANK_ROWS)]
    yield table(
        ("", "frequency", "position", "best SWR", "temperature", "date"),
        rows,
        align="lrllll",
        widths=(0, 0, 1, 1, 1, 1),
        blank=True,
    )


def _rows_of(band: BandPrediction) -> Iterator[tuple[str, str]]:
    target, figure = band.point.target, FIGURES["frequency_hz"]
    for frequency in dict.fromkeys((target.low, band.frequency, target.high)):
        yield named(band), figure.text(frequency)


def _packing(build: Build) -> Iterator[Block]:
    yield heading("Pack, when it travels")
    yield checks(pack_list(build.design, build.mechanics, build.measures))
    yield heading("Where it bites")
    for words in build_cautions(build.design, build.mechanics):
        yield caution(words)
