# SPDX-License-Identifier: BSD-3-Clause
"""The sheet: the same bytes each time, predict's own figures, nobody's text as markup, every page as it should be."""

import re
import subprocess
from dataclasses import replace

import pytest

from ringwright.antenna.building import Bought, Price, Stand, StandKind
from ringwright.antenna.figures import FIGURES
from ringwright.safety.mechanics import find_mechanics
from ringwright.sheet.build_sheet import build_sheet, sheet_blocks, template_sheet
from ringwright.sheet.templates import tiles_of
from ringwright.sheet.typeset import PAPERS
from tests.sheet.conftest import CIRCLE, built, read

HOSTILE = '#read("secret") *bold* $x$ \\ <svg> & 漢 @label // Łódź'


def strings(value):
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, each in value.items():
            if key not in ("kind", "align"):
                yield from strings(each)
    elif isinstance(value, list | tuple):
        for each in value:
            yield from strings(each)


def words_of(build):
    return " | ".join(text for text in strings(list(sheet_blocks(build))) if not text.startswith("<svg"))


def text_of(pdf, path):
    path.write_bytes(pdf)
    done = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, check=True)
    return done.stdout.decode()


def test_same_build_same_bytes(octagon):
    first = build_sheet(octagon, paper="a4", templates=True)
    assert first == build_sheet(octagon, paper="a4", templates=True)
    assert first.startswith(b"%PDF-")
    assert b"CreationDate" not in first
    assert first != build_sheet(octagon, paper="letter", templates=True)
    assert first != build_sheet(octagon, paper="a4", templates=False)


PREDICTED = (
    "frequency_hz", "tuning.capacitance_f", "tuning.at_travel", "match.swr_min", "bandwidth_swr2_hz", "q_unloaded",
    "efficiency_sky_pct", "tuning.step_hz", "watts_pct.sky", "tuning.capacitor_voltage_peak_v",
    "tuning.capacitor_current_rms_a", "limits.power_max_w", "limits.set_by", "tuning.drift_per_kelvin_hz",
    "match.frequency_hz",
)  # fmt: skip


def test_figures_are_predicts_own(octagon):
    (band,) = octagon.prediction.bands
    words = words_of(octagon)
    for key in PREDICTED:
        figure = FIGURES[key]
        assert figure.text(figure.of(band)) in words, key
    worst = FIGURES["capacitor.must_stand_peak_v"]
    assert f"Up to {worst.text(worst.of(band))} peak" in words


def test_a_capacitor_that_takes_less_than_the_power_is_told_on_the_first_page_and_before_the_last_test():
    build = built(read(CIRCLE.replace('"4 kV"', '"2 kV"')))
    (band,) = build.prediction.bands
    most = band.limits.power_max
    assert most is not None
    assert most < build.design.power
    words = words_of(build)
    first_page = words[: words.index("Cut and bend")]
    assert f"100 W is more than the {most:.3g} W that the capacitor voltage allows" in first_page
    (told,) = (float(number) for number in re.findall(r"Full power: 40m ([\d.]+) W", words))
    assert most - 0.1 <= told <= most


def test_every_number_of_the_mechanics_is_said(octagon):
    light = replace(octagon.design, stand=Stand())
    light = replace(octagon, design=light, mechanics=find_mechanics(light, octagon.prediction))
    words, found, say = words_of(light), light.mechanics, octagon.measures
    assert "75.0 kg of it ballast" in words_of(octagon)
    for text in (
        *(say.length(piece.cut) for piece in (*found.cuts.pieces, *found.cuts.coupling)),
        say.mass(found.mass.head),
        say.mass(found.mass.ring),
        say.force(found.wind.face_on),
        say.moment(found.wind.moment),
        say.speed(found.standing.tips_at),
        say.speed(found.standing.slides_at),
        say.mass(found.standing.ballast_needed),
        say.fine(found.clearance.air),
        say.fine(found.clearance.creepage_damp),
        say.length(found.sag.by_weight),
    ):
        assert text in words


def test_a_design_that_states_less_is_told_so(circle):
    words = words_of(circle)
    assert "The design has no [stand]" in words
    assert 'write kind = "fixed" below [stand]' in words
    assert "together" not in words
    assert "stepper" not in words


def test_prices_are_added_up_by_currency(circle):
    parts = (
        Bought(name="mine", price=Price(amount=120.0, currency="EUR"), replaces="capacitor"),
        Bought(name="ties", count=30, price=Price(amount=0.1, currency="EUR")),
        Bought(name="cable", price=Price(amount=9.0, currency="USD")),
    )
    words = words_of(replace(circle, design=replace(circle.design, parts=parts)))
    assert "Together 123.00 EUR and 9.00 USD" in words
    assert "3.00 EUR" in words


def test_a_fixed_mast_gets_its_load_and_no_ballast(circle):
    design = replace(circle.design, stand=Stand(kind=StandKind.FIXED))
    words = words_of(built(design))
    assert "must take that force and that moment" in words
    assert "tips over" not in words
    assert "The design has no [stand]" not in words


