# SPDX-License-Identifier: BSD-3-Clause
"""Layers for the tests, as values."""

from datetime import UTC, datetime

import numpy as np
import numpy.typing as npt

from ringwright.antenna.calibration import Calibration, SweepTaken

TIED = ((1.0, 0.6, 0.1, 0.3), (0.6, 1.0, 0.0, -0.2), (0.1, 0.0, 1.0, -0.4), (0.3, -0.2, -0.4, 1.0))
SWEEP = SweepTaken(file="40m.s1p", sha256="a" * 64, frequency=7.1e6, q_unloaded=812.5)


def layer(
    *,
    shift: tuple[float, ...] = (0.0,) * 4,
    spread: tuple[float, ...] = (0.0,) * 4,
    correlation: npt.ArrayLike = np.eye(4),  # noqa: B008, never altered
    name: str = "after cure",
    design: str = "test",
    text_sha256: str = "0" * 64,
    build_sha256: str = "0" * 64,
) -> Calibration:
    """By default one that moves nothing and is certain."""
    return Calibration(
        name=name,
        accepted=datetime(2026, 6, 1, 12, 30, tzinfo=UTC),
        design=design,
        text_sha256=text_sha256,
        build_sha256=build_sha256,
        shift=shift,
        spread=spread,
        correlation=tuple(tuple(float(each) for each in row) for row in np.array(correlation)),
        sweeps=(SWEEP,),
    )
