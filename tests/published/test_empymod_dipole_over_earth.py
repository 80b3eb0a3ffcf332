# SPDX-License-Identifier: BSD-3-Clause
"""Near fields of dipoles over earth against the layered-earth library empymod (D. Werthmueller, Geophysics 82, 2017).

The library integrates along the real axis, where the branch point of lossless air lies, so air is given loss tangents
of 0.1 to 0.4 and the limit of no loss is found by a polynomial through six of them. Of the electric field the product
with the permittivity of air is followed, which stays finite. Points right above a source are left out: the library's
rule is laid between zeros of J_n, and where those lie far apart it misses k_0. Depth counts downwards there: both
frames differ by half a turn round x. Time factor e^{+jwt} in both.
"""

import empymod
import numpy as np
import pytest

from ringwright.physics.constants import EPS_0
from ringwright.physics.half_space import complex_permittivity
from tests.physics.half_space.element_fields import element_field, ground_field

HALF_TURN = np.array([1.0, -1.0, -1.0])
QUADRATURE = {"rtol": 1e-12, "atol": 1e-25, "nquad": 401, "maxint": 40, "pts_per_dec": 0, "diff_quad": 1e30}
LOSS_TANGENTS = 0.25 + 0.15 * np.polynomial.chebyshev.chebpts1(6)

CASES = {
    "average earth": (14.2e6, 13.0, 5e-3, (0.1, 0.2, 1.5), [(0.9, 0.7, 0.8), (-0.3, 3.0, 0.4)]),
    "sea water": (7.1e6, 80.0, 5.0, (0.0, 0.0, 2.0), [(1.0, -2.0, 0.1), (-2.0, 0.8, 0.7)]),
    "dry sand, low": (28.5e6, 3.0, 1e-4, (0.0, 0.0, 0.2), [(0.3, 0.4, 0.1), (-1.0, 0.5, 1.0)]),
    "fresh water": (3.65e6, 80.0, 3e-3, (0.0, 0.0, 0.5), [(2.0, 1.0, 0.3)]),
}


def library_fields(case: str) -> np.ndarray:
    """E and H (first axis), at each point, component and direction of a dipole of 1 A m."""
    frequency, permittivity, conductivity, source, points = CASES[case]
    fields = np.zeros((len(LOSS_TANGENTS), 2, len(points), 3, 3), dtype=complex)
    for tangent, field in zip(LOSS_TANGENTS, fields, strict=True):
        for place, component, direction in np.ndindex(len(points), 6, 3):
            value = empymod.dipole(
                list(HALF_TURN * source),
                list(HALF_TURN * points[place]),
                depth=[0.0],
                res=[1.0 / (tangent * 2.0 * np.pi * frequency * EPS_0), 1.0 / conductivity],
                epermH=[1.0, permittivity],
                epermV=[1.0, permittivity],
                freqtime=frequency,
                ab=10 * (component + 1) + direction + 1,
                ht="qwe",
                htarg=QUADRATURE,
                xdirect=True,
                verb=0,
            )
            kind, axis = divmod(component, 3)
            field[kind, place, axis, direction] = value * HALF_TURN[axis] * HALF_TURN[direction]
        field[0] *= 1.0 - 1j * tangent
    others = [LOSS_TANGENTS[tangent != LOSS_TANGENTS] for tangent in LOSS_TANGENTS]
    at_zero = [np.prod(rest / (rest - tangent)) for tangent, rest in zip(LOSS_TANGENTS, others, strict=True)]
    return np.tensordot(at_zero, fields, 1)


def own_fields(case: str) -> np.ndarray:
    frequency, permittivity, conductivity, source, points = CASES[case]
    eps_c = complex_permittivity(frequency, permittivity, conductivity)
    at, sources = np.array(points), np.array([source])
    fields = np.empty((2, len(points), 3, 3), dtype=complex)
    for direction, moment in enumerate(np.eye(3, dtype=complex)[:, None]):
        direct = element_field(at, sources, moment, frequency=frequency)
        ground = ground_field(sources, moment, frequency=frequency, eps_c=eps_c, tolerance=1e-7)(at)
        fields[..., direction] = np.array(direct) + np.array(ground)
    return fields


@pytest.mark.parametrize("case", CASES)
def test_all_components_of_dipoles_in_all_directions(case):
    ours, theirs = own_fields(case), library_fields(case)
    largest = np.abs(theirs).max(axis=(2, 3), keepdims=True)
    # Of the strongest component at each place; the limit of no loss is good to some 1e-6.
    assert np.max(np.abs(ours - theirs) / largest) < 5e-6
