# SPDX-License-Identifier: BSD-3-Clause
"""What a notebook shows, and the page that says how; its blocks run here in their order."""

import re
from html.parser import HTMLParser
from pathlib import Path
from typing import cast

import matplotlib as mpl
import numpy as np
import pytest

from ringwright.air.comparison import Comparison
from ringwright.air.estimate import Middle
from ringwright.antenna.design import PersonKind
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from ringwright.choose.match import CouplingMatch
from ringwright.choose.rings.brief_file import parse_brief
from ringwright.choose.rings.candidate import Candidate, CandidateBand
from ringwright.choose.rings.found import Found
from ringwright.choose.rings.misses import Refused
from ringwright.choose.trials import BandMatch, Trial
from ringwright.proof.comparison import prove_sweep
from ringwright.proof.diagnosis import Diagnosis, Suspect
from ringwright.proof.estimate import Estimate
from ringwright.proof.evidence import Evidence
from ringwright.proof.files import parse_sweep
from ringwright.proof.next_measurement import NextMeasurement
from ringwright.proof.proving import Proof
from ringwright.proof.suspects import Cause
from ringwright.safety.cautions import CAUTIONS
from ringwright.safety.keepout import BandKeepOut, LimitRow, PersonRow
from ringwright.safety.limits import LIMITS

DOCS = Path(__file__).parents[1] / "docs"
EVIL = '<script>alert(1)</script> & "co"'


class Reader(HTMLParser):
    """All text, all tags, and whether they close in order."""

    def __init__(self, html):
        super().__init__()
        self.open: list[str] = []
        self.tags: list[str] = []
        self.words: list[str] = []
        self.values: list[str | None] = []
        self.feed(html)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.open.append(tag)
        self.tags.append(tag)
        self.values += [value for _, value in attrs]

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)

    @property
    def text(self):
        return " | ".join(self.words)


@pytest.fixture(scope="module")
def octagon():
    design = shipped_design(TERRACE_OCTAGON)
    return design, predict(design)


def shown(thing):
    """A thing as a notebook has it: no scripts, nothing fetched, no paper or ink of its own but in the bars."""
    html = thing._repr_html_()
    reader = Reader(html)
    assert not {"script", "img", "link", "iframe", "style"} & set(reader.tags)
    assert not re.search(r"https?:|url\(|@import|\bon\w+=", html)
    assert not re.search(r"<(?:p|td|th|table|div)[^>]*(?<!-)color:", html)
    return reader


def keep_out_row():
    limit = LIMITS[0]
    row = LimitRow(
        limit=limit, level=(87.0, 0.23), distance_axis=1.2, distance_plane=1.3, distance_above=1.1, distance_below=0.9,
        distance_max=1.4, distance_advised=1.5, governed_by="h", farthest_at=(0.0, 1.4, 2.0), far_field_formula=0.2,
    )  # fmt: skip
    person = PersonRow(
        name=EVIL, kind=PersonKind.PUBLIC, limit=limit, margin_db=-3.0, margin_unfavourable_db=-3.5, passes=False,
        power_allowed=12.0, power_allowed_unfavourable=11.15,
    )  # fmt: skip
    return BandKeepOut(
        band="40m",
        frequency=7.1e6,
        average_power=2.5,
        unfavourable_factor=1.1,
        by_limit=(row,),
        people=(person,),
    )


def test_keep_out_distances_stand_with_every_caution_and_who_is_too_near():
    reader = shown(keep_out_row())
    for caution in CAUTIONS:
        assert caution in reader.text
    assert EVIL in reader.words
    cells = [
        words for words in reader.words if words in {"1.50 m", "-3.5 dB", "no", "11.2 W", "magnetic field"}
    ]
    assert cells == ["1.50 m", "magnetic field", "-3.5 dB", "no", "11.2 W"]


def test_a_match_tells_sizes_and_swr_before_and_after(octagon):
    design, _ = octagon

    def trial(*swr):
        bands = [
            BandMatch(target=target, swr_min=each, capacitance=132e-12, is_over_coupled=each > 1.3)
            for target, each in zip(design.targets, swr, strict=True)
        ]
        return Trial(coupling=design.coupling, bands=tuple(bands))

    best, now = trial(1.05, 1.2, 1.1), trial(1.9, 1.4, 2.5)
    found = CouplingMatch(
        design=design, varied=("diameter",), best=best, now=now, rule=None, own_best=(best,) * 3, curve=(now, best),
        sensitivity=(), at_limit=(), tried=9,
    )  # fmt: skip
    text = shown(found).text
    assert "loop's diameter 190 mm, now 190 mm; worst SWR 1.20, now 2.50" in text
    assert "40m | 1.40 | 1.20 | less than a match | 132.0 pF" in text
    assert "Kilovolts" in text


