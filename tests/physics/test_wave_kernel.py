# SPDX-License-Identifier: BSD-3-Clause
"""The retarded remainder (exp(-jkR) - 1)/R: by series, directly, and by quadrature of its definition."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import dblquad

from ringwright.physics.graph import Rooftops, WireGraph, chain, join
from ringwright.physics.thin_wire import _series_factors, _weighted_sum
from ringwright.physics.wave_kernel import SERIES_LIMIT, WaveKernel
from tests.physics.wires import dipole, ring


def ring_and_wire() -> WireGraph:
    return join([ring(3.0, 0.011, 24), dipole(1.5, 0.004, 8, at=(0.9, 0.2, 0.1))])


def by_series(wave, rooftops, k):
    terms = wave.terms_needed(k)
    factors = _series_factors(np.array([k * wave.size]), terms)
    return tuple(_weighted_sum(factors, rooftops.gather(part))[0] for part in wave.moments(terms))


@given(st.floats(1e-3, 1.0))
def test_series_is_the_direct_sum(share):
    graph = ring_and_wire()
    wave, rooftops = WaveKernel(graph), Rooftops.on(graph)
    k = share * SERIES_LIMIT / wave.size
    for series, over_shapes in zip(by_series(wave, rooftops, k), wave.direct(k), strict=True):
        direct = rooftops.gather(over_shapes)
        for part in (np.real, np.imag):
            # The series stops at 1e-11 of the radiating term, and where kR is 4 its terms of 10 cancel. The direct sum
            # rounds before the charges' first term, which is k of each shape, is gathered away.
            rounding = 1e-14 * np.max(abs(part(over_shapes)))
            assert np.max(abs(part(series - direct))) < 1e-10 * np.max(abs(part(direct))) + rounding


def test_radiating_part_survives_at_one_thousandth_of_a_wavelength():
    """Its resistance is 1e-10 of the reactance, and has a term of its own in the series."""
    graph = ring(0.001, 2e-6, 24)
    wave, rooftops = WaveKernel(graph), Rooftops.on(graph)
    k, steady, area = 2.0 * np.pi, np.ones(24), 0.001**2 / (4.0 * np.pi)
    currents, _ = by_series(wave, rooftops, k)
    # An even current: the sum of -sin(kR)/R t.t' is k^3/6 times that of R^2 t.t', which is -4 A^2 for any closed plane
    # curve. The next term is (k b)^2/5 = 8e-6 of it.
    found = float((steady @ currents @ steady).imag)
    assert found == pytest.approx(-2.0 / 3.0 * k**3 * area**2, rel=1e-5, abs=0)


def test_the_charges_first_term_vanishes_and_is_exactly_zero():
    """Every rooftop holds as much charge of one sign as of the other; rounding must not stand where nothing belongs."""
    graph = ring_and_wire()
    wave, rooftops = WaveKernel(graph), Rooftops.on(graph)
    _, charges = wave.moments(3)
    assert np.all(charges[0] == 0.0)
    even = np.tile([-1.0, 1.0], len(graph.segments))
    assert np.all(rooftops.gather(np.outer(even, even)) == 0.0)


def test_series_stops_where_it_cancels():
    wave = WaveKernel(ring_and_wire())
    assert wave.terms_needed(1.001 * SERIES_LIMIT / wave.size) == 0
    assert 3 <= wave.terms_needed(1e-3 / wave.size) < wave.terms_needed(SERIES_LIMIT / wave.size) < 30


@pytest.mark.parametrize("k", [0.15, 0.3, 1.2])  # 7, 14, 57 MHz
@pytest.mark.parametrize("other", [0, 1, 2, 9])
def test_remainder_by_quadrature(k, other):
    """Pairs of segments of one 3 m ring, tube of 22 mm, from themselves to the far side."""
    graph = ring(3.0, 0.011, 24)
    start = graph.nodes[graph.segments[:, 0]]
    psi = np.pi * (np.arange(40) + 0.5) / 40.0
    chord_squared = (2.0 * 0.011 * np.sin(psi / 2.0)) ** 2

    def remainder(t, s, m, n, part):
        between = start[0] + s * graph.vectors[0] - start[other] - t * graph.vectors[other]
        r = np.sqrt(between @ between + chord_squared)
        value = (-2.0 * np.sin(k * r / 2.0) ** 2, -np.sin(k * r))[part] / r
        return float(np.mean(value)) * (s if m else 1.0 - s) * (t if n else 1.0 - t)

    tangents = graph.tangents[0] @ graph.tangents[other]
    area = graph.lengths[0] * graph.lengths[other] * tangents
    found = WaveKernel(graph).direct(k)[0].reshape(24, 2, 24, 2)[0, :, other, :]
    for part, values in enumerate((found.real, found.imag)):
        expected, _ = dblquad(remainder, 0, 1, 0, 1, args=(0, 1, part), epsabs=1e-7, epsrel=1e-7)
        # Two points a segment. The imaginary part, which radiates, is smooth. The real part has a kink k^2 |R|/2 at
        # R = 0: 1.5 % of a term that is itself (kR)^2/2 of the static one on the segment itself, little next to it.
        tolerance = 2e-6 if part == 1 else (0.02, 3e-4, 1e-4, 1e-4)[min(other, 3)]
        assert values[0, 1] == pytest.approx(area * expected, rel=tolerance, abs=0)


def test_segments_of_different_wires_see_filaments():
    first = chain(np.array([[0.0, 0, 0], [0.1, 0, 0]]), radius=0.02, closed=False)
    second = chain(np.array([[0.0, 0.05, 0], [0.1, 0.05, 0]]), radius=0.02, closed=False)
    thick = WaveKernel(join([first, second])).direct(0.3)[0]
    thin = WaveKernel(
        join([chain(each.nodes, radius=1e-6, closed=False) for each in (first, second)])
    ).direct(0.3)[0]
    assert thick[:2, 2:] == pytest.approx(thin[:2, 2:], rel=1e-14, abs=0)
    assert np.all(abs(thick[:2, :2].real) > 1.3 * abs(thin[:2, :2].real))  # on one tube the radius is there
