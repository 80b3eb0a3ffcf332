# SPDX-License-Identifier: BSD-3-Clause
"""Predictions that take turns at one memory of solutions, the last ones kept for whoever asks for the same design."""

import threading
from collections import OrderedDict
from collections.abc import Callable
from typing import TypeVar

from ringwright.antenna.design import Design
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.solution import SolutionMemory

Predictor = Callable[[Design, SolutionMemory], Prediction]
KEPT = 8

T = TypeVar("T")


class Predictions:
    """Every method may be called from any thread."""

    def __init__(self, predictor: Predictor = predict) -> None:
        self._predictor = predictor
        self._memory = SolutionMemory()
        self._turn = threading.Lock()
        self._kept: OrderedDict[Design, Prediction] = OrderedDict()

    def new(self, design: Design) -> tuple[Prediction, int]:
        """Predict a design, and say how many full-wave solutions that took."""
        with self._turn:
            return self._new(design)

    def known(self, design: Design) -> Prediction:
        """The prediction of a design, made only where it is not among the last ones."""
        with self._turn:
            kept = self._kept.get(design)
            return self._new(design)[0] if kept is None else kept

    def use(self, work: Callable[[SolutionMemory], T]) -> T:
        """Do other work that wants the memory of solutions."""
        with self._turn:
            return work(self._memory)

    def _new(self, design: Design) -> tuple[Prediction, int]:
        before = self._memory.solves
        prediction = self._predictor(design, self._memory)
        self._kept[design] = prediction
        self._kept.move_to_end(design)
        if len(self._kept) > KEPT:
            self._kept.popitem(last=False)
        return prediction, self._memory.solves - before
