# SPDX-License-Identifier: BSD-3-Clause
"""Charts: right places, closed files, nothing that is not escaped."""

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.charts import plot_page, trace
from ringwright.antenna.charts.reflection_chart import at
from ringwright.antenna.charts.svg import ticks
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_text

skrf = pytest.importorskip("skrf")
SVG = "{http://www.w3.org/2000/svg}"


def in_free_space(name, **changes):
    text = shipped_text(name)
    text = text[: text.index("[site]")] + '[site]\nearth = "free space"\n'
    for before, after in changes.items():
        text = text.replace(f'"{before}"', f'"{after}"')
    return predict(parse_design(text, source=name))


@pytest.fixture(scope="module")
def octagon():
    return in_free_space(TERRACE_OCTAGON)


@pytest.fixture(scope="module")
def braid():
    return in_free_space(RUCKSACK_BRAID)


def test_a_trace_is_what_scikit_rf_makes_of_the_two_port_and_the_capacitor(octagon):
    for band in octagon.bands:
        drawn = trace(band, label="", number=0)
        frequency = band.frequency + drawn.offset
        tuned = band.point.tuned
        two_port = skrf.Network(f=frequency, f_unit="Hz", z=tuned.network.impedance(frequency), z0=50.0)
        z = tuned.capacitor_impedance(frequency)
        capacitor = skrf.Network(
            f=frequency, f_unit="Hz", s=((z - 50.0) / (z + 50.0))[:, None, None], z0=50.0
        )
        closed = two_port**capacitor
        # The resonance multiplies the rounding of reflections that differ from 1 by 1e-4.
        assert np.abs(closed.s[:, 0, 0] - drawn.reflection).max() < 1e-6
        assert drawn.swr == pytest.approx(closed.s_vswr[:, 0, 0], rel=1e-5, abs=0)


def test_a_trace_shows_the_whole_dip(octagon, braid):
    for band in (*octagon.bands, *braid.bands):
        drawn = trace(band, label="", number=0)
        assert drawn.swr.min() == pytest.approx(band.match.swr_min, rel=2e-3, abs=0)
        assert min(drawn.swr[0], drawn.swr[-1]) > 5.0


@given(st.floats(0.0, 50.0), st.floats(-50.0, 50.0))
def test_every_impedance_lies_on_its_two_circles(r, x):
    # Constant r: centre r/(1 + r), radius 1/(1 + r); constant x: centre 1 + j/x, radius 1/|x| (Pozar 2012, sec. 2.4).
    z = complex(r, x)
    place = complex(*at((z - 1) / (z + 1)))
    on_r = complex(*at(r / (1 + r)))
    assert abs(place - on_r) == pytest.approx(100.0 / (1 + r), rel=1e-9, abs=0)
    if abs(x) > 1e-3:
        on_x = complex(*at(1 + 1j / x))
        assert abs(place - on_x) == pytest.approx(100.0 / abs(x), rel=1e-6, abs=0)


def test_inductive_is_above_and_short_circuit_left():
    assert at(1j)[1] < at(-1j)[1]
    assert at(-1.0)[0] < at(1.0)[0]


def texts(root):
    return [node.text for node in root.iter(f"{SVG}text")]


def test_a_page_has_both_charts_of_every_band(octagon):
    root = ET.fromstring(plot_page([octagon]))
    assert len(list(root.iter(f"{SVG}clipPath"))) == 3
    assert len(list(root.iter(f"{SVG}polyline"))) == 6
    shown = texts(root)
    assert shown[0] == "Terrace octagon"
    for band in octagon.bands:
        assert f"{band.band}, {FIGURES['frequency_hz'].text(band.frequency)}" in shown
        best = FIGURES["match.swr_min"].text(band.match.swr_min)
        width = FIGURES["bandwidth_swr2_hz"].text(band.bandwidth_swr2)
        assert f"best {best}, below 2 for {width}" in shown


def test_designs_share_the_chart_of_a_band_and_have_strokes_of_their_own(octagon, braid):
    other = in_free_space(TERRACE_OCTAGON, **{"22 mm": "15 mm"})
    root = ET.fromstring(plot_page([octagon, other, braid]))
    lines = list(root.iter(f"{SVG}polyline"))
    assert len(lines) == 2 * (3 * 2 + 4)
    looks = {(line.get("stroke"), line.get("stroke-dasharray")) for line in lines}
    assert len(looks) == 3
    assert len({dash for _, dash in looks}) == 3  # told apart without colour


def test_nothing_leaves_the_page(octagon, braid):
    root = ET.fromstring(plot_page([octagon, braid]))
    width, height = (float(root.get(side) or "nan") for side in ("width", "height"))
    rows = [group for group in root if group.tag == f"{SVG}g"]
    for group in rows:
        left, top = map(float, re.findall(r"[\d.]+", group.get("transform") or ""))
        for line in group.iter(f"{SVG}polyline"):
            points = np.array([pair.split(",") for pair in (line.get("points") or "").split()], dtype=float)
            on_page = np.array([left, top]) + points
            assert (on_page >= 0).all()
            assert (on_page <= [width, height]).all()


def test_captions_stand_above_every_curve(octagon, braid):
    for group in [g for g in ET.fromstring(plot_page([octagon, octagon, braid])) if g.tag == f"{SVG}g"]:
        captions = [float(t.get("y") or "nan") for t in group.iter(f"{SVG}text") if "best" in (t.text or "")]
        curves = [
            point for one in group.iter(f"{SVG}polyline") for point in (one.get("points") or "").split()
        ]
        if captions:
            assert max(captions) < min(float(point.split(",")[1]) for point in curves)


def test_two_frequencies_in_one_band_have_charts_of_their_own():
    two = 'tune_to = [{ frequency = "7.05 MHz" }, { frequency = "7.15 MHz" }]'
    text = shipped_text(TERRACE_OCTAGON).replace('bands = ["60m", "40m", "30m"]', two)
    text = text[: text.index("[site]")] + '[site]\nearth = "free space"\n'
    design = predict(parse_design(text, source="two"))
    shown = texts(ET.fromstring(plot_page([design])))
    assert {"40m, 7.05000 MHz", "40m, 7.15000 MHz"} <= set(shown)


def test_a_match_that_is_never_below_2_is_said(braid):
    poor = in_free_space(TERRACE_OCTAGON, **{"0.19 m": "0.06 m"})
    assert any("never below 2" in (text or "") for text in texts(ET.fromstring(plot_page([poor]))))


def test_a_name_is_text_and_never_markup():
    named = in_free_space(TERRACE_OCTAGON, **{"Terrace octagon": "</text><script>x</script> & co"})
    page = plot_page([named])
    assert "<script" not in page
    assert texts(ET.fromstring(page))[0] == "</text><script>x</script> & co"


def test_a_page_refers_to_nothing_outside_itself(octagon):
    outside = re.findall(r"(?:href|src|url|@import)[^>]*", plot_page([octagon]))
    assert all(reference.startswith("url(#") for reference in outside)


@given(st.floats(-1e9, 1e9), st.floats(1e-6, 1e9), st.integers(2, 12))
def test_ticks_are_round_and_inside(low, span, about):
    high = low + span
    if high - low < 1e-9 * max(abs(low), abs(high)):
        return
    found = ticks(low, high, about=about)
    slack = 1e-6 * (high - low)
    assert np.all((found >= low - slack) & (found <= high + slack))
    assert len(found) <= about + 1
