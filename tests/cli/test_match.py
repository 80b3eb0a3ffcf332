# SPDX-License-Identifier: BSD-3-Clause
"""`match`: the answer in words, the document, the file written, progress and Ctrl-C, what is refused."""

import json
import re

import numpy as np
import pytest

from ringwright.antenna.design import Design
from ringwright.choose.figures import COUPLING_FIGURES
from ringwright.choose.match import find_coupling
from ringwright.choose.match_document import match_document
from ringwright.cli import matching
from ringwright.cli.progress import LongWait


def strict_json(text):
    def refuse(name):
        raise AssertionError(f"{name} is not JSON")

    return json.loads(text, parse_constant=refuse)


def test_json_is_the_document_of_the_same_design(call, octagon):
    outcome = call("match", octagon, "--json")
    assert outcome.code == 0
    assert strict_json(outcome.out) == json.loads(
        json.dumps(match_document(find_coupling(Design.load(octagon))) | {"calibration": None})
    )


def test_the_contracts_keys_are_there_and_finite(call, octagon):
    document = strict_json(call("match", octagon, "--json", "--vary", "squash").out)
    assert document["schema"] == "ringwright.match/1"
    best = document["best"]
    for key in ("diameter_m", "squash", "clearance_m", "swr_worst"):
        assert np.isfinite(best[key])
        assert best[key] > 0.0
    assert [set(each) >= {"frequency_hz", "swr_min"} for each in best["bands"]] == [True] * 3
    assert best["swr_worst"] == max(each["swr_min"] for each in best["bands"])
    curve = document["curve"]
    assert [point["diameter_m"] for point in curve] == sorted(point["diameter_m"] for point in curve)
    assert best["swr_worst"] <= document["now"]["swr_worst"]
    assert document["varied"] == ["diameter", "squash"]


def test_the_answer_says_what_the_document_says(call, octagon):
    document = strict_json(call("match", octagon, "--json").out)
    outcome = call("match", octagon)
    assert outcome.code == 0
    lines = outcome.out.splitlines()
    assert max(map(len, lines)) <= 80
    text = " ".join(outcome.out.split())
    best = document["best"]
    assert f"Bend {best['wire_m'] * 1e3:.4g} mm of conductor" in text
    assert f"a circle {best['diameter_m'] * 1e3:.4g} mm across" in text
    for band in best["bands"]:
        (row,) = (line for line in lines if line.split()[:1] == [band["band"]])
        shown = [float(number) for number in re.findall(r"\d\.\d\d", row)]
        columns = (document[key]["bands"] for key in ("best", "now", "one_fifth"))
        expected = [next(b["swr_min"] for b in column if b["band"] == band["band"]) for column in columns]
        assert shown[:3] == pytest.approx(expected, rel=0, abs=0.0051)  # shown to 0.01
    assert "one fifth" in text
    assert "common practice" in text
    for each in document["sensitivity"]:
        for key in ("swr_worst_less", "swr_worst_more"):
            assert f"{each[key]:.2f}" in text
    assert "never touch or adjust the ring while transmitting" in text
    assert "your local codes decide" in text


def test_an_oval_is_told_by_its_length_and_width(call, octagon):
    best = strict_json(call("match", octagon, "--vary", "squash", "--json").out)["best"]
    along, across = best["along_m"], best["across_m"]
    assert along / across == pytest.approx(best["squash"], rel=1e-9, abs=0)
    # Ramanujan's second approximation of an ellipse's perimeter (1914), good to 1e-4 up to three to one.
    a, b = along / 2, across / 2
    h = ((a - b) / (a + b)) ** 2
    perimeter = np.pi * (a + b) * (1 + 3 * h / (10 + np.sqrt(4 - 3 * h)))
    assert best["wire_m"] == pytest.approx(perimeter, rel=1e-4, abs=0)
    text = " ".join(call("match", octagon, "--vary", "squash").out.split())
    assert f"an oval {along * 1e3:.4g} mm along the ring's conductor and {across * 1e3:.4g} mm across" in text


def test_plus_and_minus_tell_which_way_a_band_misses(call, octagon):
    document = strict_json(call("match", octagon, "--json").out)
    out = call("match", octagon).out
    for band in document["one_fifth"]["bands"]:
        row = next(line for line in out.splitlines() if line.split()[:1] == [band["band"]])
        sign = "+" if band["is_over_coupled"] else "-"
        assert f"{band['swr_min']:.2f}{sign}" in row


def test_explain_tells_every_figure(call, octagon):
    text = " ".join(call("match", octagon, "--explain").out.split())
    for key, figure in COUPLING_FIGURES.items():
        assert f"({key})" in text
        assert figure.definition in text
        assert figure.source in text


def test_imperial_tells_inches(call, octagon):
    document = strict_json(call("match", octagon, "--json").out)
    text = " ".join(call("match", octagon, "--imperial").out.split())
    assert f"a circle {document['best']['diameter_m'] / 0.0254:.4g} in across" in text


