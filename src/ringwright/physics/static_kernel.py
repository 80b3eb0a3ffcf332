# SPDX-License-Identifier: BSD-3-Clause
"""The frequency-independent part of the thin-wire kernel: integrals of 1/R over pairs of segments.

On one conductor the kernel is the average of 1/R over the azimuth of a tube of radius a,
1 / AGM(d, sqrt(d^2 + 4 a^2)) with d the distance on the axis [1]; between conductors it is that of filaments, 1/d.
Every pair of segments has four integrals: shapes 1 - s/h and s/h on each. Pairs are integrated by how they lie:
the same segment, touching, near, far.

References
----------
.. [1] W. Wang, "The exact kernel for cylindrical antenna," IEEE Trans. Antennas Propag., vol. 39, no. 4,
   pp. 434-435, 1991 (from memory); the mean of 1/sqrt(d^2 + 4 a^2 sin^2(phi/2)) is Gauss's AGM form of K.
"""

from functools import cache

import numpy as np
import numpy.typing as npt

from ringwright.physics.graph import FloatArray, IntArray, Number, WireGraph

__all__ = ["static_integrals", "tube_average"]  # what is meant for outside; the rest serves its neighbours

FAR_RATIO = (
    2.5  # centres further apart than this many longer segment lengths: 3-point Gauss gives 2e-5, falling fast
)
FAR_POINTS = 3


@cache
def gauss_unit(order: int) -> tuple[FloatArray, FloatArray]:
    """Gauss-Legendre nodes and weights on [0, 1]."""
    x, w = np.polynomial.legendre.leggauss(order)
    return (x + 1.0) / 2.0, w / 2.0


def shape_weights(order: int) -> tuple[FloatArray, FloatArray]:
    """Gauss nodes on [0, 1] and, shape (2, order), the weights times the shapes 1 - s and s."""
    x, w = gauss_unit(order)
    return x, np.stack([w * (1.0 - x), w * x])


def tube_average(distance_squared: FloatArray, radius_squared: FloatArray) -> FloatArray:
    r"""Mean of 1/R over the azimuth of a tube.

    .. math:: \frac{1}{2\pi}\int_0^{2\pi} \frac{d\varphi}{\sqrt{d^2 + 4 a^2 \sin^2(\varphi/2)}}
              = \frac{1}{\mathrm{AGM}(d, \sqrt{d^2 + 4 a^2})}

    Parameters
    ----------
    distance_squared : ndarray of float64, shape (...)
        Squared distance along the axis, > 0 where radius is > 0. [m^2]
    radius_squared : ndarray of float64, shape (...)
        Squared tube radius, 0 for a filament. [m^2]

    Returns
    -------
    ndarray of float64, shape (...)
        [1/m]

    References
    ----------
    .. [1] DLMF, sec. 19.8(i), https://dlmf.nist.gov/19.8
    """
    a = np.sqrt(distance_squared)
    b = np.sqrt(distance_squared + 4.0 * radius_squared)
    # Quadratic convergence: five rounds serve b/a up to 1e3 to double precision, six beyond 1e6.
    for _ in range(6 if a.size and np.min(a) < 1e-3 * np.max(b) else 5):
        a, b = (a + b) / 2.0, np.sqrt(a * b)
    return np.asarray(2.0 / (a + b))


def static_integrals(graph: WireGraph) -> FloatArray:
    """Integrals of the static kernel over all pairs of segment shapes.

    Parameters
    ----------
    graph : WireGraph
        The conductors.

    Returns
    -------
    ndarray of float64, shape (n_segments, 2, n_segments, 2)
        Double integrals of shape times shape times kernel. [m]

    Notes
    -----
    Own derivation in docs/explanation/thin-wire.md. Relative accuracy 1e-6 for the segment itself and its neighbours,
    2e-5 at the nearest of the far pairs, 4e-4 there for segments of one radius. Two segments of unequal length that
    meet at less than 30 degrees: 4e-4.
    """
    tube_squared = pair_radius_squared(graph)
    out = _far_pairs(graph, tube_squared)
    n = len(graph.segments)
    own = np.arange(n)
    touching = _touching_pairs(graph)
    out[own, :, own, :] = _self_integrals(graph.lengths, graph.radius)
    _fill(out, touching[:, :2], _touching_integrals(graph, touching))
    first, second = _near_pairs(graph, touching)
    on_tube = tube_squared[first, second] > 0
    for chosen, integrals in ((on_tube, _near_tube_integrals), (~on_tube, _near_filament_integrals)):
        pairs = np.stack([first[chosen], second[chosen]], axis=1)
        if len(pairs):
            _fill(out, pairs, integrals(graph, pairs))
    return out


