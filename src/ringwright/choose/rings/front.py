# SPDX-License-Identifier: BSD-3-Clause
"""The front: rings that no other beats in everything that counts, and of those nearly alike the better one."""

from collections.abc import Mapping, Sequence

import numpy as np

from ringwright.choose.rings.candidate import Candidate
from ringwright.physics.graph import FloatArray

ALIKE = 0.1
"""Points [dB] in each objective that nobody would build another ring for."""


def front_of(
    candidates: Sequence[Candidate], weights: Mapping[str, float], *, most: int, alike: float = ALIKE
) -> list[Candidate]:
    """At most `most` rings, best score first, so that every other is beaten by one of them to within `alike` points.

    Deterministic: of equal scores the earlier place in the grid comes first.
    """
    if not candidates:
        return []
    points = _points(candidates, weights)
    order = np.lexsort((np.arange(len(candidates)), -points.sum(axis=1)))
    chosen: list[int] = []
    for number in order:
        if len(chosen) == most:
            break
        if not any((points[other] >= points[number] - alike).all() for other in chosen):
            chosen.append(int(number))
    return [candidates[number] for number in chosen]


def _points(candidates: Sequence[Candidate], weights: Mapping[str, float]) -> FloatArray:
    return np.array([list(each.points(weights).values()) for each in candidates])
