# SPDX-License-Identifier: BSD-3-Clause
"""The library as a notebook uses it."""

import re
import subprocess
import sys
from html.parser import HTMLParser

import numpy as np
import pytest

import ringwright
from ringwright import Design, predict
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.scenario import RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_design, shipped_text
from ringwright.errors import MissingLibraryError, RingwrightError


@pytest.fixture(scope="module")
def prediction():
    return predict(shipped_design(TERRACE_OCTAGON))


def test_two_names_are_all_one_needs(tmp_path):
    path = tmp_path / "ring.toml"
    path.write_text(shipped_text(TERRACE_OCTAGON), encoding="utf-8")
    prediction = predict(Design.load(path))
    assert [band.band for band in prediction.bands] == ["60m", "40m", "30m"]
    assert 0.0 < prediction.bands[0].efficiency_sky_pct < 100.0


def test_the_package_names_what_it_exports():
    assert set(ringwright.__all__) <= set(dir(ringwright))
    assert ringwright.Design is Design
    with pytest.raises(AttributeError, match="no attribute 'predictt'"):
        ringwright.predictt  # noqa: B018


def test_the_design_alone_loads_no_solver():
    code = "import sys, ringwright; print('numpy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_printed_it_is_a_line_and_no_matrices(prediction):
    assert repr(prediction).startswith("<Prediction 'Terrace octagon': 60m 5.359 MHz sky ")
    assert len(repr(prediction)) < 200
    assert "array" not in repr(prediction.bands[0])


def test_figures_are_plain_numbers(prediction):
    for band in prediction.bands:
        check = band.cross_check
        for name in type(check).__dataclass_fields__:
            assert type(getattr(check, name)) in (float, type(None)), name


def test_a_table_says_that_no_rating_is_stated_and_has_letters_only_where_they_fit():
    text = (
        shipped_text(TERRACE_OCTAGON)
        .replace('rated_voltage = "5 kV"', "")
        .replace("rated_current", "# rated_current")
    )
    html = predict(parse_design(text, source="unrated"))._repr_html_()
    assert "no rating stated" in html
    for share, letter in re.findall(r"width:([\d.]+)%[^>]*>(\w?)</span>", html):
        assert bool(letter) == (float(share) >= 5.0)


def test_the_one_port_is_the_curve_scikit_rf_sees(prediction):
    # scikit-rf computes SWR and impedance from the reflection by itself.
    for band in prediction.bands:
        frequency = np.linspace(band.frequency - 5e3, band.frequency + 5e3, 41)
        network = band.tuned_network(frequency)
        tuned = band.point.tuned
        assert network.f == pytest.approx(frequency, rel=1e-12, abs=0)
        assert network.s_vswr[:, 0, 0] == pytest.approx(tuned.swr(frequency), rel=1e-9, abs=0)
        expected = tuned.input_impedance(frequency)
        assert np.abs(network.z[:, 0, 0] / expected - 1.0).max() < 1e-9


def test_the_two_port_closed_by_the_capacitor_is_the_one_port(prediction):
    # scikit-rf connects the capacitor's reflection to port 2.
    skrf = pytest.importorskip("skrf")
    band = prediction.bands[1]
    tuned = band.point.tuned
    frequency = np.linspace(band.frequency - 5e3, band.frequency + 5e3, 21)
    z = tuned.capacitor_impedance(frequency)
    capacitor = skrf.Network(
        f=frequency, f_unit="Hz", s=((z - tuned.reference) / (z + tuned.reference))[:, None, None]
    )
    closed = band.open_network(frequency) ** capacitor
    # A capacitor of Q 3000 reflects all but 1e-4, and the resonance multiplies what rounding leaves of it.
    assert np.abs(closed.s - band.tuned_network(frequency).s).max() < 1e-6


def test_the_two_port_is_passive_and_reciprocal(prediction):
    network = prediction.bands[0].open_network(np.linspace(5.3e6, 5.4e6, 5))
    assert network.is_reciprocal(tol=1e-9)
    assert network.is_passive()


def test_without_scikit_rf_one_sentence_says_so(prediction, monkeypatch):
    monkeypatch.setitem(sys.modules, "skrf", None)
    with pytest.raises(MissingLibraryError, match="scikit-rf is not installed") as caught:
        prediction.bands[0].tuned_network(np.array([5.36e6]))
    assert isinstance(caught.value, RingwrightError)


class Reader(HTMLParser):
    """Tags that were opened and not closed, and all text."""

    def __init__(self):
        super().__init__()
        self.open, self.text, self.titles = [], [], []

    def handle_starttag(self, tag, attrs):
        self.open.append(tag)
        self.titles += [value for key, value in attrs if key == "title"]

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text.append(data)


def read(html):
    reader = Reader()
    reader.feed(html)
    reader.close()
    assert reader.open == []
    return reader


def test_a_notebook_shows_a_table_with_watt_bars(prediction):
    reader = read(prediction._repr_html_())
    assert reader.text.count("S") == len(prediction.bands)
    assert any(title.startswith("capacitor ") and title.endswith(" %") for title in reader.titles)
    assert any("Kilovolts" in text for text in reader.text)


def test_a_name_is_text_and_never_markup():
    name = "<script>alert('x')</script> & \\\"co\\\""
    text = shipped_text(RUCKSACK_BRAID).replace('name = "Rucksack braid"', f'name = "{name}"')
    html = predict(parse_design(text, source="named"))._repr_html_()
    assert "<script>" not in html
    assert "<script>alert('x')</script> & \"co\"" in "".join(read(html).text)
