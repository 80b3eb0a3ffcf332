# SPDX-License-Identifier: BSD-3-Clause
"""Closed forms of made capacitors against charges found by collocation (`static_charges`) and scikit-rf."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.capacitance import (
    cable_capacitance,
    disc_capacitance,
    meshed_capacitance,
    open_stub_impedance,
    plate_capacitance,
    tube_capacitance,
    tube_equivalent_gaps,
)
from ringwright.physics.constants import C_0, EPS_0
from tests.physics.static_charges import (
    flat_disc,
    rectangle,
    rectangles_capacitance,
    revolved_capacitance,
    strips_capacitance,
    tube,
)


@pytest.mark.parametrize(("gap", "tolerance"), [(0.05, 5e-3), (0.1, 4e-3), (0.2, 3e-3), (0.5, 0.03)])
def test_two_square_plates(gap, tolerance):
    # 24 x 24 panels lie 0.3 % low, by halving them; the series' next term shows from a gap of a fifth on.
    plates = [rectangle(1, 1, height=gap / 2), rectangle(1, 1, height=-gap / 2)]
    exact = rectangles_capacitance(plates, sign=[1, -1])
    assert plate_capacitance(1, 1, gap=gap) / EPS_0 == pytest.approx(exact, rel=tolerance, abs=0)


def test_two_oblong_plates():
    plates = [rectangle(0.3, 1, height=z) for z in (0.015, -0.015)]
    exact = rectangles_capacitance(plates, sign=[1, -1])
    assert plate_capacitance(0.3, 1, gap=0.03) / EPS_0 == pytest.approx(exact, rel=5e-3, abs=0)


@pytest.mark.parametrize("plates", [2, 3, 4, 7, 10])
@pytest.mark.parametrize("gap", [0.05, 0.1])
def test_a_stack_of_strips(plates, gap):
    # A plate 300 times as long as wide is a strip but for its ends. The outermost faces of an odd stack are the cause
    # of the tolerance: their field is weaker than a pair's.
    heights = [(-0.5, 0.5, k * gap) for k in range(plates)]
    strip = strips_capacitance(heights, sign=[(-1) ** k for k in range(plates)])
    per_metre = plate_capacitance(1, 300, gap=gap, plates=plates) / EPS_0 / 300
    assert per_metre == pytest.approx(strip, rel=0.045 if plates == 3 else 0.025, abs=0)


@pytest.mark.parametrize("plates", [2, 3, 5, 9])
@pytest.mark.parametrize("overlap", [0.2, 0.5])
def test_combs_drawn_apart(plates, overlap):
    # The tips' share only: strips without ends. 5 % of the smallest.
    gap, shift = 0.05, (1 - overlap) / 2
    strips = [((-1) ** k * shift - 0.5, (-1) ** k * shift + 0.5, k * gap) for k in range(plates)]
    exact = strips_capacitance(strips, sign=[(-1) ** k for k in range(plates)])
    sides = overlap / np.pi * (1 + np.log(2 * np.pi * 200 / gap))
    sides += (plates - 2) * 2 * overlap * np.log(2) / np.pi
    ours = (meshed_capacitance(200, overlap, length=1, gap=gap, plates=plates) / EPS_0 - sides) / 200
    assert ours == pytest.approx(exact, rel=0.05, abs=0)


@pytest.mark.parametrize(("overlap", "tolerance"), [(0.75, 0.03), (0.5, 0.05), (0.25, 0.12)])
def test_two_plates_drawn_apart(overlap, tolerance):
    # What lies beyond the overlap sees the other plate too; it is left to the build's stray capacitance.
    shift, gap = (1 - overlap) / 2, 0.05
    plates = [rectangle(1, 1, height=z, shift=np.sign(z) * shift) for z in (gap / 2, -gap / 2)]
    exact = rectangles_capacitance(plates, sign=[1, -1])
    ours = meshed_capacitance(1, overlap, length=1, gap=gap) / EPS_0
    assert ours == pytest.approx(exact, rel=tolerance, abs=0)


@pytest.mark.parametrize(("gap", "tolerance"), [(0.02, 1e-4), (0.1, 2e-4), (0.3, 2e-3), (1.0, 0.03)])
def test_two_discs(gap, tolerance):
    # The series' next term shows from a gap of a tenth of the diameter on.
    exact = revolved_capacitance([flat_disc(1, height=z) for z in (gap / 2, -gap / 2)], sign=[1, -1])
    assert disc_capacitance(2, gap=gap) / EPS_0 == pytest.approx(exact, rel=tolerance, abs=0)


def test_a_lone_disc_checks_the_oracle():
    # A disc alone has 8 a epsilon_0 (Lord Kelvin); against one 4000 times as far, 4 a epsilon_0 in series.
    far = revolved_capacitance([flat_disc(1, height=0), flat_disc(1, height=4e3)], sign=[1, -1])
    assert far == pytest.approx(4, rel=3e-4, abs=0)


@pytest.mark.parametrize("gap", [0.5, 1.0, 2.0, 4.0])
def test_end_of_a_tube_in_a_bore(gap):
    # Both ends of a short inner tube lie in a long outer one.
    b, overlap = 10.0, 20.0
    a = b - gap
    bodies = [tube(a, -overlap / 2, overlap / 2), tube(b, -60, 60, count=300)]
    along = 2 * np.pi * overlap / np.log(b / a)
    ends = revolved_capacitance(bodies, sign=[1, -1]) - along
    ours = tube_capacitance(overlap, inner_radius=a, outer_radius=b) / EPS_0 - along
    # 250 rings on the short tube are good to 0.3 % of the ends.
    assert ours == pytest.approx(ends, rel=0.02, abs=0)


@pytest.mark.parametrize("permittivity", [2.1, 4.4, 9.8])
def test_edge_of_a_sheet_by_microstrip(permittivity):
    # Half way between the plates lies a plane of zero volts: two microstrips in series, by Hammerstad and Jensen (1980)
    # in scikit-rf, who state 0.2 % for the permittivity. The edge is a twentieth of the whole.
    skrf = pytest.importorskip("skrf")
    thickness, width = 2e-3, 50e-3
    line = skrf.media.MLine(
        skrf.Frequency(1, 1, 1, unit="mhz"),
        w=width,
        h=thickness / 2,
        ep_r=permittivity,
        t=None,
        disp="none",
        model="hammerstadjensen",
        diel="frequencyinvariant",
    )
    z, eps = float(line.z0_characteristic.real[0]), float(np.real(line.ep_reff))
    strip = np.sqrt(eps) / (z * C_0) / 2
    ours = plate_capacitance(width, 100.0, gap=thickness, permittivity=permittivity) / 100.0
    assert ours == pytest.approx(strip, rel=6e-3, abs=0)


@given(st.floats(0.1, 10), st.floats(0.02, 0.5), st.integers(2, 20), st.floats(1, 10))
def test_capacitance_scales_with_size(scale, gap, plates, permittivity):
    small = plate_capacitance(1, 1.5, gap=gap, plates=plates, permittivity=permittivity)
    large = plate_capacitance(scale, 1.5 * scale, gap=gap * scale, plates=plates, permittivity=permittivity)
    assert large == pytest.approx(scale * float(small), rel=1e-12, abs=0)


@given(st.floats(1.001, 100), st.floats(1, 10), st.floats(0, 1))
def test_strongest_field_between_tubes_is_that_of_gauss(ratio, permittivity, fill):
    # Charge q' on the inner tube: E = q'/(2 pi eps r); the voltage from the capacitance along the tubes.
    a, b = 5e-3, 5e-3 * ratio
    s = a + fill * (b - a)
    air, sleeve = tube_equivalent_gaps(
        inner_radius=a, outer_radius=b, sleeve_radius=s, permittivity=permittivity
    )
    sizes = {"inner_radius": a, "outer_radius": b, "sleeve_radius": s, "permittivity": permittivity}
    per_metre = (tube_capacitance(2000 * b, **sizes) - tube_capacitance(1000 * b, **sizes)) / (1000 * b)
    assert 2 * np.pi * EPS_0 * s / per_metre == pytest.approx(float(air), rel=1e-6, abs=0)
    assert 2 * np.pi * EPS_0 * permittivity * a / per_metre == pytest.approx(float(sleeve), rel=1e-6, abs=0)


def test_curved_gap_is_less_than_its_width():
    air, _ = tube_equivalent_gaps(inner_radius=10e-3, outer_radius=13e-3)
    assert 0.8 * 3e-3 < air < 3e-3


@pytest.mark.parametrize("length", [0.1, 0.8, 2.5])
def test_open_stub_by_scikit_rf(length):
    skrf = pytest.importorskip("skrf")
    f, z0, v, alpha, tan_delta = 14.2e6, 50.0, 0.66 * C_0, 2.8e-3, 2.5e-4
    line = skrf.media.DistributedCircuit(
        skrf.Frequency(14.2, 14.2, 1, unit="mhz"),
        C=1 / (z0 * v),
        L=z0 / v,
        R=2 * z0 * alpha,
        G=2 * np.pi * f / (z0 * v) * tan_delta,
    )
    theirs = line.z0_characteristic[0] / np.tanh(line.gamma[0] * length)
    ours = open_stub_impedance(
        f,
        length=length,
        impedance=z0,
        velocity_factor=0.66,
        conductor_attenuation=alpha,
        loss_tangent=tan_delta,
    )
    # The same circuit, to rounding in the hyperbolic tangent of nearly nothing.
    assert ours.real == pytest.approx(theirs.real, rel=1e-8, abs=0)
    assert ours.imag == pytest.approx(theirs.imag, rel=1e-8, abs=0)


def test_short_stub_is_the_cables_capacitance_and_keeps_its_q():
    f, length, alpha, tan_delta = 7.1e6, 0.5, 2e-3, 2.5e-4
    z = open_stub_impedance(
        f,
        length=length,
        impedance=50,
        velocity_factor=0.66,
        conductor_attenuation=alpha,
        loss_tangent=tan_delta,
    )
    c = -1 / (2 * np.pi * f * z.imag)
    beta_l = 2 * np.pi * f * length / (0.66 * C_0)
    # First terms in the electrical length; the next are its square, 0.013.
    assert c == pytest.approx(float(cable_capacitance(50, velocity_factor=0.66)) * length, rel=6e-3, abs=0)
    assert -z.real / z.imag == pytest.approx(tan_delta + 2 / 3 * alpha * length * beta_l, rel=0.01, abs=0)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: plate_capacitance(0.1, 0.1, gap=0.06), "bring them closer"),
        (lambda: plate_capacitance(0.1, 0.1, gap=1e-3, plates=1), "plates must be 2 or more"),
        (lambda: plate_capacitance(0.1, 0.1, gap=1e-3, permittivity=0.5), "permittivity must be 1 or more"),
        (lambda: disc_capacitance(0.1, gap=0.06), "bring them closer"),
        (lambda: meshed_capacitance(0.1, 0.2, length=0.1, gap=1e-3), "must not exceed the plates' length"),
        (lambda: tube_capacitance(1e-3, inner_radius=9e-3, outer_radius=11e-3), "at least the gap"),
        (lambda: tube_capacitance(0.1, inner_radius=9e-3, outer_radius=8e-3), "must grow in this order"),
        (
            lambda: tube_equivalent_gaps(inner_radius=9e-3, outer_radius=11e-3, sleeve_radius=12e-3),
            "must grow",
        ),
        (
            lambda: open_stub_impedance(14e6, length=4, impedance=50, velocity_factor=0.66),
            "cut it below 3.53",
        ),
        (lambda: cable_capacitance(50, velocity_factor=1.2), "velocity_factor must be at most 1"),
    ],
)
def test_sizes_that_make_no_such_capacitor_are_refused(call, message):
    with pytest.raises(OutOfRangeError, match=message):
        call()
