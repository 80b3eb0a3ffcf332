# SPDX-License-Identifier: BSD-3-Clause
"""Touchstone File Format Specification, version 2.0, IBIS Open Forum, 2009: its examples of one and two ports.

The examples' texts were taken from the copies that the general RF library scikit-rf tests itself with; the numbers they
mean are in the texts. The specification calls examples 9 and 10, and 11 and 12, the same network written twice.
"""

import numpy as np
import pytest

from ringwright.errors import SweepFileError
from ringwright.proof.touchstone import Touchstone, parse_touchstone

EXAMPLE_8 = """!1-port S-parameter file, single frequency point
# MHz S MA R 50
!freq magS11 angS11
2.000 0.894 -12.136
"""
EXAMPLE_9 = """!1-port Z-parameter file, multiple frequency points
# MHz Z MA R 75
!freq magZ11 angZ11
100 0.99 -4
200 0.80 -22
300 0.707 -45
400 0.40 -62
500 0.01 -89
"""
EXAMPLE_10 = """!1-port Z-parameter file, multiple frequency points
[Version] 2.0
# MHz Z MA
[Number of Ports] 1
[Number of Frequencies] 5
[Reference] 20.0
[Network Data]
!freq magZ11 angZ11
100 74.25 -4
200 60 -22
300 53.025 -45
400 30 -62
500 0.75 -89
"""
EXAMPLE_13 = """!2-port S-parameter file, three frequency points
# GHz S RI R 50.0
!freq ReS11 ImS11 ReS21 ImS21 ReS12 ImS12 ReS22 ImS22
1.0000 0.3926 -0.1211 -0.0003 -0.0021 -0.0003 -0.0021 0.3926 -0.1211
2.0000 0.3517 -0.3054 -0.0096 -0.0298 -0.0096 -0.0298 0.3517 -0.3054
10.000 0.3419 0.3336 -0.0134 0.0379 -0.0134 0.0379 0.3419 0.3336
"""
EXAMPLE_17 = """!2-port network, S-parameter and noise data
!Default MA format, GHz frequencies, 50 ohm reference, S-parameters
[Version] 2.0
#
[Number of Ports] 2
[Two-Port Data Order] 21_12
[Number of Frequencies] 2
[Number of Noise Frequencies] 2
[Reference] 50 25.0
[Network Data]
2 .95 -26 3.57 157 .04 76 .66 -14
22 .60 -144 1.30 40 .14 40 .56 -85
[Noise Data]
4 .7 .64 69 19
18 2.7 .46 -33 20
[End]
"""
EXAMPLE_18 = """!2-port network, S-parameter and noise data
!Default MA format, GHz frequencies, 50 ohm reference, S-parameters
#
! NETWORK PARAMETERS
2 .95 -26 3.57 157 .04 76 .66 -14
22 .60 -144 1.30 40 .14 40 .56 -85
! NOISE PARAMETERS
4 .7 .64 69 .38
18 2.7 .46 -33 .40
"""
EXAMPLE_12 = """!2-port H-parameter file, single frequency point
[Version] 2.0
# kHz H MA R 1
[Number of Ports] 2
[Two-Port Data Order] 21_12
[Number of Frequencies] 1
[Matrix Format] Full
[Network Data]
! freq magH11 angH11 magH21 angH21 magH12 angH12 magH22 angH22
2 .95 -26 3.57 157 .04 76 .66 -14
"""


def read(text: str, name: str) -> Touchstone:
    return parse_touchstone(text.encode(), source=name)


def polar(size: float, degrees: float) -> complex:
    return complex(size * np.exp(1j * np.deg2rad(degrees)))


def test_example_8_one_port_magnitude_and_angle():
    found = read(EXAMPLE_8, "example.s1p")
    assert found.frequency == pytest.approx([2e6], rel=1e-15, abs=0)
    assert found.s[0, 0, 0] == pytest.approx(polar(0.894, -12.136), rel=1e-14, abs=0)


def test_examples_9_and_10_the_same_impedance_normalised_and_in_ohms():
    ohms = [polar(74.25, -4), polar(60, -22), polar(53.025, -45), polar(30, -62), polar(0.75, -89)]
    for text, name, reference in ((EXAMPLE_9, "example.s1p", 75.0), (EXAMPLE_10, "example.ts", 20.0)):
        found = read(text, name)
        gamma = found.s[:, 0, 0]
        assert found.references == (reference,)
        assert found.frequency == pytest.approx(1e8 * np.arange(1, 6), rel=1e-15, abs=0)
        # A reflection near -1 leaves four digits fewer of its impedance.
        assert reference * (1 + gamma) / (1 - gamma) == pytest.approx(ohms, rel=1e-11, abs=0)


def test_example_12_is_a_hybrid_matrix_and_refused_in_a_sentence():
    with pytest.raises(
        SweepFileError, match=r"example\.ts:3: H parameters are not read; export .* S parameters"
    ):
        read(EXAMPLE_12, "example.ts")


def test_example_13_two_ports_real_and_imaginary():
    found = read(EXAMPLE_13, "example.s2p")
    assert found.frequency == pytest.approx([1e9, 2e9, 10e9], rel=1e-15, abs=0)
    assert found.s[:, 0, 0] == pytest.approx(
        [0.3926 - 0.1211j, 0.3517 - 0.3054j, 0.3419 + 0.3336j], rel=1e-15, abs=0
    )
    assert found.s[:, 1, 0] == pytest.approx(
        [-0.0003 - 0.0021j, -0.0096 - 0.0298j, -0.0134 + 0.0379j], rel=1e-15, abs=0
    )


@pytest.mark.parametrize(
    ("text", "name", "references"),
    [(EXAMPLE_17, "example.ts", (50.0, 25.0)), (EXAMPLE_18, "example.s2p", (50.0, 50.0))],
)
def test_examples_17_and_18_two_ports_with_noise_data(text, name, references):
    found = read(text, name)
    expected = [
        [[polar(0.95, -26), polar(0.04, 76)], [polar(3.57, 157), polar(0.66, -14)]],
        [[polar(0.60, -144), polar(0.14, 40)], [polar(1.30, 40), polar(0.56, -85)]],
    ]
    assert found.references == references
    assert found.frequency == pytest.approx([2e9, 22e9], rel=1e-15, abs=0)
    assert abs(found.s - np.array(expected)).max() < 1e-15 * 3.57
