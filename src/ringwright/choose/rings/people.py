# SPDX-License-Identifier: BSD-3-Clause
"""Fields of many rings against the limits that hold for each person nearby."""

import numpy as np

from ringwright.antenna.design import Design, PersonKind
from ringwright.physics.graph import FloatArray
from ringwright.safety.exposure import Yardstick
from ringwright.safety.limits import ExposureLimit, Tier


def holds_for(limit: ExposureLimit, kind: PersonKind, rows: tuple[ExposureLimit, ...]) -> bool:
    """Whether a limit's row is the one for a person: the tier for workers where there is one and they are informed."""
    has_workers = any(row.name == limit.name and row.tier is Tier.OCCUPATIONAL for row in rows)
    is_informed = kind is PersonKind.INFORMED and has_workers
    return limit.tier is (Tier.OCCUPATIONAL if is_informed else Tier.PUBLIC)


def worst_share(base: Design, fields: FloatArray, names: tuple[str, ...]) -> FloatArray:
    """Greatest field over limit of anybody (c, f) from E [V/m] and H [A/m] (c, f, people, 2); 0 where nobody is.

    `names`: the limits that count, empty for all.
    """
    worst = np.zeros(fields.shape[:2])
    for number, target in enumerate(base.targets):
        yardstick = Yardstick.of(base, target.frequency)
        for who, person in enumerate(base.site.people):
            for row, level in zip(yardstick.rows, yardstick.levels, strict=True):
                if (not names or row.name in names) and holds_for(row, person.kind, yardstick.rows):
                    share = (fields[:, number, who] / level).max(axis=1)
                    worst[:, number] = np.maximum(worst[:, number], share)
    return worst
