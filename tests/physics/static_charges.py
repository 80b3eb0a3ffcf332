# SPDX-License-Identifier: BSD-3-Clause
"""Charges on two bodies at opposite voltages, by collocation: strips (plane), rectangles, and bodies of revolution.

The oracle for closed forms of capacitance; shares no code and no formula with them. Elements grow from the edges as
Chebyshev's points do, so that the charge's inverse root at an edge is met.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.special import ellipkm1

Array = NDArray[np.float64]


def edge_graded(start: float, end: float, count: int) -> Array:
    """Ends of `count` elements from `start` to `end`, shortest at both."""
    return (start + end) / 2 - np.cos(np.pi * np.arange(count + 1) / count) * (end - start) / 2


def charge_at_unit_voltage(potential: Array, size: Array, *, sign: Array) -> float:
    """Charge over epsilon_0 of the positive body at one volt between both; their charges are opposite."""
    n = len(size)
    system = np.zeros((n + 1, n + 1))
    system[:n, :n], system[:n, n], system[n, :n] = potential, 1.0, size
    density = np.linalg.solve(system, np.append(sign / 2.0, 0.0))[:n]
    return float((density * size)[sign > 0].sum())


def strips_capacitance(
    strips: list[tuple[float, float, float]], *, sign: list[int], count: int = 100
) -> float:
    """Of strips (from, to, height), for each metre, over epsilon_0."""
    ends = [edge_graded(start, end, count) for start, end, _ in strips]
    left, right = np.concatenate([e[:-1] for e in ends]), np.concatenate([e[1:] for e in ends])
    height = np.repeat([h for _, _, h in strips], count)
    middle, up = (left + right) / 2, np.abs(height[None, :] - height[:, None])

    def integral(u: Array) -> Array:  # of ln r along the strip
        r2 = u * u + up * up
        return np.asarray(u * 0.5 * np.log(np.where(r2 == 0, 1.0, r2)) - u + up * np.arctan2(u, up))

    potential = -(integral(right - middle[:, None]) - integral(left - middle[:, None])) / (2 * np.pi)
    return charge_at_unit_voltage(potential, right - left, sign=np.repeat(sign, count))


def rectangle(width: float, length: float, *, height: float, shift: float = 0.0, count: int = 24) -> Array:
    """Panels of a plate as rows x1, x2, y1, y2, z; `shift` along the length."""
    x, y = (
        edge_graded(-width / 2, width / 2, count),
        edge_graded(shift - length / 2, shift + length / 2, count),
    )
    x1, y1 = np.meshgrid(x[:-1], y[:-1], indexing="ij")
    x2, y2 = np.meshgrid(x[1:], y[1:], indexing="ij")
    return np.stack([x1.ravel(), x2.ravel(), y1.ravel(), y2.ravel(), np.full(x1.size, height)], axis=1)


def rectangles_capacitance(plates: list[Array], *, sign: list[int]) -> float:
    """Of plates made of panels, over epsilon_0."""
    p = np.concatenate(plates)
    cx, cy, z = (p[:, 0] + p[:, 1]) / 2, (p[:, 2] + p[:, 3]) / 2, np.abs(p[None, :, 4] - p[:, None, 4])

    def corner(x: Array, y: Array) -> Array:
        r = np.sqrt(x * x + y * y + z * z)
        face = x * np.arcsinh(y / np.hypot(x, z)) + y * np.arcsinh(x / np.hypot(y, z))
        return np.asarray(face - z * np.arctan2(x * y, z * r))

    potential = np.zeros((len(p), len(p)))
    for x_side, x_sign in ((1, 1), (0, -1)):
        for y_side, y_sign in ((3, 1), (2, -1)):
            potential += x_sign * y_sign * corner(p[:, x_side] - cx[:, None], p[:, y_side] - cy[:, None])
    area = (p[:, 1] - p[:, 0]) * (p[:, 3] - p[:, 2])
    signs = np.repeat(sign, [len(plate) for plate in plates])
    return charge_at_unit_voltage(potential / (4 * np.pi), area, sign=signs)


def flat_disc(radius: float, *, height: float, count: int = 150) -> Array:
    """Rings of a disc as rows r1, z1, r2, z2."""
    r = radius * np.sin(np.linspace(0, np.pi / 2, count + 1))
    z = np.full(count, height)
    return np.stack([r[:-1], z, r[1:], z], axis=1)


def tube(radius: float, start: float, end: float, *, count: int = 250) -> Array:
    """Rings of a thin tube as rows r1, z1, r2, z2."""
    z, r = edge_graded(start, end, count), np.full(count, radius)
    return np.stack([r, z[:-1], r, z[1:]], axis=1)


def revolved_capacitance(bodies: list[Array], *, sign: list[int]) -> float:
    """Of bodies made of conical rings, over epsilon_0."""
    p = np.concatenate(bodies)
    along, middle = p[:, 2:] - p[:, :2], (p[:, :2] + p[:, 2:]) / 2
    length = np.hypot(along[:, 0], along[:, 1])
    r, z = middle[:, 0][:, None], middle[:, 1][:, None]
    potential = np.zeros((len(p), len(p)))
    nodes, weights = np.polynomial.legendre.leggauss(12)
    for x, weight in zip((nodes + 1) / 2, weights / 2, strict=True):
        for half in (-0.5, 0.5):  # squared towards the middle, where the kernel is a logarithm
            a, h = (p[:, :2] + along * (0.5 + half * x**2)).T
            s = (r + a) ** 2 + (z - h) ** 2
            kernel = ellipkm1(((r - a) ** 2 + (z - h) ** 2) / s) / (2 * np.pi**2 * np.sqrt(s))
            potential += kernel * (2 * np.pi * a * length * weight * x)
    area = 2 * np.pi * middle[:, 0] * length
    return charge_at_unit_voltage(potential, area, sign=np.repeat(sign, [len(body) for body in bodies]))
