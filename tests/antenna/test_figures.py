# SPDX-License-Identifier: BSD-3-Clause
"""The table of figures and the prediction document hold each other to account."""

import json
import math
from dataclasses import fields, is_dataclass
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.figures import FIGURES, to_json
from ringwright.antenna.figures.figure import cost_in_decibels, in_decibels, significant
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import BandPrediction, Notice, Prediction
from ringwright.antenna.scenario import RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_design, shipped_text
from ringwright.units import to_si

# The contract of `predict --json`, written down here a second time on purpose; `cross_check` may have more.
CONTRACT = {
    "band": None,
    "frequency_hz": None,
    "tuning": {
        "capacitance_f": None,
        "reachable": None,
        "at_travel": None,
        "tunes_from_hz": None,
        "tunes_to_hz": None,
        "capacitor_voltage_peak_v": None,
        "capacitor_current_rms_a": None,
        "ring_current_max_rms_a": None,
        "step_hz": None,
        "missing_f": None,
        "capacitance_lower_edge_f": None,
        "capacitance_upper_edge_f": None,
        "drift_per_kelvin_hz": None,
    },
    "resistance_ohm": dict.fromkeys(
        ["radiation", "ring", "joints", "capacitor", "earth", "metal", "coupling", "total"]
    ),
    "watts_pct": dict.fromkeys(["sky", "earth", "ring", "joints", "capacitor", "coupling", "metal", "sum"]),
    "efficiency_free_space_pct": None,
    "efficiency_sky_pct": None,
    "q_unloaded": None,
    "bandwidth_half_power_hz": None,
    "bandwidth_swr2_hz": None,
    "match": dict.fromkeys(["swr_min", "frequency_hz", "swr2_low_hz", "swr2_high_hz"]),
    "pattern": dict.fromkeys(["gain_max_dbi", "elevation_deg", "azimuth_deg", "gain_20deg_dbi"]),
    "limits": dict.fromkeys(["power_max_w", "set_by", "eirp_w"]),
    "capacitor": dict.fromkeys(
        [
            "stands_peak_v",
            "stands_set_by",
            "must_stand_peak_v",
            "must_carry_rms_a",
            "heat_w",
            "contact_heat_w",
            "temperature_rise_k",
            "variable_f",
            "variable_voltage_peak_v",
            "variable_current_rms_a",
            "fixed_current_rms_a",
            "fixed_heat_w",
            "series_voltage_peak_v",
            "series_heat_w",
            "lead_inductance_h",
        ]
    ),
    "drive": dict.fromkeys(
        [
            *(f"step_{place}_hz" for place in ("low", "mid", "high", "worst")),
            *("backlash_hz", "backlash_worst_hz", "windup_hz", "windup_worst_hz", "windup_angle_deg"),
            *("windup_set_by", "lands_within_hz", "width_hz", "lands_within_pct", "step_of_half_power_pct"),
            *("reduction_needed", "reduction_needed_whole_steps", "microsteps_needed"),
            *("travel_time_s", "next_band_time_s", "torque_needed_nm", "torque_available_nm"),
            *("shaft_stiffness_nm", "insulation_m", "insulation_needed_m", "insulation_needed_damp_m"),
        ]
    ),
    "cross_check": dict.fromkeys(["inductance_h", "radiation_resistance_small_loop_ohm"]),
}
RANGES = ("range", "range_led_by")
UNITS = {"_hz": "Hz", "_m": "m", "_ohm": "ohm", "_w": "W", "_v": "V", "_a": "A", "_f": "F", "_h": "H", "_k": "K",
         "_db": "dB", "_dbi": "dBi", "_deg": "deg", "_pct": "%", "_s": "s", "_nm": "N m"}  # fmt: skip


def leaves(tree, path=()):
    for key, value in tree.items():
        if isinstance(value, dict):
            yield from leaves(value, (*path, key))
        else:
            yield ".".join((*path, key))


@pytest.fixture(scope="module")
def prediction():
    return predict(shipped_design(TERRACE_OCTAGON))


@pytest.fixture(scope="module")
def document(prediction):
    return to_json(prediction)


def test_every_leaf_of_the_document_is_a_row_of_the_table_and_the_other_way_round(document):
    for band in document["bands"]:
        assert list(leaves({key: value for key, value in band.items() if key not in RANGES})) == list(FIGURES)


