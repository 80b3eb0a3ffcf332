# SPDX-License-Identifier: BSD-3-Clause
"""`predict`: what people read and what programs read say the same."""

import json
import re
import xml.etree.ElementTree as ET

import pytest

from ringwright.antenna.design import Design
from ringwright.antenna.figures import FIGURES, to_json
from ringwright.antenna.figures.figure import cost_in_decibels, in_decibels
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.cli.words import design_in_words

NUMBER = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?:e-?\d+)?")


def strict_json(text):
    def refuse(name):
        raise AssertionError(f"{name} is not JSON")

    return json.loads(text, parse_constant=refuse)


def test_json_is_the_document_and_nothing_else(call, octagon):
    outcome = call("predict", octagon, "--json")
    assert outcome.code == 0
    assert strict_json(outcome.out) == to_json(predict(Design.load(octagon)))


def test_json_of_several_designs_is_an_array_in_the_order_asked_for(call, octagon, braid):
    documents = strict_json(call("predict", braid, octagon, "--json").out)
    assert [document["design"] for document in documents] == ["Rucksack braid", "Terrace octagon"]
    assert documents[1] == strict_json(call("predict", octagon, "--json").out)


def test_json_stays_in_si_and_warnings_go_to_standard_error(call, braid):
    outcome = call("predict", braid, "--json", "--imperial")
    assert strict_json(outcome.out) == strict_json(call("predict", braid, "--json").out)
    texts = [warning["text"] for warning in strict_json(outcome.out)["warnings"]]
    assert texts
    assert outcome.err.splitlines() == [f"ringwright: Rucksack braid: {text}" for text in texts]


def numbers_allowed(design, prediction):
    """Every number a builder may be shown: figures of the table, watts of the budget, decibels, the design itself."""
    texts = [design_in_words(design, is_imperial=False), "20 deg", "SWR 2", "below 2"]
    for band in prediction.bands:
        texts += [figure.text(figure.of(band)) for figure in FIGURES.values()]
        texts += [FIGURES[key].span(*ends) or "" for key, ends in band.range.items()]
        texts.append(in_decibels(band.watts_pct.sky))
        for key, figure in FIGURES.items():
            if key.startswith("watts_pct.") and figure.of(band) is not None:
                texts.append(FIGURES["limits.power_max_w"].text(design.power * figure.of(band) / 100.0))
                texts.append(cost_in_decibels(figure.of(band)) or "")
    texts += [notice.text for notice in prediction.warnings]
    texts.append(f"{len(prediction.defaults_used)} values")
    return {number for text in texts for number in NUMBER.findall(text)}


@pytest.mark.parametrize("which", ["octagon", "braid"])
def test_no_number_on_the_screen_is_outside_the_table_of_figures(which, call, request):
    path = request.getfixturevalue(which)
    design = Design.load(path)
    allowed = numbers_allowed(design, predict(design))
    for arguments in (["predict", path], ["predict", path, path]):
        shown = set(NUMBER.findall(re.sub(r"\d+m\b", "", call(*arguments).out)))
        assert shown <= allowed, shown - allowed


def test_the_answer_has_each_band_s_bar_and_the_builder_s_questions(call, octagon):
    lines = call("predict", octagon).out.splitlines()
    assert lines[0] == "Terrace octagon"
    for number, frequency in ((60, "5.35900"), (40, "7.10000"), (30, "10.1250")):
        start = lines.index(f"{number}m {frequency} MHz")
        assert lines[start + 1].startswith("  S█")
        assert len(lines[start + 1]) == 78
        end = lines.index("", start)
        words = [line.split()[0] for line in lines[start + 7 : end] if line.startswith("  ")]
        for question in ("reaches", "takes", "must", "meets", "rings", "drives", "sends"):
            assert question in words
    assert any("never touch" in line.lower() or "never" in line.lower() for line in lines)


def test_the_caution_stands_where_the_kilovolts_are(call, octagon):
    out = call("predict", octagon).out
    assert re.search(r"must stand +▲ \d\.\d\d kV \(\d\.\d-\d\.\d\) peak on the capacitor", out)
    assert re.search(r"▲ Up to \d\.\d\d kV peak across the capacitor at 25 W", out)
    assert "Limits and codes differ by country" in " ".join(out.split())


def test_what_is_out_of_reach_is_said_where_it_is_missed(call, braid):
    text = " ".join(call("predict", braid).out.split())
    assert "NOT all of this band" in text
    assert "10m is out of reach" in text


@pytest.mark.parametrize(("diameter", "remedy"), [("0.06 m", "larger"), ("0.6 m", "smaller")])
def test_a_coupling_loop_that_does_not_match_is_told_which_way(diameter, remedy, call, octagon):
    """The octagon's own 0.19 m, between the two, is below 2."""
    text = octagon.read_text(encoding="utf-8").replace('diameter = "0.19 m"', f'diameter = "{diameter}"')
    octagon.write_text(text, encoding="utf-8")
    out = " ".join(call("predict", octagon).out.split())
    assert f"never below 2: make the coupling loop {remedy}" in out


