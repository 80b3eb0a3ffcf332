# SPDX-License-Identifier: BSD-3-Clause
"""What the brain has learnt, as a pair of the tuning table."""

from datetime import datetime

from ringwright.tuner.brain import Learnt
from ringwright.tuner.curve import TuningCurve
from ringwright.tuner.table_point import Point

LEAST_SPREAD = 20.0
"""Hertz: how well a dip is ever met, own assumption."""


def point_of(learnt: Learnt, curve: TuningCurve, *, at: datetime) -> Point:
    """The pair; raises TuningTableError where it can be none."""
    here, above = (curve.frequency(learnt.position + steps, None) for steps in (0.0, 1.0))
    per_step = abs(above - here)
    return Point(
        position=round(learnt.position),
        frequency=learnt.frequency,
        at=at,
        temperature=learnt.temperature_c,
        spread=max(learnt.sigma * per_step, LEAST_SPREAD),
    )
