# SPDX-License-Identifier: BSD-3-Clause
"""Touchstone files of every dialect say the same; the specification's examples are in tests/published."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import SweepFileError
from ringwright.proof.files import parse_sweep
from ringwright.proof.sweep import SweepKind
from ringwright.proof.touchstone import parse_touchstone

UNITS = {"Hz": 1.0, "kHz": 1e3, "MHz": 1e6, "GHz": 1e9}
F = np.array([7.0e6, 7.1e6, 7.2e6])
S = np.array([0.5 + 0.1j, -0.3 + 0.2j, 0.1 - 0.9j])


def pair(z: complex, form: str) -> str:
    """Two columns as the specification defines them, angles in degrees."""
    angle = float(np.degrees(np.angle(z)))
    match form:
        case "RI":
            return f"{z.real!r} {z.imag!r}"
        case "MA":
            return f"{abs(z)!r} {angle!r}"
        case _:
            return f"{20 * math.log10(abs(z))!r} {angle!r}"


def one_port(values, *, unit="MHz", form="RI", parameter="S", reference=50.0, version=1) -> bytes:
    rows = [f"{float(f) / UNITS[unit]!r} {pair(complex(z), form)}" for f, z in zip(F, values, strict=True)]
    if version == 1:
        head = [f"# {unit} {parameter} {form} R {reference!r}"]
    else:
        head = ["[Version] 2.0", f"# {unit} {parameter} {form}", "[Number of Ports] 1",
                "[Number of Frequencies] 3", f"[Reference] {reference!r}", "[Network Data]"]  # fmt: skip
    return "\r\n".join(["! made", *head, *rows]).encode()


@pytest.mark.parametrize("version", [1, 2])
@pytest.mark.parametrize("form", ["RI", "MA", "DB"])
@pytest.mark.parametrize("unit", UNITS)
def test_units_and_formats_say_the_same(unit, form, version):
    found = parse_touchstone(one_port(S, unit=unit, form=form, version=version), source="a.s1p")
    # Rounding of the unit's factor, and of decibels and degrees.
    assert found.frequency == pytest.approx(F, rel=1e-15, abs=0)
    assert abs(found.s[:, 0, 0] - S).max() < 1e-14


@pytest.mark.parametrize("parameter", ["Z", "Y"])
@pytest.mark.parametrize("version", [1, 2])
def test_impedance_and_admittance_are_over_the_reference_in_version_1_only(version, parameter):
    z = 75.0 * (1 + S) / (1 - S)
    values = z if parameter == "Z" else 1.0 / z
    if version == 1:
        values = z / 75.0 if parameter == "Z" else 75.0 / z
    found = parse_touchstone(
        one_port(values, parameter=parameter, reference=75.0, version=version), source="a.s1p"
    )
    assert abs(found.s[:, 0, 0] - S).max() < 1e-14


@given(
    st.lists(st.complex_numbers(max_magnitude=1.0, min_magnitude=1e-9), min_size=3, max_size=3),
    st.sampled_from(["RI", "MA", "DB"]),
    st.floats(1e-2, 1e4),
)
def test_any_reflection_survives_the_file(values, form, reference):
    found = parse_touchstone(one_port(values, form=form, reference=reference), source="a.s1p")
    assert found.references == (reference,)
    assert abs(found.s[:, 0, 0] - np.array(values)).max() < 2e-14


def refusal(content: bytes, source: str) -> str:
    """The sentence a file is refused with, none if it is read."""
    try:
        parse_sweep(content, source=source)
    except SweepFileError as exc:
        return str(exc)
    return ""


@given(st.binary(max_size=300), st.sampled_from(["a.s1p", "a.s2p", "a.ts", "a.csv"]))
def test_no_bytes_do_more_than_be_refused(content, source):
    assert "\n" not in refusal(content, source)


NEAR = "#!0123456789.-+eE \t\r\n[]SZYRIMADBHGkz,;"


@given(st.text(alphabet=NEAR, max_size=200), st.sampled_from(["a.s1p", "a.ts", "a.csv"]))
def test_no_near_miss_does_more_than_be_refused(text, source):
    assert "\n" not in refusal(b"# MHz S RI\n7 .5 .5\n" + text.encode(), source)


def test_case_tabs_comments_and_a_byte_order_mark_do_not_matter():
    text = "\ufeff! Gerät, 50 Ω\n#  mhz\ts ri r 50 ! options\n\n7.0\t0.5\t0.1 ! first\n7.1 0.4 0.1\n# Hz S DB R 75\n"
    found = parse_touchstone(text.encode(), source="A.S1P")
    assert found.frequency == pytest.approx([7e6, 7.1e6], rel=1e-15, abs=0)
    assert found.s[:, 0, 0] == pytest.approx([0.5 + 0.1j, 0.4 + 0.1j], rel=1e-15, abs=0)


def test_defaults_are_those_of_the_specification():
    found = parse_touchstone(b"#\n0.007 0.5 90\n", source="a.s1p")
    assert found.frequency == pytest.approx([7e6], rel=1e-15, abs=0)
    assert found.s[0, 0, 0] == pytest.approx(0.5j, rel=1e-15, abs=1e-16)
    assert found.references == (50.0,)


def version_2(ports: int, *lines: str) -> bytes:
    head = ("[Version] 2.0", "# MHz S RI", f"[Number of Ports] {ports}", "[Number of Frequencies] 1")
    return "\n".join((*head, *lines)).encode()


@pytest.mark.parametrize(
    ("order", "row"), [("21_12", "7 .11 0 .21 0 .12 0 .22 0"), ("12_21", "7 .11 0 .12 0 .21 0 .22 0")]
)
def test_order_of_a_two_port_s_columns(order, row):
    text = version_2(
        2, f"[Two-Port Data Order] {order}", "[Reference]", "50", "75", "[Network Data]", row, "[End]"
    )
    found = parse_touchstone(text, source="a.s2p")
    assert found.s[0].real.tolist() == [[0.11, 0.12], [0.21, 0.22]]
    assert found.references == (50.0, 75.0)


@pytest.mark.parametrize("matrix", ["Lower", "Upper"])
def test_half_a_symmetric_matrix(matrix):
    rows = (
        "[Two-Port Data Order] 21_12",
        f"[Matrix Format] {matrix}",
        "[Network Data]",
        "7 .11 0 .21 0 .22 0",
    )
    found = parse_touchstone(version_2(2, *rows), source="a.ts")
    assert found.s[0].real.tolist() == [[0.11, 0.21], [0.21, 0.22]]


def test_information_section_is_passed_over():
    inside = ("[Begin Information]", "[Manufacturer] 7 8 9", "[End Information]")
    text = version_2(1, *inside, "[Network Data]", "7 .5 0", "[End]", "anything")
    assert parse_touchstone(text, source="a.ts").s[0, 0, 0] == 0.5


def test_a_two_port_swept_from_probe_to_probe_is_told_from_one_port():
    f = np.linspace(7.0, 7.2, 101)
    x = 2 * 600 * (f - 7.1) / 7.1
    peak, dip = 0.02 / (1 + 1j * x), 1 - 0.04 / (1 + 1j * x)

    def two_port(s11, s21):
        rows = [
            f"{fi} {a.real} {a.imag} {b.real} {b.imag} {b.real} {b.imag} {a.real} {a.imag}"
            for fi, a, b in zip(f, s11, s21, strict=True)
        ]
        return ("# MHz S RI R 50\n" + "\n".join(rows)).encode()

    assert parse_sweep(two_port(dip, peak), source="a.s2p").kind is SweepKind.TRANSMISSION
    matched = 1 - 0.95 / (1 + 1j * x)
    noise = 1e-4 * np.random.default_rng(2).normal(size=(2, 101))
    assert (
        parse_sweep(two_port(matched, noise[0] + 1j * noise[1]), source="a.s2p").kind is SweepKind.REFLECTION
    )
    assert parse_sweep(two_port(matched, matched), source="a.s2p").kind is SweepKind.REFLECTION
