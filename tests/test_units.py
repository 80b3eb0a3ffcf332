# SPDX-License-Identifier: BSD-3-Clause
import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import QuantityError
from ringwright.units import format_quantity, imperial_unit, read_quantity, to_si

UNITS = [
    "m", "mm", "cm", "km", "um", "µm", "μm", "in", "ft", "Hz", "kHz", "MHz", "GHz", "F", "pF", "nF", "uF", "H", "nH",
    "ohm", "Ω", "mohm", "mΩ", "kohm", "Mohm", "W", "mW", "kW", "V", "mV", "kV", "A", "mA", "S/m", "mS/m", "MS/m",
    "deg", "°", "rad", "degC", "°C", "degF", "°F", "dB", "s", "ms", "us", "min", "h", "kg", "g", "lb", "N", "kN",
    "turns",
]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "unit", "expected"),
    [
        # Exact by definition of the prefixes, of the inch and of the pound (international agreement of 1959).
        ("22 mm", "m", 0.022),
        ("22mm", "m", 0.022),
        (" 22 mm ", "m", 0.022),
        ("7/8 in", "m", 0.022225),
        ("1 1/2 in", "m", 0.0381),
        ("10 ft", "m", 3.048),
        ("1/2 ft", "m", 0.1524),
        ("50 µm", "m", 50e-6),
        ("50 μm", "m", 50e-6),
        ("50 um", "m", 50e-6),
        ("7.1 MHz", "Hz", 7.1e6),
        ("5.3545 MHz", "Hz", 5_354_500.0),
        ("200 pF", "F", 200e-12),
        ("8 pF", "F", 8e-12),
        ("0.3 mohm", "ohm", 0.3e-3),
        ("38 mΩ", "ohm", 0.038),
        ("38 m\N{OHM SIGN}", "ohm", 0.038),
        ("2 kohm", "ohm", 2000.0),
        ("25 W", "W", 25.0),
        ("1.5 kW", "W", 1500.0),
        ("5 kV", "V", 5000.0),
        ("5 mS/m", "S/m", 0.005),
        ("58 MS/m", "S/m", 58e6),
        ("180 deg", "rad", math.pi),
        ("-5 degC", "degC", -5.0),
        ("4.8 dB", "dB", 4.8),
        ("16 turns", "turns", 16.0),
        ("2 min", "s", 120.0),
        ("1 lb", "kg", 0.45359237),
        ("1e3 mm", "m", 1.0),
        (".5 m", "m", 0.5),
        ("+5. m", "m", 5.0),
    ],
)
def test_a_quantity_reads_as_its_correctly_rounded_si_value(text, unit, expected):
    assert to_si(text, unit) == expected


