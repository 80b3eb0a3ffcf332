# SPDX-License-Identifier: BSD-3-Clause
"""The one table of figures: whatever is shown of a prediction is a row of it."""

from collections.abc import Mapping
from types import MappingProxyType

from ringwright.antenna.figures.budget import BUDGET_FIGURES
from ringwright.antenna.figures.capacitor import CAPACITOR_FIGURES
from ringwright.antenna.figures.closed_forms import CLOSED_FORM_FIGURES
from ringwright.antenna.figures.drive import DRIVE_FIGURES
from ringwright.antenna.figures.figure import Figure
from ringwright.antenna.figures.match import MATCH_FIGURES
from ringwright.antenna.figures.outside import OUTSIDE_FIGURES
from ringwright.antenna.figures.tuning import TUNING_FIGURES

FIGURES: Mapping[str, Figure] = MappingProxyType(
    {
        figure.key: figure
        for group in (
            TUNING_FIGURES,
            BUDGET_FIGURES,
            MATCH_FIGURES,
            OUTSIDE_FIGURES,
            CAPACITOR_FIGURES,
            DRIVE_FIGURES,
            CLOSED_FORM_FIGURES,
        )
        for figure in group
    }
)
"""By key, in the order of the prediction document."""