def pair_radius_squared(graph: WireGraph) -> FloatArray:
    """Squared radius in the kernel of each pair [m^2]: 0 between different conductors and between turns."""
    same = (graph.wire[:, None] == graph.wire) & (np.abs(graph.turn[:, None] - graph.turn) <= 0.5)
    squared = graph.radius**2
    return np.asarray(np.where(same, (squared[:, None] + squared) / 2.0, 0.0))


def _fill(out: FloatArray, pairs: IntArray, values: FloatArray) -> None:
    i, j = pairs.T
    out[i, :, j, :] = values
    out[j, :, i, :] = np.swapaxes(values, 1, 2)


def _far_pairs(graph: WireGraph, tube_squared: FloatArray) -> FloatArray:
    x, w = shape_weights(FAR_POINTS)
    n = len(graph.segments)
    points = graph.points(x).reshape(-1, 3)
    squared = distances_squared(points).reshape(n, FAR_POINTS, n, FAR_POINTS)
    own = np.arange(n)
    squared[own, :, own, :] += 1.0  # replaced later; keeps the root away from zero
    # The azimuth average is 1/d (1 - x + 9/4 x^2 - 25/4 x^3 ...), x = (a/d)^2: that of d^2 + 2 a^2 and one more factor
    # agree with it to the third power.
    radius_squared = tube_squared[:, None, :, None]
    kernel = 1.0 / np.sqrt(squared + 2.0 * radius_squared)
    kernel *= 1.0 + 0.75 * (radius_squared * kernel * kernel) ** 2
    return contract_shapes(kernel, w) * (graph.lengths[:, None, None, None] * graph.lengths[:, None])


def contract_shapes(kernel: npt.NDArray[Number], weights: FloatArray) -> npt.NDArray[Number]:
    """From values at points (..., n, q, n, q) to unit-length integrals over shapes (..., n, 2, n, 2)."""
    half = weights @ kernel.reshape(*kernel.shape[:-2], -1)
    half = half.reshape(*half.shape[:-1], *kernel.shape[-2:])
    return np.asarray(half @ weights.T)


def distances_squared(points: FloatArray) -> FloatArray:
    """Squared distances between all pairs of points [m^2]."""
    squared = np.zeros((len(points), len(points)))
    for axis in points.T:
        difference = axis[:, None] - axis
        squared += difference * difference
    return squared


def _self_integrals(length: FloatArray, radius: FloatArray) -> FloatArray:
    """One segment with itself: a single integral over the separation t, graded for the logarithm at t = 0."""
    sizes, inverse = np.unique(np.stack([length, radius], axis=1), axis=0, return_inverse=True)
    h, a = sizes.T[:, :, None]
    y, w = gauss_unit(24)
    end = np.arcsinh(h / a)
    x = end * y**3
    t = a * np.sinh(x)
    weight = w * 3.0 * end * y**2 * a * np.cosh(x) * tube_average(t * t, a * a + 0.0 * t)
    u = t / h
    alike = (1.0 - u) ** 3 / 3.0 + u * (1.0 - u) ** 2 / 2.0
    same = np.sum(weight * 2.0 * alike, axis=1) * sizes[:, 0]
    cross = np.sum(weight * ((1.0 - u) - 2.0 * alike), axis=1) * sizes[:, 0]
    values = np.stack([np.stack([same, cross], axis=1), np.stack([cross, same], axis=1)], axis=1)
    return np.asarray(values[inverse.ravel()])


def _touching_pairs(graph: WireGraph) -> IntArray:
    """Rows (i, j, end of i, end of j) for each pair of segments that share a node, i < j."""
    ends = graph.segments
    rows = []
    for p in (0, 1):
        for q in (0, 1):
            i, j = np.nonzero(np.triu(ends[:, p][:, None] == ends[:, q], 1))
            rows.append(np.stack([i, j, np.full_like(i, p), np.full_like(i, q)], axis=1))
    return np.concatenate(rows)


