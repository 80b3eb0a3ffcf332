# SPDX-License-Identifier: BSD-3-Clause
"""Distances that were found already: they depend on design and band only, whatever is looked at."""

import threading
from collections import OrderedDict

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import Prediction
from ringwright.safety.keepout import BandKeepOut, keep_out

KEPT = 48  # of eight designs of six bands


class KeptDistances:
    """Keep-out distances of the last designs, band by band. It may be asked from any thread."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[Design, int], BandKeepOut] = OrderedDict()
        self._turn = threading.Lock()

    def of(self, design: Design, prediction: Prediction, number: int) -> BandKeepOut:
        """Distances on one band of a design, found only where they are not among the last ones."""
        key = design, number
        with self._turn:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
        one = Prediction(design=design.name, defaults_used=(), warnings=(), bands=(prediction.bands[number],))
        found = keep_out(design, one)[0]
        with self._turn:
            self._kept[key] = found
            if len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        return found
