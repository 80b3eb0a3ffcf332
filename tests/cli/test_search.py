# SPDX-License-Identifier: BSD-3-Clause
"""`search`: the document, the answer in words, the designs written, what is refused, and the exit codes."""

import json
import math
import re

import pytest

from ringwright.antenna.design_file import load_design
from ringwright.cli import searching
from ringwright.cli.progress import LongWait
from tests.choose.rings.briefs import SMALL

FEW = SMALL.replace('"20m", "17m"', '"20m"').replace(', { diameter = "12 mm" }', "")


@pytest.fixture(autouse=True)
def cache(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


@pytest.fixture
def brief(tmp_path):
    path = tmp_path / "brief.toml"
    path.write_text(FEW)
    return path


def test_the_contracts_document_and_the_answer_in_words(call, brief, tmp_path):
    outcome = call("search", brief, "--json", "--workers", "1", "--write", tmp_path / "found")
    assert outcome.code == 0
    document = json.loads(outcome.out, parse_constant=pytest.fail)
    assert document["schema"] == "ringwright.search/1"
    assert document["considered"] == 4
    assert document["considered"] == document["solved"] + document["screened"]
    assert all(set(each) >= {"reason", "count", "relax"} for each in document["refused"])
    first = document["front"][0]
    assert set(first) >= {"design_toml", "score", "sky_db", "diameter_m", "mass_kg", "cost", "bands"}
    (band,) = first["bands"]
    assert set(band) >= {"frequency_hz", "efficiency_sky_pct", "swr_min"}
    assert first["sky_db"] == pytest.approx(10.0 * math.log10(band["efficiency_sky_pct"] / 100.0), rel=1e-12)
    assert first["diameter_m"] in (
        pytest.approx(2.0 / math.pi, rel=1e-3),
        pytest.approx(3.0 / math.pi, rel=1e-3),
    )
    written = sorted((tmp_path / "found").iterdir())
    assert [path.read_text() for path in written] == [each["design_toml"] for each in document["front"]]
    assert load_design(written[0]).coupling.diameter == first["coupling_diameter_m"]

    assert call("search", brief, "--workers", "1", "--write", tmp_path / "found").code == 0  # the same again
    written[0].write_text("# mine\n" + written[0].read_text())
    again = call("search", brief, "--workers", "1", "--write", tmp_path / "found")
    assert again.code == 2
    assert "is there already and is another design" in again.err
    assert written[0].read_text().startswith("# mine")

    words = call("search", brief, "--workers", "1")
    text = " ".join(words.out.split())
    assert words.code == 0
    assert "4 considered" in text
    assert f"known from before; {document['passing']} pass" in text
    assert f"score {first['score']:.2f}" in text
    assert "never touch" in text
    assert max(map(len, words.out.splitlines())) <= 80


def test_an_impossible_brief_ends_with_1_and_says_what_to_relax(call, brief):
    brief.write_text(FEW.replace("[weights]", '[room]\nheight = "0.3 m"\n[weights]'))
    outcome = call("search", brief, "--json", "--workers", "1", "--afresh")
    document = json.loads(outcome.out)
    assert (outcome.code, document["front"]) == (1, [])
    assert document["nearest"]["relax"][0]["key"] == "room.height"
    assert "make room.height at least" in outcome.err
    assert "No ring passes; nearest comes Circle of 2 m" in " ".join(
        call("search", brief, "--workers", "1").out.split()
    )


def test_a_brief_in_feet_and_inches_is_answered_in_them(call, brief):
    feet = FEW.replace('["2 m", "3 m", 2]', '["7 ft", "10 ft", 2]')
    brief.write_text(feet.replace("[weights]", '[room]\nheight = "12 in"\n[weights]'))
    text = " ".join(call("search", brief, "--workers", "1").out.split())
    assert "No ring passes; nearest comes Circle of 7 ft, tube 22 x 1 mm" in text
    # 7 ft over pi is 26.74 in across, and 22 mm of tube: a closed form.
    ((least, now),) = re.findall(
        r"nearest .* make room.height at least ([\d.]+) in \(now ([\d.]+) in\)\.", text
    )
    assert float(least) == pytest.approx(12.0 * 7.0 / math.pi + 22.0 / 25.4, rel=1e-3)
    assert now == "12"
    brief.write_text(feet)
    found, metric = (
        " ".join(call("search", brief, "--workers", "1", *more).out.split())
        for more in ((), ("--units", "metric"))
    )
    assert re.search(r"1\. Circle of \d+ ft, .* (ft|in) across, [\d.]+ lb; coupling loop [\d.]+ in", found)
    assert re.search(r"1\. Circle of \d+ ft, .* mm across, [\d.]+ kg; coupling loop [\d.]+ mm", metric)


def test_own_parts_lie_beside_the_brief_or_are_named(call, brief, tmp_path):
    brief.with_name("parts.toml").write_text("format = 1\n[[conductors]]\ndiametre = '22 mm'\n")
    outcome = call("search", brief)
    assert outcome.code == 2
    assert "parts.toml: conductors[1].diametre is not a known key; did you mean diameter?" in outcome.err
    other = tmp_path / "other.toml"
    other.write_text("format = 2")
    assert "other.toml: format: 2" in call("search", brief, "--parts", other).err


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (("missing.toml",), 2, "there is no such file"),
        ((".",), 2, "is a folder; name a brief file (.toml)"),
        (("{brief}", "--workers", "0"), 2, "workers"),
        (("{brief}", "--workers", "2", "--scheduler", "tcp://h:1"), 2, "exclude each other"),
        (("{brief}", "--afresh", "--workspace", "x"), 2, "--afresh keeps nothing"),
        (("{brief}", "--scheduler", "nowhere"), 3, 'no scheduler answers at "nowhere"'),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(call, brief, arguments, code, said):
    outcome = call("search", *(str(each).replace("{brief}", str(brief)) for each in arguments))
    assert (outcome.code, outcome.out) == (code, "")
    assert said in outcome.err
    assert len(outcome.err.strip().splitlines()) == 1


def test_ctrl_c_keeps_what_is_solved(call, brief, monkeypatch):
    def interrupted(*_, **__):
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(LongWait, "tell", interrupted)
        outcome = call("search", brief, "--workers", "1")
    assert outcome.code == 130
    assert "stopped; circle: solution 1 of" in outcome.err
    assert "ask again to go on" in outcome.err
    again = call("search", brief, "--workers", "1", "--json")
    assert again.code == searching.DONE
    assert json.loads(again.out)["solutions_kept"] == 1
