# SPDX-License-Identifier: BSD-3-Clause
"""The table [capacitor] read as several capacitors: what is taken, what is noted, what is refused."""

import re

import pytest

from ringwright.antenna.design import Part
from ringwright.antenna.design_file import parse_design
from ringwright.errors import DesignFileError

LEAST = (
    'format = 1\nname = "x"\nbands = ["40m"]\n[ring]\nperimeter = "3 m"\n[coupling]\ndiameter = "0.18 m"\n'
    "[capacitor]\n"
)
RANGE = 'minimum = "20 pF"\nmaximum = "300 pF"\n'


def design(text):
    return parse_design(LEAST + RANGE + text, source="x.toml")


def test_sections_in_parallel_share_the_current():
    """Two of 20 to 300 pF, 10 A and 50 mohm: 40 to 600 pF, 20 A, 25 mohm; the voltage stays."""
    found = design(
        'sections = 2\nrated_current = "10 A"\nrated_voltage = "2 kV"\nvariable_esr = "50 mohm"\n'
        'travel = "180 deg"\ntable = [[0, "20 pF"], [180, "300 pF"]]'
    ).capacitor
    assert (found.minimum, found.maximum) == pytest.approx((40e-12, 600e-12), rel=1e-12, abs=0)
    assert (found.rated_current, found.rated_voltage, found.sections_in_series) == (20.0, 2e3, 1)
    assert found.variable.esr == pytest.approx(0.025, rel=1e-12, abs=0)
    assert [farads for _, farads in found.law] == pytest.approx([40e-12, 600e-12], rel=1e-12, abs=0)


@pytest.mark.parametrize("how", ['sections = 2\nwired = "series"', 'kind = "split-stator"\nsections = 2'])
def test_sections_in_series_share_the_voltage(how):
    found = design(how + '\nrated_current = "10 A"\nrated_voltage = "2 kV"').capacitor
    assert (found.minimum, found.maximum) == pytest.approx((10e-12, 150e-12), rel=1e-12, abs=0)
    assert (found.rated_current, found.rated_voltage, found.sections_in_series) == (10.0, 4e3, 2)


def test_a_q_of_the_whole_stays_that_of_the_whole():
    found = design('fixed = "50 pF"\nq = 700').capacitor
    assert (found.q, found.variable, found.fixed_part) == (700.0, Part(), Part())


def test_a_part_with_its_own_loss_leaves_the_others_at_a_low_one_and_says_so():
    found = design('fixed = "50 pF"\nfixed_q = 3000\nfixed_rated_voltage = "8 kV"\nseries = "200 pF"')
    capacitor = found.capacitor
    assert (capacitor.q, capacitor.esr, capacitor.variable.q) == (None, None, 500.0)
    assert capacitor.fixed_part == Part(q=3000.0, rated_voltage=8e3)
    assert capacitor.series_part == Part(q=1000.0)
    notes = " ".join(found.defaults_used)
    assert "capacitor.variable_q = 500" in notes
    assert "capacitor.series_q = 1000" in notes
    assert "capacitor.fixed_q" not in notes


def test_a_contact_that_is_stated_is_not_in_the_default_q_again():
    found = design('contact_resistance = "5 mohm"')
    assert (found.capacitor.q, found.capacitor.contact_resistance) == (1000.0, 0.005)
    assert "the contact's resistance is stated apart" in " ".join(found.defaults_used)


def test_the_air_s_temperature_is_noted_where_a_gap_is_judged():
    assert "capacitor.air_temperature = 40 degC" in " ".join(design('plate_gap = "1 mm"').defaults_used)
    rated = design('plate_gap = "1 mm"\nrated_voltage = "1 kV"')
    assert "air_temperature" not in " ".join(rated.defaults_used)
    assert design('plate_gap = "1 mm"\nair_temperature = "25 degC"').capacitor.air_temperature_c == 25.0


MALFORMED = [
    ('fixed_q = 300', "capacitor.fixed_q needs a capacitor; add capacitor.fixed or remove it"),
    ('series_rated_voltage = "5 kV"', "capacitor.series_rated_voltage needs a capacitor"),
    ('q = 500\nvariable_q = 800', "capacitor.q is of the whole gap capacitance and capacitor.variable_q of a part"),
    (
        'esr = "20 mohm"\nfixed = "20 pF"\nfixed_esr = "9 mohm"',
        "write variable_esr if it is the variable capacitor's own",
    ),
    ('variable_q = 500\nvariable_esr = "20 mohm"', "capacitor.variable_q and capacitor.variable_esr are both given"),
    ('wired = "series"', "capacitor.wired says how sections are joined; add capacitor.sections"),
    ('sections = 1', "capacitor.sections: 1 must be from 2 to 8"),
    ('sections = 2\nwired = "star"', 'capacitor.wired: "star" is not a name known here'),
    ('kind = "butterfly"\nsections = 3', "capacitor.sections: a butterfly has 2 in series"),
    ('kind = "split-stator"\nsections = 2\nwired = "parallel"', "a split-stator has 2 in series"),
    (
        'kind = "butterfly"\ncontact_resistance = "5 mohm"',
        "with two sections in series no current crosses the rotor's contact",
    ),
    ('lead_length = "50 mm"', "capacitor.lead_width is missing; a lead needs its length and its width"),
    ('lead_width = "20 mm"', "capacitor.lead_length is missing"),
    (
        'lead_length = "50 mm"\nlead_width = "60 mm"',
        "capacitor.lead_width of 60 mm makes plates of leads that are 30 mm apart",
    ),
    ('body_diameter = "60 mm"', "capacitor.body_length is missing; the surface needs both"),
    ('series = "0 pF"', 'capacitor.series: "0 pF" must be more than 0 pF'),
    ('stray_within = "-1 pF"', "capacitor.stray_within"),
    ('air_temperature = "300 degC"', "must be at most 120 degC"),
    ('gap_width = 30', "capacitor.gap_width: 30 has no unit"),
    ('contact_resistance = "5 mOhm"', "capacitor.contact_resistance"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), MALFORMED)
def test_malformed_combination_is_refused_in_one_sentence(text, words):
    with pytest.raises(DesignFileError, match=re.escape(words)) as caught:
        design(text)
    assert "\n" not in str(caught.value)
    assert caught.value.key is not None
    assert caught.value.key.startswith("capacitor.")