def _touching_integrals(graph: WireGraph, pairs: IntArray) -> FloatArray:
    """Two segments from a common node: Duffy's two triangles, graded towards the node.

    Equal pairs (same lengths, angle, radius) are integrated once: a regular ring has one.
    """
    i, j, p, q = pairs.T
    outward = np.where(pairs[:, 2:] == 0, 1.0, -1.0)
    cosine = np.einsum("kc,kc->k", graph.tangents[i], graph.tangents[j]) * outward[:, 0] * outward[:, 1]
    radius_squared = (graph.radius[i] ** 2 + graph.radius[j] ** 2) / 2.0
    kinds = np.stack([graph.lengths[i], graph.lengths[j], cosine, radius_squared], axis=1)
    _, first, inverse = np.unique(np.round(kinds, 12), axis=0, return_index=True, return_inverse=True)
    from_node = _corner_integrals(kinds[first])[inverse.ravel()]
    # Index 0 of `from_node` is the shape that is 1 at the common node.
    shape_i = np.stack([p, 1 - p], axis=1)
    shape_j = np.stack([q, 1 - q], axis=1)
    out = np.empty_like(from_node)
    rows = np.arange(len(pairs))[:, None, None]
    out[rows, shape_i[:, :, None], shape_j[:, None, :]] = from_node
    return out


def _corner_integrals(kinds: FloatArray) -> FloatArray:
    """Integrals for (length, length, cosine, radius squared) rows, shapes counted from the common node."""
    h1, h2, cosine, radius_squared = (column[:, None, None] for column in kinds.T)
    y, wy = gauss_unit(20)
    v, wv = gauss_unit(12)
    longest = np.maximum(h1, h2)
    scale = np.sqrt(radius_squared) / longest
    end = np.arcsinh(1.0 / scale)
    x = end * (y**3)[:, None]
    r = scale * np.sinh(x)
    weight = (wy * 3.0 * y**2)[:, None] * end * scale * np.cosh(x) * r * wv * h1 * h2
    out = np.zeros((len(kinds), 2, 2))
    for s, t in ((r + 0 * v, r * v), (r * v, r + 0 * v)):
        squared = (h1 * s) ** 2 + (h2 * t) ** 2 - 2.0 * (h1 * s) * (h2 * t) * cosine
        kernel = weight * tube_average(squared, radius_squared + 0.0 * squared)
        for m, shape_1 in enumerate((1.0 - s, s)):
            for n, shape_2 in enumerate((1.0 - t, t)):
                out[:, m, n] += np.sum(kernel * shape_1 * shape_2, axis=(1, 2))
    return out


def _near_pairs(graph: WireGraph, touching: IntArray) -> tuple[IntArray, IntArray]:
    """Pairs i < j that are neither far nor touching."""
    longer = np.maximum(graph.lengths[:, None], graph.lengths)
    near = np.triu(distances_squared(graph.centres) < (FAR_RATIO * longer) ** 2, 1)
    near[touching[:, 0], touching[:, 1]] = False
    first, second = np.nonzero(near)
    return first, second


def _near_tube_integrals(graph: WireGraph, pairs: IntArray) -> FloatArray:
    x, w = shape_weights(6)
    i, j = pairs.T
    points = graph.points(x)
    difference = points[i][:, :, None, :] - points[j][:, None, :, :]
    squared = np.einsum("kmnc,kmnc->kmn", difference, difference)
    radius_squared = (graph.radius[i] ** 2 + graph.radius[j] ** 2) / 2.0
    kernel = tube_average(squared, radius_squared[:, None, None] + 0.0 * squared)
    return np.asarray((w @ kernel @ w.T) * (graph.lengths[i] * graph.lengths[j])[:, None, None])


def _near_filament_integrals(graph: WireGraph, pairs: IntArray) -> FloatArray:
    """Exact along the longer segment, Gauss along the shorter one."""
    order = np.argsort(graph.lengths[pairs], axis=1, kind="stable")
    outer, inner = np.take_along_axis(pairs, order, axis=1).T
    x, w = shape_weights(10)
    h = graph.lengths[inner][:, None]
    start = graph.nodes[graph.segments[inner, 0]][:, None, :]
    end = graph.nodes[graph.segments[inner, 1]][:, None, :]
    points = graph.points(x)[outer]
    to_start = np.linalg.norm(points - start, axis=2)
    to_end = np.linalg.norm(points - end, axis=2)
    along = np.einsum("kmc,kc->km", points - start, graph.tangents[inner])
    total = np.log((to_start + to_end + h) / (to_start + to_end - h))
    rising = (to_end - to_start + along * total) / h
    potential = np.stack([total - rising, rising], axis=2)
    values = (w @ potential) * graph.lengths[outer][:, None, None]
    swapped = order[:, 0] == 1
    values[swapped] = np.swapaxes(values[swapped], 1, 2)
    return np.asarray(values)
