# SPDX-License-Identifier: BSD-3-Clause
"""One antenna against its own history: the same receivers at the same hour, before and after a day.

What changed between may be the antenna, the sky or the receivers; reports alone cannot tell which, and the words that
go with the figure say so.
"""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

import numpy as np

from ringwright.air.estimate import Middle, middle
from ringwright.air.pairs import find_pairs
from ringwright.air.reports import Reports

WITHIN: Final = 1800.0
"""Seconds of the time of day that two reports of different days may be apart."""
FEWEST_DAYS: Final = 4
"""Days on each side below which day-to-day changes of the sky cannot be told from the antenna's."""
_DAY = 86_400.0

CAN: Final = "It says how much louder the same receivers hear you at the same hour than before."
CANNOT: Final = (
    "It cannot say whether the antenna, the sky or the receivers changed: seasons and the sun move all paths together. "
    "Only a second antenna, alternated in short slots, tells them apart."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """After minus before [dB]; days with reports on each side; `found` None where they say too little."""

    found: Middle | None
    pairs: int
    days_before: int
    days_after: int


def against_history(reports: Reports, moment: datetime) -> History:
    """Reports from `moment` on against those before it."""
    after = reports.time >= moment.timestamp()
    day = reports.time // _DAY
    at_hour = replace(reports, time=reports.time % _DAY)
    pairs = find_pairs(at_hour, after & reports.heard_me, ~after & reports.heard_me, within=WITHIN)
    before_days, after_days = (len(np.unique(day[side])) for side in (~after, after))
    found = None
    if len(pairs) and min(before_days, after_days) >= FEWEST_DAYS:
        # What the reports of one day share is that day's sky.
        found = middle(pairs.difference, pairs.receiver, time=day[pairs.first], stretch=1.0)
    return History(found=found, pairs=len(pairs), days_before=before_days, days_after=after_days)
