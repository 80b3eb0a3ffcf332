# SPDX-License-Identifier: BSD-3-Clause
"""Properties of the network algebra and the feedline; scikit-rf checks the values in tests/published."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.physics.feedline import (
    attenuation_at,
    line_input_impedance,
    line_loss,
    reflection_through_line,
)
from ringwright.physics.networks import (
    matched_bandwidth,
    reflection_coefficient,
    swr,
    terminate,
    z_to_s,
)

RESISTANCES = st.floats(0.0, 1e6)
REACTANCES = st.floats(-1e6, 1e6)
REFERENCES = st.floats(1.0, 600.0)


@given(RESISTANCES, REACTANCES, REFERENCES)
def test_a_passive_load_reflects_at_most_all(r, x, z0):
    gamma = reflection_coefficient(complex(r, x), reference=z0)
    assert abs(gamma) <= 1 + 1e-12
    assert swr(gamma) >= 1


@pytest.mark.parametrize(
    ("load", "gamma", "ratio"), [(0, -1, np.inf), (50, 0, 1), (25, -1 / 3, 2), (np.inf, 1, np.inf)]
)
def test_short_match_and_open(load, gamma, ratio):
    value = reflection_coefficient(load, reference=50.0)
    assert value == pytest.approx(gamma, rel=1e-15, abs=0)
    assert swr(value) == pytest.approx(ratio, rel=1e-15, abs=0)


@given(st.floats(1.0, 1e3))
def test_swr_undoes_the_reflection_it_comes_from(ratio):
    assert swr((ratio - 1) / (ratio + 1)) == pytest.approx(ratio, rel=1e-12, abs=0)


@given(st.integers(0, 10**6))
def test_scattering_of_a_passive_reciprocal_network(seed):
    rng = np.random.default_rng(seed)
    r, x = rng.normal(size=(2, 3, 3))
    z = 10 * r @ r.T + 50j * (x + x.T)
    s = z_to_s(z, reference=rng.uniform(10, 200, 3))
    assert np.max(np.abs(s - s.T)) < 1e-12
    assert np.max(np.linalg.svd(s, compute_uv=False)) <= 1 + 1e-12


@given(st.integers(0, 10**6))
def test_closing_ports_one_by_one_or_as_the_inverse_says(seed):
    """Ports closed with loads, then all seen from port 0: the element of the inverse of Z + diag(loads)."""
    rng = np.random.default_rng(seed)
    r, x = rng.normal(size=(2, 3, 3))
    z, load = 10 * r @ r.T + 50j * (x + x.T), rng.uniform(1, 100, 2) + 1j * rng.normal(size=2)
    by_steps = terminate(terminate(z, port=2, load=load[1]), port=1, load=load[0])[0, 0]
    at_once = 1 / np.linalg.inv(z + np.diag([0, *load]))[0, 0]
    assert abs(by_steps - at_once) <= 1e-10 * abs(at_once)


def test_terminate_broadcasts_over_loads():
    z = np.array([[10.0, 5j], [5j, 20.0]])
    assert terminate(z, port=1, load=np.ones((4, 3))).shape == (4, 3, 1, 1)


def coupled_loop(mutual: float, frequency: np.ndarray) -> np.ndarray:
    """Reflection of a coupling loop beside a ring of 3 m with 54.381 pF in its gap."""
    w = 2 * np.pi * frequency
    z = np.empty((len(w), 2, 2), dtype=complex)
    z[:, 0, 0], z[:, 1, 1] = 1j * w * 424.826e-9, 0.123153 + 1j * w * 2310.022e-9
    z[:, 0, 1] = z[:, 1, 0] = 1j * w * mutual
    seen = terminate(z, port=1, load=1 / (1j * w * 54.3810e-12))[:, 0, 0]
    return reflection_coefficient(seen, reference=50.0)


@pytest.mark.parametrize(
    ("nanohenry", "best", "offset_khz"),
    [(27.818, 1.574, 2.04), (34.901, 1.000, 3.22), (38.279, 1.203, None), (45.0, 1.663, None)],
)
def test_best_match_of_a_coupled_loop(nanohenry, best, offset_khz):
    """w M^2/R = 50 ohm is not the best match: the loop's own inductance is in the way (coupled-circuit algebra by
    another program, 4 digits)."""
    f0 = 1 / (2 * np.pi * np.sqrt(2310.022e-9 * 54.3810e-12))
    offset = np.linspace(-10e3, 20e3, 30001)
    ratio = swr(coupled_loop(nanohenry * 1e-9, f0 + offset))
    assert np.min(ratio) == pytest.approx(best, rel=1e-3, abs=0)
    if offset_khz is not None:
        assert offset[np.argmin(ratio)] / 1e3 == pytest.approx(offset_khz, rel=5e-3, abs=0)


@given(RESISTANCES, REACTANCES, st.floats(0, 1), st.floats(-20, 20))
def test_a_line_shows_its_reflection_turned_and_shrunk(r, x, attenuation, length):
    load = complex(r, x)
    z = line_input_impedance(load, characteristic=50.0, attenuation=attenuation, electrical_length=length)
    through = reflection_through_line(
        reflection_coefficient(load, reference=50.0), attenuation=attenuation, electrical_length=length
    )
    assert abs(reflection_coefficient(z, reference=50.0) - through) < 1e-9


def test_quarter_and_half_wave_lines():
    quarter = line_input_impedance(25.0, characteristic=50.0, attenuation=0.0, electrical_length=np.pi / 2)
    half = line_input_impedance(25.0 + 7j, characteristic=50.0, attenuation=0.0, electrical_length=np.pi)
    assert quarter == pytest.approx(100.0, rel=1e-12, abs=0)
    assert half == pytest.approx(25.0 + 7j, rel=1e-12, abs=0)


@given(st.floats(0.0, 0.99), st.floats(0.0, 2.0))
def test_a_mismatch_never_lowers_the_loss(reflection, attenuation):
    matched = np.exp(2 * attenuation)
    assert line_loss(reflection, attenuation=attenuation) >= matched * (1 - 1e-12)
    assert line_loss(0.0, attenuation=attenuation) == pytest.approx(matched, rel=1e-14, abs=0)


def test_attenuation_follows_the_root_of_frequency():
    at_40 = attenuation_at(40e6, attenuation=0.05, reference_frequency=10e6)
    assert at_40 == pytest.approx(0.1, rel=1e-14, abs=0)


@given(st.floats(1e6, 3e7), st.floats(10, 5000), st.floats(1.01, 5))
def test_bandwidth_scales(frequency, q, ratio):
    one = matched_bandwidth(frequency, unloaded_q=q, ratio=ratio)
    assert matched_bandwidth(2 * frequency, unloaded_q=2 * q, ratio=ratio) == pytest.approx(
        one, rel=1e-14, abs=0
    )


def test_what_is_not_passive_or_not_a_ratio_is_refused():
    with pytest.raises(OutOfRangeError, match="not passive"):
        swr(1.001)
    with pytest.raises(OutOfRangeError, match="not passive"):
        swr(np.nan)
    with pytest.raises(OutOfRangeError, match="1 or more"):
        matched_bandwidth(7e6, unloaded_q=100.0, ratio=0.9)
    with pytest.raises(OutOfRangeError, match="take some power"):
        line_loss(1.0, attenuation=0.1)
    with pytest.raises(OutOfRangeError, match="reference must be"):
        reflection_coefficient(50.0, reference=0.0)
