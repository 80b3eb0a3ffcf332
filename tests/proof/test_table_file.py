# SPDX-License-Identifier: BSD-3-Clause
"""Tables with headings in the trade's words, and readings typed by hand."""

import numpy as np
import pytest

from ringwright.errors import SweepFileError
from ringwright.proof.columns import Columns
from ringwright.proof.files import parse_sweep
from ringwright.proof.readings import parse_readings
from ringwright.proof.sweep import Sweep, SweepKind

GAMMA = np.array([0.5 + 0.1j, 0.2 - 0.3j])


def read(text: str, columns: Columns | None = None) -> Sweep:
    return parse_sweep(text.encode(), source="sweep.csv", columns=columns)


@pytest.mark.parametrize(
    "text",
    [
        "Frequency (MHz),Re(S11),Im(S11)\n7.0,0.5,0.1\n7.1,0.2,-0.3\n",
        "freq_hz\ts11_real\ts11_imag\n7000000\t0.5\t0.1\n7100000\t0.2\t-0.3\n",
        "# analyser\nf/kHz; Real; Imaginary; SWR\n7000; 0.5; 0.1; 99\n7100; 0.2; -0.3; 98\n",
        "frequency_GHz S11_Re S11_Im\n0.0070 0.5 0.1\n0.0071 0.2 -0.3\n",
        (
            '"Frequency [MHz]","S11 magnitude","S11 phase (deg)"\n'
            "7.0,0.5099019513592785,11.309932474020213\n7.1,0.36055512754639896,-56.309932474020215\n"
        ),
        (
            "frequency MHz,S11 (dB),phase (rad)\n"
            "7.0,-5.850266520291821,0.19739555984988078\n7.1,-8.860566476931634,-0.982793723247329\n"
        ),
        (
            "frequency MHz,return loss (dB),phase\n"
            "7.0,5.850266520291821,11.309932474020213\n7.1,8.860566476931634,-56.309932474020215\n"
        ),
    ],
)
def test_reflection_in_the_trade_s_words(text):
    found = read(text)
    assert found.kind is SweepKind.REFLECTION
    assert found.frequency == pytest.approx([7e6, 7.1e6], rel=1e-14, abs=0)
    # Magnitudes, decibels and angles above were written with 16 digits.
    assert abs(found.response - GAMMA).max() < 1e-14


@pytest.mark.parametrize("head", ["R (ohm),X (ohm)", "Rs,Xs", "Re(Z),Im(Z)", "resistance,reactance"])
def test_resistance_and_reactance(head):
    z = 50 * (1 + GAMMA) / (1 - GAMMA)
    rows = "".join(f"{f},{v.real!r},{v.imag!r}\n" for f, v in zip((7.0, 7.1), map(complex, z), strict=True))
    found = read(f"frequency (MHz),{head}\n{rows}")
    assert found.kind is SweepKind.REFLECTION
    assert abs(found.response - GAMMA).max() < 1e-14


@pytest.mark.parametrize(
    "text", ["f (MHz),SWR\n7.0,3\n7.1,2\n", "f (MHz),VSWR\n7.0,3\n7.1,2\n",
             "f (MHz),return loss\n7.0,6.020599913279624\n7.1,9.542425094393248\n",
             "f (MHz),RL (dB)\n7.0,-6.020599913279624\n7.1,-9.542425094393248\n"],
)  # fmt: skip
def test_without_phase_it_is_an_swr_sweep(text):
    found = read(text)
    assert found.kind is SweepKind.SWR
    assert found.response == pytest.approx([1 / 2, 1 / 3], rel=1e-14, abs=0)


def test_columns_named_by_the_person():
    text = "QRG,A,B,C\n7000,1.5,50,3\n7010,1.6,51,4\n"
    by_name = read(text, Columns(frequency="QRG", frequency_unit="kHz", resistance="B", reactance="C"))
    by_number = read(
        text.split("\n", 1)[1], Columns(frequency=1, frequency_unit="kHz", resistance=3, reactance=4)
    )
    for found in (by_name, by_number):
        assert found.frequency == pytest.approx([7e6, 7.01e6], rel=1e-15, abs=0)
        assert found.response == pytest.approx([3j / (100 + 3j), (1 + 4j) / (101 + 4j)], rel=1e-14, abs=0)


def test_a_named_column_that_is_not_there():
    with pytest.raises(SweepFileError, match=r'sweep.csv:1: there is no column "B" for the swr; .* "f", "A"'):
        read("f,A\n7,2\n", Columns(frequency_unit="MHz", swr="B"))


def test_another_reference_resistance():
    found = read("f (MHz),R,X\n7,75,0\n8,75,0\n", Columns(reference=75.0))
    assert found.reference == 75.0
    assert abs(found.response).max() == 0.0


def test_a_column_of_words_beside_does_not_matter():
    assert len(read("f (MHz),SWR,remark\n7,2,windy\n8,3,\n").frequency) == 2


def test_readings_in_any_order_and_dress():
    found = parse_readings("7.05 MHz 1.8\n7100 kHz: 2.5:1   # hand near\n; 7.0MHz=3", reference=50.0)
    assert found.kind is SweepKind.SWR
    assert found.frequency == pytest.approx([7e6, 7.05e6, 7.1e6], rel=1e-15, abs=0)
    assert found.response == pytest.approx([1 / 2, 0.8 / 2.8, 1.5 / 3.5], rel=1e-14, abs=0)


def test_the_last_digit_of_a_reading_is_its_least_error():
    # d|reflection| = 2 ds/(s + 1)^2 with ds half of the last digit.
    found = parse_readings("7.0 MHz 3; 7.1 MHz 1.00")
    assert found.rounding == pytest.approx([2 * 0.5 / 16, 2 * 0.005 / 4], rel=1e-14, abs=0)


def test_the_same_load_to_another_reference():
    z = np.array([30 + 40j, 100 - 20j])
    f = np.array([7e6, 8e6])
    sweep = Sweep(
        source="a", kind=SweepKind.REFLECTION, frequency=f, response=(z - 75) / (z + 75), reference=75.0
    )
    moved = sweep.referred_to(50.0)
    assert moved.response == pytest.approx((z - 50) / (z + 50), rel=1e-14, abs=0)
    assert moved.referred_to(75.0).response == pytest.approx(sweep.response, rel=1e-14, abs=0)
