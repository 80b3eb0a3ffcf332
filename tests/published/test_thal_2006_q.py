# SPDX-License-Identifier: BSD-3-Clause
"""H. L. Thal, IEEE Trans. Antennas Propag. 54, 2757-2763, 2006: Q of currents on a sphere, energy inside counted.

The published anchor is the factor 3 over the older bound for a small loop (from memory). The mode's energy is
integrated here by quadrature, from the spherical Bessel functions of the field inside.
"""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import spherical_jn, spherical_yn

from ringwright.physics.constants import C_0
from ringwright.physics.small_loop import lowest_loop_q, lowest_q
from ringwright.physics.thin_wire import ThinWire
from tests.physics.wires import ring


@pytest.mark.parametrize(
    ("x", "q"), [(0.05, 24060.0), (0.10, 3030.0), (0.20, 390.0), (0.30, 121.1), (0.50, 30.0)]
)
def test_bound_of_a_loop(x, q):
    # By mode-energy integrals in another program; 3 to 4 digits.
    assert lowest_loop_q(x) == pytest.approx(q, rel=2e-4, abs=0)


def test_small_loop_is_three_times_the_older_bound():
    # The next term of the ratio is of the order x^4.
    assert lowest_loop_q(0.01) / lowest_q(0.01) == pytest.approx(3.0, rel=1e-6, abs=0)


@pytest.mark.parametrize("x", [0.01, 0.1, 0.5, 1.0])
def test_energy_inside_is_the_integral_over_the_mode(x):
    """Magnetic energy of j_1(r) sin(theta) inside, joined to the outgoing wave at the sphere."""

    def density(r: float) -> float:
        radial, polar = 2 * spherical_jn(1, r) / r, (spherical_jn(1, r) + r * spherical_jn(1, r, True)) / r
        return float(r * r * (radial**2 / 2 + polar**2))

    inside, _ = quad(density, 0, x, epsabs=0, epsrel=1e-11)
    outgoing = spherical_jn(1, x) ** 2 + spherical_yn(1, x) ** 2
    joined = inside * outgoing / spherical_jn(1, x) ** 2
    assert lowest_loop_q(x) - lowest_q(x) == pytest.approx(joined, rel=1e-9, abs=0)
    assert np.isfinite(joined)


@pytest.mark.parametrize("wire_radius", [0.003, 0.011, 0.040])
@pytest.mark.parametrize(
    ("circumference", "mhz"), [(3.0, 7.1), (3.0, 14.2), (3.0, 28.5), (6.0, 3.6), (1.0, 50.0)]
)
def test_no_solved_ring_beats_the_bound(circumference, mhz, wire_radius):
    """Q of the tuned lossless ring from its impedance (A. D. Yaghjian, S. R. Best, 2005, eq. 96 from memory)."""
    w, step = 2 * np.pi * mhz * 1e6, 1e-4
    wires = ThinWire(ring(circumference, wire_radius, 48), [0])
    z = wires.solve(mhz * 1e6 * np.array([1 - step, 1, 1 + step])).impedance[:, 0, 0]
    slope = (z[2] - z[0]) / (2 * step * w)
    q = w / (2 * z[1].real) * abs(slope + 1j * z[1].imag / w)
    size = w / C_0 * (circumference / (2 * np.pi) + wire_radius)
    # A ring fills its sphere badly: the thickest here comes within a half of the bound, the thinnest within a factor 4.
    assert 1.0 < q / lowest_loop_q(size) < 4.0
