# SPDX-License-Identifier: BSD-3-Clause
"""Equal currents on round wires in a flat row by an integral equation: nothing shared with the multipoles.

Density at equidistant points of every circle; the logarithmic kernel acts on the own circle through its Fourier
eigenvalues (pi/m), on the others by the trapezoidal rule, which converges faster than any power.
"""

import numpy as np


def solve(count: int, closeness: float, points: int = 128) -> tuple[np.ndarray, np.ndarray]:
    """Loss of each wire over what it has alone, its potential over mu0 I/2 pi; radius 1, axes 2 `closeness` apart."""
    angle = 2 * np.pi * np.arange(points) / points
    place = np.exp(1j * angle) + 2 * closeness * np.arange(count)[:, None]
    order = np.abs(np.fft.fftfreq(points, 1 / points))
    eigenvalues = np.divide(np.pi, order, out=np.zeros(points), where=order > 0)  # the mean: ln(radius 1) = 0
    own = np.fft.ifft(np.fft.fft(np.eye(points), axis=0) * eigenvalues[:, None], axis=0).real
    size = count * points
    matrix = np.zeros((size + count, size + count))
    for i in range(count):
        rows = slice(i * points, (i + 1) * points)
        for j in range(count):
            columns = slice(j * points, (j + 1) * points)
            apart = np.abs(place[i][:, None] - place[j])
            matrix[rows, columns] = own if i == j else -np.log(apart) * 2 * np.pi / points
        matrix[rows, size + i] = -1.0  # the constant potential of this wire
        matrix[size + i, rows] = 1.0 / points  # its mean density: the current, over 2 pi
    known = np.concatenate([np.zeros(size), np.ones(count)])
    solved = np.linalg.solve(matrix, known)
    density = solved[:size].reshape(count, points)
    return np.asarray(np.mean(density**2, axis=1)), np.asarray(solved[size:] / (2 * np.pi))
