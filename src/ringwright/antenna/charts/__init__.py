# SPDX-License-Identifier: BSD-3-Clause
"""Charts of a prediction as our own SVG."""

from ringwright.antenna.charts.page import plot_page
from ringwright.antenna.charts.reflection_chart import reflection_chart
from ringwright.antenna.charts.swr_chart import swr_chart
from ringwright.antenna.charts.trace import Trace, letter, trace

__all__ = ["Trace", "letter", "plot_page", "reflection_chart", "swr_chart", "trace"]