def test_two_frequencies_in_one_band_are_told_apart(call, octagon):
    text = octagon.read_text(encoding="utf-8")
    two = 'tune_to = [{ frequency = "7.05 MHz" }, { frequency = "7.15 MHz" }]'
    octagon.write_text(text.replace('bands = ["60m", "40m", "30m"]', two), encoding="utf-8")
    lines = call("predict", octagon, octagon).out.splitlines()
    heads = [line for line in lines if line.endswith("must stand")]
    assert [head.split()[0] for head in heads] == ["7.05000", "7.15000"]
    assert re.search(r"is +7\.05000 MHz \S+ pF · 7\.15000 MHz", call("predict", octagon, "--explain").out)


def test_a_cost_that_rounds_to_nothing_is_left_out(call, octagon):
    out = call("predict", octagon).out
    assert "alone costs" in out
    assert "costs 0.0 dB" not in out


def test_everything_fits_80_columns(call, octagon, braid):
    for arguments in ([octagon, "--explain"], [octagon, braid], [braid, "--imperial"]):
        assert max(map(len, call("predict", *arguments).out.splitlines())) <= 80


def test_several_designs_stand_under_one_another_band_by_band(call, octagon, braid):
    lines = call("predict", octagon, braid, octagon).out.splitlines()
    assert lines[0] == "A  Terrace octagon"
    heads = [line.split()[0] for line in lines if line.endswith("takes must stand")]
    assert heads == ["60m", "40m", "30m", "17m", "15m", "12m", "10m"]
    rows = [line for line in lines if re.match(r"  [ABC]  S", line)]
    assert [row[2] for row in rows] == list("ACACAC" + "BBBB")
    assert len({len(row) for row in rows}) == 1


def test_explain_says_of_every_figure_what_how_and_whence_and_lists_each_default(call, octagon):
    out = call("predict", octagon, "--explain").out
    flat = " ".join(out.split())
    for key, figure in FIGURES.items():
        assert f"({key})" in out
        for text in (figure.definition, figure.formula, figure.source, figure.validity):
            assert " ".join(text.split()) in flat, key
    prediction = predict(Design.load(octagon))
    assert prediction.defaults_used
    for default in prediction.defaults_used:
        assert " ".join(default.split()) in flat
    assert "capacitor.q = 3000" in flat
    assert "ring.perimeter = 4.4 m" in flat


def test_explain_marks_a_closed_form_beyond_its_limit(call, octagon):
    flat = " ".join(call("predict", octagon, "--explain").out.split())
    small_loop = flat[flat.index("radiation resistance, small loop") :]
    assert "BEYOND its limit of 0.05 wavelengths on 60m, 40m, 30m" in small_loop[:700]


def test_imperial_is_of_lengths_only(call, octagon):
    metric, imperial = call("predict", octagon).out, call("predict", octagon, "--imperial").out
    # 4.4 m and 22 mm by the international foot and inch of 1959.
    assert "4.4 m round, 22 mm tube" in metric
    assert "14.44 ft round, 0.8661 in tube" in imperial
    assert metric[metric.index("60m") :] == imperial[imperial.index("60m") :]


def test_a_ring_on_its_site_is_answered_too(call, tmp_path):
    path = tmp_path / "site.toml"
    path.write_text(shipped_text(TERRACE_OCTAGON), encoding="utf-8")
    out = call("predict", path).out
    assert "E earth" in out
    assert "M nearby metal" in out
    document = strict_json(call("predict", path, "--json").out)
    assert document["bands"][0]["watts_pct"]["earth"] > 1.0


def test_plot_writes_a_drawing_and_the_answer_stays(call, octagon, tmp_path):
    target = tmp_path / "curves.SVG"
    assert call("predict", octagon, "--plot", target).out == call("predict", octagon).out
    root = ET.fromstring(target.read_text(encoding="utf-8"))
    assert root.tag == "{http://www.w3.org/2000/svg}svg"


@pytest.mark.parametrize("place", ["absent/curves.svg", "folder.svg"])
def test_a_plot_that_cannot_be_written_is_one_sentence(place, call, octagon, tmp_path):
    (tmp_path / "folder.svg").mkdir()
    outcome = call("predict", octagon, "--plot", tmp_path / place)
    assert outcome.code == 2
    assert place in outcome.sentence


def test_a_frequency_outside_the_bands_has_no_band_name(call, octagon):
    text = octagon.read_text(encoding="utf-8")
    text = text.replace('bands = ["60m", "40m", "30m"]', 'tune_to = [{ frequency = "8.5 MHz" }]')
    octagon.write_text(text, encoding="utf-8")
    assert "\n8.50000 MHz\n" in call("predict", octagon).out
    assert strict_json(call("predict", octagon, "--json").out)["bands"][0]["band"] is None


def test_ranges_stand_beside_the_figures_and_what_leads_them_in_the_explanation(call, octagon):
    band = predict(Design.load(octagon)).bands[0]
    shown = call("predict", octagon, "--explain").out
    span = FIGURES["q_unloaded"].span(*band.range["q_unloaded"])
    assert f"Q {FIGURES['q_unloaded'].text(band.q_unloaded)} ({span})" in shown
    row = next(line for line in shown.splitlines() if line.startswith("  S sky"))
    assert FIGURES["watts_pct.sky"].span(*band.range["watts_pct.sky"]) in row
    assert all(len(line) <= 80 for line in call("predict", octagon).out.splitlines())
    explained = shown[shown.index("(q_unloaded)") :]
    assert f"{span} (tolerance.{band.range_led_by['q_unloaded']})" in explained[:300]
