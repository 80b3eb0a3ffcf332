# SPDX-License-Identifier: BSD-3-Clause
"""Where a family of rings is solved full-wave, and the polynomials that carry its network in between."""

from collections.abc import Iterable, Sequence

import numpy as np

from ringwright.antenna.network import chebyshev_nodes
from ringwright.physics.graph import FloatArray


def axis_nodes(values: Iterable[float], most: int) -> tuple[float, ...]:
    """The values themselves where there are at most `most`, else as many Chebyshev points of their logarithm."""
    distinct = sorted(set(values))
    if len(distinct) <= most:
        return tuple(distinct)
    logs = chebyshev_nodes(float(np.log(distinct[0])), float(np.log(distinct[-1])), most)
    inner = [float(size) for size in np.exp(logs[1:-1])]
    return (distinct[0], *inner, distinct[-1])


def axis_weights(nodes: Sequence[float], at: FloatArray) -> FloatArray:
    """Weights (len(at), len(nodes)) of the polynomial in the logarithm that passes through all nodes [1].

    References
    ----------
    .. [1] J.-P. Berrut and L. N. Trefethen, "Barycentric Lagrange interpolation," SIAM Rev. 46(3), 2004, sec. 3 and 4.
    """
    x, places = np.log(np.asarray(nodes, dtype=float)), np.log(np.atleast_1d(np.asarray(at, dtype=float)))
    apart = (x[:, None] - x) / max(float(np.ptp(x)) / 4.0, 1e-300)  # scaled, or products of many nodes vanish
    np.fill_diagonal(apart, 1.0)
    own = 1.0 / np.prod(apart, axis=1)
    difference = places[:, None] - x
    exact = abs(difference) < 1e-12
    terms = own / np.where(exact, 1.0, difference)
    weights = terms / terms.sum(axis=1, keepdims=True)
    on_node = exact.any(axis=1)
    weights[on_node] = exact[on_node]
    return np.asarray(weights)