def test_the_design_is_written_with_the_coupling_and_its_comments(call, octagon, tmp_path):
    before = octagon.read_text(encoding="utf-8")
    path = tmp_path / "matched.toml"
    document = strict_json(call("match", octagon, "--vary", "squash", "--json", "--write", path).out)
    assert octagon.read_text(encoding="utf-8") == before
    after = path.read_text(encoding="utf-8")
    assert re.findall("#.*", before) == re.findall("#.*", after)
    coupling = Design.load(path).coupling
    assert coupling.diameter == pytest.approx(document["best"]["diameter_m"], rel=0, abs=0.51e-4)  # to 0.1 mm
    assert coupling.squash == pytest.approx(document["best"]["squash"], rel=1e-3, abs=0)
    # The same loop again: found on the spot.
    again = strict_json(call("match", path, "--json").out)
    assert again["now"]["swr_worst"] == pytest.approx(document["best"]["swr_worst"], rel=5e-3, abs=0)


def test_a_loop_brought_to_the_centre_is_written_without_clearance(call, octagon, tmp_path):
    path = tmp_path / "matched.toml"
    text = octagon.read_text(encoding="utf-8").replace('at = "opposite gap"', 'at = "centre"')
    octagon.write_text(re.sub(r"clearance = .*\n", "", text), encoding="utf-8")
    assert call("match", octagon, "--vary", "at", "--write", path).code == 0
    Design.load(path)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--json", "--explain"], "exclude each other"),
        (["--vary", "colour"], "colour"),
        (["--write", "matched.txt"], "does not end in .toml"),
    ],
)
def test_what_is_asked_wrongly_gets_one_sentence(call, octagon, arguments, said):
    outcome = call("match", octagon, *arguments)
    assert outcome.code == 2
    assert said in outcome.sentence


def test_what_cannot_be_matched_gets_one_sentence_with_the_files_name(call, octagon, tmp_path):
    missing = call("match", tmp_path / "nowhere.toml")
    assert (missing.code, "no such file" in missing.sentence) == (2, True)
    folder = call("match", tmp_path)
    assert (folder.code, "is a folder" in folder.sentence) == (2, True)
    text = octagon.read_text(encoding="utf-8")
    octagon.write_text(text.replace("[ring]", "[rong]", 1), encoding="utf-8")
    assert call("match", octagon).code == 2
    octagon.write_text(text.replace('bands = ["60m", "40m", "30m"]', 'bands = ["6m"]'), encoding="utf-8")
    past = call("match", octagon)
    assert past.code == 2
    assert str(octagon) in past.sentence
    assert "past its own resonance" in past.sentence


def test_a_squash_is_not_varied_where_there_is_none(call, octagon):
    text = octagon.read_text(encoding="utf-8").replace('at = "opposite gap"', 'at = "centre"')
    octagon.write_text(re.sub(r"clearance = .*\n", "", text), encoding="utf-8")
    outcome = call("match", octagon, "--vary", "clearance")
    assert outcome.code == 2
    assert "coupling.clearance follows" in outcome.sentence


def test_a_file_that_cannot_be_written_is_bad_input(call, octagon, tmp_path):
    outcome = call("match", octagon, "--write", tmp_path / "nowhere" / "x.toml")
    assert (outcome.code, outcome.out) == (2, "")
    assert "cannot be written" in outcome.err


def test_ctrl_c_tells_the_best_so_far_and_ends_with_130(call, octagon, monkeypatch):
    def interrupted(design, *, vary, progress):
        def progress_until(tried, best):
            progress(tried, best)
            if tried == 5:
                raise KeyboardInterrupt

        return find_coupling(design, vary=vary, progress=progress_until)

    monkeypatch.setattr(matching, "find_coupling", interrupted)
    outcome = call("match", octagon)
    assert outcome.code == 130
    assert outcome.out == ""
    assert re.fullmatch(
        r"ringwright: stopped; best so far \d+ mm across, SWR \d+\.\d\d on the worst band\n", outcome.err
    )


def test_long_work_says_a_word_every_two_seconds_and_none_before(capsys):
    now = 0.0
    wait = LongWait(clock=lambda: now)
    for now in (0.5, 1.9, 2.0, 2.5, 3.9, 4.1):
        wait.tell(f"at {now}")
    out, err = capsys.readouterr()
    assert out == ""
    assert err.splitlines() == ["ringwright: at 2.0", "ringwright: at 4.1"]


@pytest.mark.parametrize(("diameter", "is_told"), [("0.19 m", False), ("0.3 m", True)])
def test_predict_points_to_match_where_a_band_misses(call, octagon, diameter, is_told):
    text = octagon.read_text(encoding="utf-8")
    octagon.write_text(text.replace('diameter = "0.19 m"', f'diameter = "{diameter}"'), encoding="utf-8")
    document = strict_json(call("predict", octagon, "--json").out)
    worst = max(document["bands"], key=lambda band: band["match"]["swr_min"])
    assert (worst["match"]["swr_min"] > 1.5) is is_told
    told = f"ringwright match finds one coupling for all bands; {worst['band']} misses most."
    assert (told in " ".join(call("predict", octagon).out.split())) is is_told


def test_help_has_an_example(call):
    out = call("match", "--help").out
    assert "ringwright match designs/first-ring.toml" in out
