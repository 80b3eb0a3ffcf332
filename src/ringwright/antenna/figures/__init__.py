# SPDX-License-Identifier: BSD-3-Clause
"""What is shown of a prediction: the table of figures, and the document made from it."""

from ringwright.antenna.figures.document import SCHEMA, to_json
from ringwright.antenna.figures.figure import Figure, Scale
from ringwright.antenna.figures.table import FIGURES

__all__ = ["FIGURES", "SCHEMA", "Figure", "Scale", "to_json"]
