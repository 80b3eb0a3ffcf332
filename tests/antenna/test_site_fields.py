# SPDX-License-Identifier: BSD-3-Clause
"""Fields at places on a site: peaks, what is added over earth, what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.earths import EARTHS, PERFECT_EARTH
from ringwright.antenna.predict import predict
from ringwright.antenna.site_fields import FieldAtPoint, fields_at
from ringwright.errors import OutOfRangeError
from tests.antenna.builds import AVERAGE, at, built

parts = st.lists(st.floats(-100.0, 100.0), min_size=6, max_size=6)


@given(parts)
def test_peak_is_the_longest_that_the_turning_vector_gets(numbers):
    phasor = np.array(numbers[:3]) + 1j * np.array(numbers[3:])
    field = FieldAtPoint(at=np.zeros(3), electric=phasor, magnetic=phasor)
    angle = np.linspace(0.0, np.pi, 2001)
    through_a_cycle = np.sqrt(2.0) * np.real(phasor * np.exp(1j * angle)[:, None])
    longest = np.linalg.norm(through_a_cycle, axis=1).max()
    # 2001 instants: the top lies within 8e-4 of a radian of one, (8e-4)^2/2 below it.
    assert longest <= field.e_peak * (1 + 1e-12)
    assert field.e_peak <= longest * (1 + 1e-6)
    assert field.h_peak == field.e_peak


def test_turning_field_peaks_lower_than_a_swinging_one_of_the_same_rms():
    swinging = FieldAtPoint(
        at=np.zeros(3), electric=np.array([3.0 + 4.0j, 0, 0]), magnetic=np.zeros(3, complex)
    )
    turning = FieldAtPoint(
        at=np.zeros(3), electric=np.array([5.0, 5.0j, 0]) / np.sqrt(2), magnetic=np.zeros(3, complex)
    )
    assert swinging.e_rms == pytest.approx(5.0, rel=1e-12, abs=0)
    assert turning.e_rms == pytest.approx(5.0, rel=1e-12, abs=0)
    assert swinging.e_peak == pytest.approx(5.0 * np.sqrt(2.0), rel=1e-12, abs=0)
    assert turning.e_peak == pytest.approx(5.0, rel=1e-12, abs=0)


def test_on_a_mirror_the_field_stands_upright():
    design = built(at(7.1e6), site={"height": 1.0, "earth": EARTHS[PERFECT_EARTH].earth})
    (band,) = predict(design).bands
    for field in fields_at(design, band.point, np.array([[1.0, 0.5, 0.0], [-2.0, 3.0, 0.0]])):
        assert np.linalg.norm(field.electric[:2]) < 1e-9 * field.e_rms
        assert abs(field.magnetic[2]) < 1e-9 * field.h_rms


def test_fields_go_with_the_root_of_power():
    places = np.array([[0.0, 2.0, 1.5]])
    weak, strong = (
        fields_at(design, predict(design).bands[0].point, places)[0]
        for design in (built(power=power, site={"earth": AVERAGE}) for power in (25.0, 100.0))
    )
    assert strong.e_rms == pytest.approx(2.0 * weak.e_rms, rel=1e-9, abs=0)
    assert strong.h_rms == pytest.approx(2.0 * weak.h_rms, rel=1e-9, abs=0)


@pytest.mark.parametrize(
    ("place", "sentence"),
    [((0.0, 0.0, -0.01), "lies in the earth"), ((0.0, 0.005, 1.0), "inside a conductor")],
)
def test_refuses_places_where_nobody_can_be(place, sentence):
    design = built(site={"height": 1.0, "earth": AVERAGE})
    with pytest.raises(OutOfRangeError, match=sentence):
        fields_at(design, predict(design).bands[0].point, np.array([[2.0, 2.0, 2.0], place]))
