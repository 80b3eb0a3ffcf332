# SPDX-License-Identifier: BSD-3-Clause
"""What reports say to what was asked of them."""

from dataclasses import dataclass

from ringwright.air.comparison import Comparison
from ringwright.air.expected import Expected
from ringwright.air.history import History
from ringwright.air.null_fit import NullFit
from ringwright.air.reports import Reading, Reports
from ringwright.air.summary import LightTable, Paths
from ringwright.antenna.directions import Null


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the reports say to it; None where it was not asked."""

    reading: Reading
    locator: str | None
    seen: Paths | None
    looked_at: Reports | None = None
    light: LightTable | None = None
    comparison: Comparison | None = None
    fairness: tuple[str, ...] | None = None
    expected: Expected | None = None
    null: NullFit | None = None
    predicted_nulls: tuple[tuple[str, Null], ...] = ()
    history: History | None = None

    @property
    def shown(self) -> Reports:
        """What stands on map and table: all of them, or those of one antenna."""
        return self.reading.reports if self.looked_at is None else self.looked_at
