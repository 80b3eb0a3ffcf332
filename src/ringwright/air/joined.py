# SPDX-License-Identifier: BSD-3-Clause
"""Reports of two sources as one: of what was kept before and what has just come in, each report once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from ringwright.air.files import first_alike
from ringwright.air.reports import Codes, Reports

_Name = TypeVar("_Name")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Joined:
    """All reports, and how many of the second source the first one had not."""

    reports: Reports
    new: int


def joined(first: Reports, second: Reports) -> Joined:
    """Both; what stands in both counts once, as the first has it. Times are alike to the second."""
    receivers, receiver = _names(first.receivers, second.receivers, codes=second.receiver)
    places, place = _names(first.places, second.places, codes=second.place)
    modes, mode = _names(first.modes, second.modes, codes=second.mode)
    antennas, antenna = _names(first.antennas, second.antennas, codes=second.antenna)
    whole = Reports(
        time=np.concatenate((first.time, second.time)),
        frequency=np.concatenate((first.frequency, second.frequency)),
        snr=np.concatenate((first.snr, second.snr)),
        power=np.concatenate((first.power, second.power)),
        band=np.concatenate((first.band, second.band)),
        receiver=np.concatenate((first.receiver, receiver)),
        place=np.concatenate((first.place, place)),
        mode=np.concatenate((first.mode, mode)),
        antenna=np.concatenate((first.antenna, antenna)),
        heard_me=np.concatenate((first.heard_me, second.heard_me)),
        receivers=receivers,
        places=places,
        modes=modes,
        antennas=antennas,
        own_locator=second.own_locator or first.own_locator,
    )
    alike = first_alike(replace(whole, time=np.round(whole.time)))
    is_kept = alike == np.arange(len(alike))
    return Joined(reports=whole.only(is_kept), new=int(is_kept[len(first) :].sum()))


def _names(
    first: Sequence[_Name], second: Sequence[_Name], *, codes: Codes
) -> tuple[tuple[_Name, ...], Codes]:
    """Every name once, and the second's codes as they point into them; -1 stays."""
    at = {name: place for place, name in enumerate(first)}
    moved = np.array([at.setdefault(name, len(at)) for name in second] + [-1], dtype=np.int32)
    return tuple(at), moved[codes]