def test_imperial_throughout(circle):
    words = words_of(replace(circle, measures=type(circle.measures)(is_imperial=True)))
    assert not re.search(r"\d (mm|m|kg|N|MPa)\b", words)


def test_cautions_stand_where_the_danger_is(octagon):
    blocks = list(sheet_blocks(octagon))
    kinds = [(block["kind"], block.get("text", "")) for block in blocks]
    for title, first_word in (
        ("Cut and bend", "Sawn"),
        ("Wire, and keep the kilovolts in", "A box wall"),
        ("Stand it up", "A ring that falls"),
        ("Test, in this order", "The transmitter stays off"),
    ):
        number = kinds.index(("heading", title))
        assert kinds[number + 1][0] == "caution"
        assert kinds[number + 1][1].startswith(first_word)
    assert kinds[-1][1].startswith("Limits and codes differ")


@pytest.mark.needs("pdftotext")
def test_nobodys_text_is_read_as_markup_and_no_glyph_is_missing(circle, tmp_path):
    build = replace(circle, design=replace(circle.design, name=HOSTILE, parts=(Bought(name=HOSTILE),)))
    text = text_of(build_sheet(build, paper="a4", templates=True), tmp_path / "a.pdf")
    said = " ".join(text.split())
    assert '#read("secret") *bold* $x$ \\ <svg> & [cjk unified ideograph-6f22] @label // Łódź' in said
    assert "\ufffd" not in text
    assert "[" not in said.replace("[cjk unified ideograph-6f22]", "").replace("[stand]", "")


@pytest.mark.needs("pdftotext")
def test_all_words_of_the_blocks_are_printed(octagon, tmp_path):
    printed = re.sub(
        r"\s", "", text_of(build_sheet(octagon, paper="a4", templates=False), tmp_path / "a.pdf")
    )
    for block in sheet_blocks(octagon):
        if block["kind"] in ("heading", "table", "facts", "checks", "kept"):
            for text in strings(block):
                for word in text.split():
                    assert word in printed, word


@pytest.mark.needs("pdfinfo")
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pages_have_their_papers_size(circle, tmp_path, paper):
    path = tmp_path / "a.pdf"
    path.write_bytes(template_sheet(circle, paper=paper))
    said = subprocess.run(
        ["pdfinfo", "-f", "1", "-l", "99", path], capture_output=True, check=True
    ).stdout.decode()
    sizes = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+) pts", said)
    _, width, height = PAPERS[paper]
    # ISO 216 A4 is 210 mm x 297 mm; ANSI A Letter 8.5 in x 11 in.
    for size in sizes:
        assert list(map(float, size)) == pytest.approx([width / 25.4 * 72.0, height / 25.4 * 72.0], abs=0.02)
    assert len(sizes) == len(tiles_of(circle, paper=paper))


FREE = (
    'shape = "polygon"\npoints = [["-0.5 m", "0 m"], ["0 m", "0.8 m"], ["0.6 m", "0.5 m"], ["0.4 m", "0 m"]]'
)
ODD = {
    "two turns": ('perimeter = "3.2 m"', 'perimeter = "1.6 m"\nturns = 2\nturn_spacing = "60 mm"'),
    "horizontal": ('perimeter = "3.2 m"', 'perimeter = "3.2 m"\nplane = "horizontal"'),
    "gap aside": ('perimeter = "3.2 m"', 'perimeter = "3.2 m"\ngap_at = "90 deg"'),
    "oval": ('perimeter = "3.2 m"', 'shape = "oval"\naspect = 1.5\nperimeter = "3.2 m"'),
    "free polygon": ('perimeter = "3.2 m"', FREE),
    "strip": ('diameter = "15 mm"\nwall = "1 mm"', 'kind = "strip"\nwidth = "25 mm"\nthickness = "1 mm"'),
    "braid": ('diameter = "15 mm"\nwall = "1 mm"', 'kind = "braid"\ndiameter = "9 mm"'),
    "transformer": ('diameter = "200 mm"\n[coupling.conductor]\ndiameter = "6 mm"',
                    'kind = "transformer"\nturns = 12\ninductance_factor = "100 nH"\ncore_q = 50'),
    "tapped": ('diameter = "200 mm"\n[coupling.conductor]', 'kind = "tapped"\ntap_at = "300 mm"\n[coupling.conductor]'),
}  # fmt: skip


@pytest.mark.parametrize("odd", ODD)
def test_odd_cases_are_printed(odd):
    build = built(read(CIRCLE.replace(*ODD[odd])), is_imperial=odd == "oval")
    pdf = build_sheet(build, paper="letter", templates=True)
    assert pdf.startswith(b"%PDF-")
    assert not re.search(r"\bnan\b", " ".join(strings(list(sheet_blocks(build)))), re.IGNORECASE)