def test_the_document_has_every_key_of_the_contract(document):
    assert list(document) == ["schema", "design", "calibration", "defaults_used", "warnings", "bands"]
    assert document["schema"] == "ringwright.prediction/1"
    for band in document["bands"]:
        assert set(leaves(CONTRACT)) <= set(leaves(band))
        assert set(band["range"]) <= set(FIGURES)
        assert set(band["range_led_by"]) <= set(band["range"])


def test_a_table_of_the_document_keeps_the_order_of_the_contract(document):
    band = document["bands"][0]
    assert list(band) == [*CONTRACT, *RANGES]
    for name, table in CONTRACT.items():
        if isinstance(table, dict) and name != "cross_check":
            assert list(band[name]) == list(table)


def test_every_attribute_of_a_prediction_is_in_the_table(prediction):
    def paths(value, path=()):
        for field in fields(value):
            inner = getattr(value, field.name)
            if field.name in ("point", *RANGES):
                continue
            if is_dataclass(inner):
                yield from paths(inner, (*path, field.name))
            else:
                yield ".".join((*path, field.name))

    assert set(paths(prediction.bands[0])) == {figure.attribute for figure in FIGURES.values()}


def test_units_in_the_table_are_those_in_the_keys():
    for key, figure in FIGURES.items():
        for part in key.split("."):
            suffix = next((s for s in sorted(UNITS, key=len, reverse=True) if part.endswith(s)), None)
            if suffix is not None:
                assert figure.scale.unit == UNITS[suffix], key
                break
        else:
            assert figure.scale.unit in ("", "1"), key


def test_people_s_units_are_scaled_as_the_unit_reader_reads_them():
    for key, figure in FIGURES.items():
        scale = figure.scale
        if scale.unit in ("F", "Hz", "V", "A", "W", "ohm", "H", "m"):
            factor = 1.0 / to_si(f"1 {scale.shown_unit}", scale.unit)
            assert scale.factor == pytest.approx(factor, rel=1e-15, abs=0), key


def test_every_row_says_what_how_from_what_and_whence():
    for key, figure in FIGURES.items():
        assert figure.key == key
        for text in (figure.label, figure.definition, figure.formula, figure.source, figure.validity):
            assert text.strip(), key
        assert figure.definition.endswith("."), key
        assert figure.inputs, key


def test_every_input_is_another_figure_or_a_key_of_the_design_file():
    from ringwright.antenna.design_file.models import DesignTable

    for figure in FIGURES.values():
        for name in figure.inputs:
            assert name != figure.key
            if name in FIGURES:
                continue
            table, *keys = name.split(".")
            assert table in DesignTable.model_fields, name
            assert len(keys) <= 1


def test_several_predictions_share_no_part_of_a_document(prediction):
    first, second = to_json(prediction), to_json(prediction)
    first["bands"][0]["tuning"]["reachable"] = "changed"
    assert second["bands"][0]["tuning"]["reachable"] is True


def test_out_of_reach_gives_null_for_what_cannot_be_had():
    document = to_json(predict(shipped_design(RUCKSACK_BRAID)))
    top = document["bands"][-1]
    assert top["band"] == "10m"
    assert top["tuning"]["reachable"] is False
    assert top["tuning"]["step_hz"] is None  # it has no drive
    assert "out-of-reach" in [w["code"] for w in document["warnings"] if w["band"] == "10m"]


def test_a_poor_match_gives_null_for_the_width_that_is_not_there():
    text = shipped_text(TERRACE_OCTAGON).replace('diameter = "0.19 m"', 'diameter = "0.05 m"')
    band = to_json(predict(parse_design(text, source="small coupling")))["bands"][0]
    assert band["match"]["swr_min"] > 2.0
    assert band["bandwidth_swr2_hz"] is None
    assert band["match"]["swr2_low_hz"] is None


VALUES = st.one_of(st.none(), st.booleans(), st.floats(), st.text(max_size=20))


def nested(values):
    tree: dict[str, Any] = {}
    for path, value in values.items():
        *tables, name = path.split(".")
        place = tree
        for table in tables:
            place = place.setdefault(table, {})
        place[name] = value

    def space(node):
        return SimpleNamespace(**{k: space(v) if isinstance(v, dict) else v for k, v in node.items()})

    return space(tree)