def test_a_search_tells_its_front_and_why_not_the_others():
    (brief,) = re.findall(
        r"^```toml\n(.*?)^```", (DOCS / "how-to" / "choose.md").read_text("utf-8"), re.MULTILINE | re.DOTALL
    )
    band = CandidateBand(
        band="40m", frequency=7.1e6, sky=0.098, swr_min=1.2, capacitance=132e-12, bandwidth=7.2e3, voltage_peak=2.8e3,
        voltage_margin_db=4.96, people_margin_db=20.0,
    )  # fmt: skip
    ring = Candidate(place=(0, 0, 0, 0), diameter=1.4, coupling=0.19, mass=3.24, cost=None, bands=(band,))
    refused = Refused(key="room", reason="too wide", count=7, screened=7, relax="10 cm more", needs=0.1)
    found = Found(
        brief=parse_brief(brief, source="brief.toml"), considered=8, solved=1, solutions=1, kept=0, verified=1,
        passing=1, front=(ring,), refused=(refused,),
    )  # fmt: skip
    text = shown(found).text
    assert "1 ring worth building" in text
    assert "1.4 m | 3.2 kg | not known | 0.19 m | 40m 9.8 % | 40m 1.20 | 5.0 dB" in text
    assert "7: too wide: 10 cm more" in text


def test_a_proof_shows_the_watts_as_predicted_and_as_found(octagon):
    design, prediction = octagon
    band = prediction.bands[1]
    frequency = np.linspace(band.frequency - 15e3, band.frequency + 15e3, 61)
    reflection = band.point.tuned.reflection(frequency)
    rows = "".join(f"{f:.1f} {s.real:.6f} {s.imag:.6f}\n" for f, s in zip(frequency, reflection, strict=True))
    sweep = parse_sweep(f"# Hz S RI R 50\n{rows}".encode(), source="40m.s1p")
    comparison = prove_sweep(design, prediction, sweep)
    suspect = Suspect(
        cause=Cause.JOINTS, probability=0.75, resistance=Estimate.exact(0.01), at_frequency=7.1e6,
        gain_db=Estimate.exact(1.0), gain_frequency=7.1e6, gains_db=(1.0,), size=None,
    )  # fmt: skip
    again = NextMeasurement(
        do="Sweep again.", separates=(Cause.JOINTS, Cause.METAL), expected_information_bits=0.4
    )
    proof = Proof(
        design=design, prediction=prediction, sweeps=(sweep,), comparisons=(comparison,),
        diagnosis=Diagnosis(suspects=(suspect,), evidence=cast("Evidence", None)),  # nothing here reads it
        next_measurements=(again,),
    )  # fmt: skip
    reader = shown(proof)
    assert reader.text.count("S | ") == 2  # a bar of each
    assert "joints | 75.0 %" in reader.text
    assert "Next: Sweep again. 0.40 bits expected." in reader.text
    assert "transmitter off and cable apart" in reader.text
    bars = [value for value in reader.values if value and value.startswith("sky ") and ";" in value]
    assert bars[0].startswith(f"sky {band.watts_pct.sky:.2f} %")


def test_a_comparison_on_the_air_draws_its_interval_about_its_value():
    middle = Middle(
        value=3.04, low=2.71, high=3.36, error=0.17, spread=2.1, degrees=30.0, receivers=4.0, stretches=12.0,
        of_receivers=0.4, of_times=0.6,
    )  # fmt: skip
    found = Comparison(
        first="ring", second=EVIL, difference=3.04, found=middle, pairs=240, receivers=4, left_out=3, heard_me=True,
        within=1200.0,
    )  # fmt: skip
    reader = shown(found)
    assert "svg" in reader.tags
    assert "+3.0 dB, +2.7 to +3.4 dB" in reader.values
    assert "-6 | -4 | -2 | 0 | +2 | +4 | +6" in reader.text
    assert "3 pairs lay at the receivers' floor" in reader.text
    assert "Kilovolts" not in reader.text  # nothing here leads to a ring
    assert f"ring against {EVIL}" in reader.words


def test_the_page_runs_from_its_first_block_to_its_last(tmp_path, monkeypatch, capsys):
    mpl.use("agg")
    monkeypatch.chdir(tmp_path)
    page = (DOCS / "how-to" / "notebook.md").read_text(encoding="utf-8")
    names: dict[str, object] = {}
    for block in re.findall(r"^```python\n(.*?)^```", page, re.MULTILINE | re.DOTALL):
        exec(block, names)
    printed = capsys.readouterr().out
    for block in re.findall(r"^```text\n(.*?)^```", page, re.MULTILINE | re.DOTALL):
        assert block in printed
    assert (tmp_path / "swr.png").stat().st_size > 5000
    assert (tmp_path / "ring.s1p").exists()
