# SPDX-License-Identifier: BSD-3-Clause
"""From the values of many draws to the ranges that figures carry, and to what leads each."""

import numpy as np
import numpy.typing as npt

from ringwright.antenna.ranges.draws import NAMES
from ringwright.physics.graph import FloatArray

LOW, HIGH = 10.0, 90.0
"""Per cent of the draws below the ends of a range."""
NOTHING = 1e-5
"""Of a figure: it does not move by less, which is rounding, or what the draws leave out."""


def ranges_about(values: FloatArray, drawn: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Ends of the ranges of figures of `values` (k,); `drawn` (k, n) with the design's own first.

    The draws only tell how far a figure moves, so that their shorter ways to it shift nothing; what is 0 in a draw, as
    the width below an SWR that it does not reach, is 0.
    """
    moved = np.where(drawn[:, 1:] == 0.0, 0.0, values[:, None] + (drawn[:, 1:] - drawn[:, :1]))
    low, high = np.percentile(moved, [LOW, HIGH], axis=1)
    moves = np.ptp(moved, axis=1) > NOTHING * abs(values)
    return np.where(moves, low, values), np.where(moves, high, values)


def leaders(drawn: FloatArray, scores: FloatArray) -> list[str]:
    """The tolerance with the largest share of each figure's variance.

    Shares are squared correlations of a figure's rank with a score and with its square, which also sees a figure that
    rises to either side.
    """
    ranks = _standard(np.argsort(np.argsort(drawn[:, 1:], axis=1), axis=1))
    names = list(dict.fromkeys(NAMES))
    shares = np.zeros((len(drawn), len(names)))
    for name, score in zip(NAMES, scores[1:].T, strict=True):
        if np.any(score):
            explained = ranks @ _standard(np.stack([score, score**2])).T
            shares[:, names.index(name)] += np.sum(explained**2, axis=1)
    return [names[best] for best in np.argmax(shares, axis=1)]


def _standard(rows: npt.NDArray[np.float64] | npt.NDArray[np.int64]) -> FloatArray:
    """Rows without their means, of length 1."""
    centred = rows - rows.mean(axis=1, keepdims=True)
    return np.asarray(centred / np.linalg.norm(centred, axis=1, keepdims=True))