@given(
    st.fixed_dictionaries({figure.attribute: VALUES for figure in FIGURES.values()}),
    st.dictionaries(st.sampled_from(list(FIGURES)), st.tuples(st.floats(), st.floats()), max_size=4),
    st.text(max_size=40),
)
def test_no_value_whatever_makes_the_document_anything_but_json(values, ranges, name):
    band = nested(values)
    band.range = ranges
    band.range_led_by = dict.fromkeys(ranges, name)
    notice = Notice(code="code", text=name, band=None)
    prediction = Prediction(design=name, defaults_used=(name,), warnings=(notice,), bands=(band,))
    document = to_json(prediction)
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    for figure in FIGURES.values():
        value = values[figure.attribute]
        place = document["bands"][0]
        for part in figure.key.split("."):
            place = place[part]
        if isinstance(value, float) and not math.isfinite(value):
            assert place is None
        else:
            assert place == value


@given(st.floats(min_value=1e-12, max_value=1e12), st.integers(1, 8))
def test_significant_digits_are_as_many_and_close(value, digits):
    written = significant(value, digits)
    assert float(written) == pytest.approx(value, rel=0.5 * 10.0 ** (1 - digits) * (1 + 1e-9), abs=0)
    if 1e-4 <= value < 10.0 ** (digits - 1):
        assert "e" not in written
        assert len(written.replace(".", "").lstrip("0")) == digits


@pytest.mark.parametrize(
    ("key", "value", "text"),
    [
        ("tuning.capacitance_f", 236.4034e-12, "236.4 pF"),
        ("tuning.capacitance_f", 999.96e-12, "1000 pF"),
        ("resistance_ohm.radiation", 0.0073037, "7.30 mΩ"),
        ("frequency_hz", 10.125e6, "10.1250 MHz"),
        ("pattern.gain_max_dbi", -0.358, "-0.36 dBi"),
        ("limits.set_by", "capacitor voltage", "capacitor voltage"),
        ("limits.power_max_w", None, "none"),
        ("tuning.reachable", False, "no"),
        ("watts_pct.coupling", 0.0, "0 %"),
        ("q_unloaded", 1364.05, "1364"),
        ("watts_pct.metal", 3.03e-5, "< 0.01 %"),
        ("resistance_ohm.coupling", 0.5e-6, "< 0.001 mΩ"),
    ],
)
def test_values_are_written_for_people(key, value, text):
    assert FIGURES[key].text(value) == text


def test_per_cent_in_decibels_and_s_points():
    # An S-point is 6 dB (IARU Region 1 Technical Recommendation R.1).
    assert in_decibels(50.0) == "-3.0 dB or -0.5 S-points"
    assert in_decibels(1.0) == "-20.0 dB or -3.3 S-points"
    assert in_decibels(0.0) == "no power at all"
    assert cost_in_decibels(75.0) == "6.0 dB or 1.0 S-points"
    # 1.1 % is 0.048 dB and would be written 0.0; 1.2 % is 0.052 dB.
    assert cost_in_decibels(0.0) is None
    assert cost_in_decibels(1.1) is None
    assert cost_in_decibels(1.2) == "0.1 dB or 0.0 S-points"
    assert cost_in_decibels(100.0) == "all"


def test_figures_are_read_from_a_prediction(prediction: Prediction):
    band: BandPrediction = prediction.bands[0]
    assert FIGURES["tuning.capacitance_f"].of(band) == band.tuning.capacitance
    assert FIGURES["watts_pct.sky"].of(band) == band.watts_pct.sky


def test_the_library_and_the_document_agree(tmp_path):
    path = tmp_path / "ring.toml"
    path.write_text(shipped_text(TERRACE_OCTAGON), encoding="utf-8")
    assert to_json(predict(Design.load(path))) == to_json(predict(shipped_design(TERRACE_OCTAGON)))


@pytest.mark.parametrize(
    ("key", "ends", "text"),
    [
        ("watts_pct.sky", (41.24, 52.7), "41-53"),
        ("watts_pct.sky", (41.2, 41.3), "41.2-41.3"),
        ("watts_pct.sky", (41.21, 41.22), None),
        ("tuning.capacitor_voltage_peak_v", (1181.4, 1576.0), "1.2-1.6"),
        ("pattern.gain_max_dbi", (-13.28, -10.66), "-13.3 to -10.7"),
        ("q_unloaded", (387.4, 387.4), None),
        # What rounding would move by half of the range gets a digit more.
        ("q_unloaded", (969.1, 1027.1), "969-1030"),
    ],
)
def test_ranges_are_written_in_as_few_digits_as_tell_their_ends_apart(key, ends, text):
    assert FIGURES[key].span(*ends) == text
