# SPDX-License-Identifier: BSD-3-Clause
"""A design file, solved; without what only an answer for people needs, so that it is there at once."""

from pathlib import Path

from ringwright.antenna.design import Design
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import DesignFileError, OutOfRangeError


def predict_design(design: Design, path: Path, memory: SolutionMemory | None = None) -> Prediction:
    """Predict what was read from `path`, which an error then names."""
    try:
        return predict(design, memory)
    except OutOfRangeError as exc:
        raise DesignFileError(str(path), str(exc)) from exc
