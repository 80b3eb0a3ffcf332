# SPDX-License-Identifier: BSD-3-Clause
"""A monotone curve through points, and its inverse: piecewise cubic under Fritsch and Carlson's condition."""

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

    __slots__ = ("_curve", "_rises", "x", "y")

    def __init__(self, x: FloatArray, y: FloatArray) -> None:
        steps = np.diff(y)
        if len(x) < 2 or not np.all(np.diff(x) > 0.0) or not (np.all(steps > 0.0) or np.all(steps < 0.0)):
            raise OutOfRangeError("a monotone curve needs two or more points that rise or fall throughout")
        self.x, self.y = x, y
        self._curve = PchipInterpolator(x, y)
        self._rises = bool(y[-1] > y[0])

    def at(self, x: float) -> float:
        """The value at `x`."""
        end = self._end(x - self.x[0], self.x[-1] - x)
        if end is None:
            return float(self._curve(x))
        return float(self.y[end] + self._steepness(end) * (x - self.x[end]))

    def slope(self, x: float) -> float:
        """How steep the curve is at `x`, over the piece it lies in where the cubic is level at a point."""
        end = self._end(x - self.x[0], self.x[-1] - x)
        if end is not None:
            return self._steepness(end)
        place = min(int(np.searchsorted(self.x, x, side="right")) - 1, len(self.x) - 2)
        mean = float((self.y[place + 1] - self.y[place]) / (self.x[place + 1] - self.x[place]))
        here = float(self._curve(x, 1))
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
        return float(
            brentq(lambda x: float(self._curve(x)) - y, low, high, xtol=1e-12 * max(abs(low), abs(high)))
        )

    def _steepness(self, end: int) -> float:
        inner = 1 if end == 0 else -2
        return float((self.y[end] - self.y[inner]) / (self.x[end] - self.x[inner]))

    @staticmethod
    def _end(after_first: float, before_last: float) -> int | None:
        """The end beyond which something lies: 0, -1; None between them."""
        if after_first < 0.0:
            return 0
        return -1 if before_last < 0.0 else None
