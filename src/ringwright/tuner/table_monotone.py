# SPDX-License-Identifier: BSD-3-Clause
"""A monotone curve through points, and its inverse: piecewise cubic under Fritsch and Carlson's condition."""

from bisect import bisect_right

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

from ringwright.errors import OutOfRangeError
from ringwright.physics.graph import FloatArray


class Monotone:
    """A strictly monotone function of one number; beyond its ends it runs straight on, as steep as its last piece.

    References
    ----------
    .. [1] F. N. Fritsch and R. E. Carlson, Monotone piecewise cubic interpolation, SIAM J. Numer. Anal. 17(2),
       238-246, 1980, doi:10.1137/0717021.
    """

    __slots__ = ("_cubics", "_places", "_rises", "x", "y")

    def __init__(self, x: FloatArray, y: FloatArray) -> None:
        steps = np.diff(y)
        if len(x) < 2 or not np.all(np.diff(x) > 0.0) or not (np.all(steps > 0.0) or np.all(steps < 0.0)):
            raise OutOfRangeError("a monotone curve needs two or more points that rise or fall throughout")
        self.x, self.y = x, y
        # Asked for one number at a time, many times a second: as plain numbers that is twenty times quicker.
        self._cubics: list[tuple[float, ...]] = [tuple(each) for each in PchipInterpolator(x, y).c.T.tolist()]
        self._places: list[float] = x.tolist()
        self._rises = bool(y[-1] > y[0])

    def at(self, x: float) -> float:
        """The value at `x`."""
        end = self._end(x - self.x[0], self.x[-1] - x)
        if end is None:
            return self._inside(x)
        return float(self.y[end] + self._steepness(end) * (x - self.x[end]))

    def slope(self, x: float) -> float:
        """How steep the curve is at `x`, over the piece it lies in where the cubic is level at a point."""
        end = self._end(x - self.x[0], self.x[-1] - x)
        if end is not None:
            return self._steepness(end)
        place = min(int(np.searchsorted(self.x, x, side="right")) - 1, len(self.x) - 2)
        mean = float((self.y[place + 1] - self.y[place]) / (self.x[place + 1] - self.x[place]))
        a, b, c, _ = self._cubics[place]
        d = x - self._places[place]
        here = (3.0 * a * d + 2.0 * b) * d + c
        return here if abs(here) > 0.1 * abs(mean) else mean

    def inverse(self, y: float) -> float:
        """Where the value is `y`."""
        first, last = (self.y[0], self.y[-1]) if self._rises else (-self.y[0], -self.y[-1])
        level = y if self._rises else -y
        end = self._end(level - first, last - level)
        if end is not None:
            return float(self.x[end] + (y - self.y[end]) / self._steepness(end))
        place = int(np.searchsorted(self.y if self._rises else -self.y, level))
        if level == (self.y[place] if self._rises else -self.y[place]):
            return float(self.x[place])
        low, high = float(self.x[place - 1]), float(self.x[place])
        return float(brentq(lambda x: self._inside(x) - y, low, high, xtol=1e-12 * max(abs(low), abs(high))))

    def _inside(self, x: float) -> float:
        place = min(bisect_right(self._places, x) - 1, len(self._cubics) - 1)
        a, b, c, e = self._cubics[place]
        d = x - self._places[place]
        return ((a * d + b) * d + c) * d + e

    def _steepness(self, end: int) -> float:
        inner = 1 if end == 0 else -2
        return float((self.y[end] - self.y[inner]) / (self.x[end] - self.x[inner]))

    @staticmethod
    def _end(after_first: float, before_last: float) -> int | None:
        """The end beyond which something lies: 0, -1; None between them."""
        if after_first < 0.0:
            return 0
        return -1 if before_last < 0.0 else None
