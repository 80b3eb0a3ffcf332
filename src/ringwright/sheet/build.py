# SPDX-License-Identifier: BSD-3-Clause
"""A design, predicted, as a thing to make: what the sheet, the page and the document have in common."""

from dataclasses import dataclass

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import Prediction
from ringwright.safety.mechanics import Mechanics, find_mechanics
from ringwright.sheet.measures import Measures
from ringwright.sheet.shopping import Line, shopping_list


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """`measures` decide only how texts read."""

    design: Design
    prediction: Prediction
    mechanics: Mechanics
    measures: Measures

    @property
    def lines(self) -> tuple[Line, ...]:
        return shopping_list(self.design, self.mechanics, measures=self.measures)


def find_build(design: Design, prediction: Prediction, *, measures: Measures) -> Build:
    """Its mechanics found."""
    return Build(
        design=design, prediction=prediction, mechanics=find_mechanics(design, prediction), measures=measures
    )
