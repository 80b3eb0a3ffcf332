# SPDX-License-Identifier: BSD-3-Clause
"""magpylib, a general-purpose magnetics library: the static field of straight current-carrying wires.

Relative comparison only (abs=0): the library's fields are small numbers where any absolute tolerance hides everything.
"""

import magpylib
import numpy as np

from ringwright.physics.graph import chain
from ringwright.physics.near_field import near_field

ALMOST_STATIC = 1.0  # [Hz]: what changes with time is (kr)^2 = 1e-14 of it


def test_field_of_a_crooked_loop_near_and_far():
    rng = np.random.default_rng(30)
    corners = rng.normal(size=(9, 3))
    graph = chain(corners, radius=1e-4, closed=True)
    close = graph.points(np.array([0.2, 0.5, 0.9])).reshape(-1, 3) + rng.normal(size=(27, 3)) * 0.05
    points = np.concatenate([close, rng.normal(size=(200, 3)), rng.normal(size=(50, 3)) * 10.0])
    loop = magpylib.current.Polyline(vertices=np.concatenate([corners, corners[:1]]), current=28.5)
    expected = np.asarray(loop.getH(points))
    _, ours = near_field(graph, np.full((9, 2), 28.5, dtype=complex), ALMOST_STATIC)(points)
    error = np.linalg.norm(ours - expected, axis=1) / np.linalg.norm(expected, axis=1)
    # Both are closed forms; far out the sides cancel to their moment and leave 1e-11 of the digits.
    assert error.max() < 1e-10
