# SPDX-License-Identifier: BSD-3-Clause
"""From metres of the thing to millimetres of paper, at a scale that a ruler reads."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from ringwright.physics.graph import FloatArray
from ringwright.sheet.sketch import QUIET, THIN, Sketch

SCALES = (1, 2, 2.5, 5, 10, 15, 20, 25, 50, 75, 100, 200, 500, 1000)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class View:
    """`scale` metres of the thing to one of paper; `origin` (2,) [m] lies at `at` (2,) [mm]."""

    scale: float
    origin: FloatArray
    at: FloatArray

    def __call__(self, points: ArrayLike) -> FloatArray:
        """Places (right, up) [m] as places (right, down) [mm] of the paper."""
        moved = (np.asarray(points, dtype=float) - self.origin) * (1e3 / self.scale)
        return np.asarray(self.at + moved * np.array([1.0, -1.0]))

    def mm(self, metres: float) -> float:
        return metres * 1e3 / self.scale

    @property
    def words(self) -> str:
        return f"1:{self.scale:g}"


def fitted(
    low: ArrayLike, high: ArrayLike, *, left_top: tuple[float, float], room: tuple[float, float]
) -> View:
    """The largest usual scale at which a box [m] fits into `room` [mm] below and right of `left_top` [mm], centred."""
    a, b = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    size = np.maximum(b - a, 1e-6)
    needed = float(np.max(size * 1e3 / np.array(room)))
    scale = next((each for each in SCALES if each >= needed - 1e-9), float(np.ceil(needed)))
    middle = np.array(left_top) + np.array(room) / 2.0
    return View(scale=float(scale), origin=(a + b) / 2.0, at=middle)


def scale_bar(sketch: Sketch, view: View, *, at: tuple[float, float], words: str, metres: float) -> None:
    """A bar of a length that is written on it, and the scale."""
    x, y = at
    end = x + view.mm(metres)
    sketch.line([[x, y - 1.0], [x, y + 1.0]], ink=QUIET, width=THIN)
    sketch.line([[x, y], [end, y]], ink=QUIET, width=THIN)
    sketch.line([[end, y - 1.0], [end, y + 1.0]], ink=QUIET, width=THIN)
    sketch.text(f"{words}, {view.words}", [end + 1.5, y + 0.9], anchor="start", ink=QUIET)


def bar_length(view: View, *, is_imperial: bool) -> tuple[float, str]:
    """A round length that is 15 to 40 mm on paper, and its words."""
    unit, names = (0.3048, "ft") if is_imperial else (1.0, "m")
    for size in (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0):
        if view.mm(size * unit) >= 15.0:
            if is_imperial and size < 1.0:
                inches = max(1, round(size * 12))
                return inches * 0.0254, f"{inches} in"
            return size * unit, f"{size:g} {names}" if size >= 1.0 or is_imperial else f"{size * 1e3:g} mm"
    return 20.0 * unit, f"20 {names}"