@pytest.mark.parametrize(
    ("text", "unit", "words"),
    [
        ("22", "m", '"22" has no unit; write "22 m"'),
        ("7.1", "Hz", '"7.1" has no unit; write "7.1 MHz"'),
        ("500", "Hz", '"500" has no unit; write "500 Hz"'),
        ("22 mm", "Hz", "is a length, but a frequency is needed"),
        ("5 pF", "m", "is a capacitance, but a length is needed"),
        ("7.1 mhz", "Hz", 'did you mean "MHz"?'),
        ("5 KV", "V", 'did you mean "kV"?'),
        ("58 Ms/m", "S/m", 'did you mean "mS/m" or "MS/m"?'),
        ("1,5 m", "m", 'write the decimal sign as a point, "1.5 m"'),
        ("1.000,5 m", "m", "has a comma"),
        ("nan m", "m", "not a finite number"),
        ("NaN m", "m", "not a finite number"),
        ("inf m", "m", "not a finite number"),
        ("-Infinity m", "m", "not a finite number"),
        ("1e400 m", "m", "outside the numbers a computer can hold"),
        ("1e-400 m", "m", "outside the numbers a computer can hold"),
        ("1e308 km", "m", "outside the numbers a computer can hold"),
        ("1e99999999999999999999 m", "m", "outside the numbers a computer can hold"),
        ("12 AWG", "m", 'write "AWG 12"'),
        ("AWG 57", "m", "they run from AWG 0000 to AWG 56"),
        ("AWG 00000", "m", "does not read as a length"),
        ("AWG 12", "Hz", "does not read as a frequency"),
        ("7/8 MHz", "Hz", "does not read as a frequency"),
        ("1/0 in", "m", "divides by zero"),
        ("44 dBm", "W", 'write the power in watts, as in "25 W"'),
        ("10 lbs", "kg", "takes kg, g, lb"),
        ("", "m", "does not read as a length"),
        ("m", "m", "does not read as a length"),
        ("5.3.1 m", "m", "does not read as a length"),
        ("1_000 m", "m", "does not read as a length"),
        ("0x10 m", "m", "does not read as a length"),
        ("٣ m", "m", "does not read as a length"),
        ("1 m 2 m", "m", "does not read as a length"),
        ("9" * 100 + " m", "m", "too long"),
    ],
)
def test_what_is_no_quantity_is_refused_in_one_sentence(text, unit, words):
    with pytest.raises(QuantityError) as caught:
        to_si(text, unit)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    # NIST SP 811 (2008), app. B.8: t/degC = (t/degF - 32)/1.8. Ice, steam, where both scales meet, room.
    [
        ("32 degF", 0.0),
        ("212 degF", 100.0),
        ("-40 degF", -40.0),
        ("68 °F", 20.0),
        ("98.6 degF", 37.0),
        ("72 degF", 40.0 / 1.8),
    ],
)
def test_fahrenheit_reads_as_nist_sp_811_says(fahrenheit, celsius):
    assert to_si(fahrenheit, "degC") == pytest.approx(celsius, rel=1e-15, abs=1e-15)
    number, unit = fahrenheit.split()
    assert float(format_quantity(celsius, unit).split()[0]) == pytest.approx(float(number), rel=1e-14, abs=0)


@pytest.mark.parametrize(
    ("text", "unit"),
    [("11 ft", "ft"), ("42 1/2 in", "in"), ("7/8in", "in"), ("3 lb", "lb"), ("72 degF", "degF")],
)
def test_an_imperial_unit_is_told_from_what_was_written(text, unit):
    assert imperial_unit(text) == unit


@pytest.mark.parametrize("text", ["3.4 m", "8 kg", "AWG 12", "in", "", "12", 12, None, ["1 ft"]])
def test_what_is_not_written_in_an_imperial_unit_has_none(text):
    assert imperial_unit(text) is None


@given(st.floats(1e-6, 1e9), st.sampled_from(UNITS))
def test_a_quantity_survives_the_round_trip_through_text(value, unit):
    si = to_si(f"{value!r} {unit}", unit)
    # Written with 15 digits, read with one rounding: far within 1e-14.
    assert to_si(format_quantity(si, unit), unit) == pytest.approx(si, rel=1e-14, abs=0)


@given(st.text(max_size=80), st.sampled_from(UNITS))
def test_any_text_is_a_finite_quantity_or_refused(text, unit):
    with contextlib.suppress(QuantityError):
        assert math.isfinite(to_si(text, unit))


def test_a_formatted_quantity_has_the_digits_asked_for():
    assert format_quantity(0.022, "mm") == "22 mm"
    assert format_quantity(0.0254, "in") == "1 in"
    assert format_quantity(4234.56, "kV", digits=3) == "4.23 kV"
    assert format_quantity(math.pi / 2, "deg") == "90 deg"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_not_finite_is_not_formatted(value):
    with pytest.raises(QuantityError, match="not a finite number"):
        format_quantity(value, "m")


def test_a_unit_the_program_does_not_know_is_refused_by_name():
    with pytest.raises(QuantityError, match="furlong"):
        to_si("1 m", "furlong")


def test_one_of_several_dimensions_reads_as_the_one_that_fits():
    assert read_quantity("16 turns", "turns", "rad") == (16.0, "turns")
    assert read_quantity("180 deg", "turns", "rad") == (math.pi, "rad")
    with pytest.raises(QuantityError, match="a travel or angle is needed"):
        read_quantity("16 mm", "turns", "rad")
