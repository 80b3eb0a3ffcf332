# SPDX-License-Identifier: BSD-3-Clause
"""The outside of the feedline's screen as a wire of the antenna, with its choke."""

from itertools import pairwise

import numpy as np

from ringwright.antenna.design import Feedline, SiteWire
from ringwright.errors import DesignError
from ringwright.physics.graph import FloatArray, WireGraph

STAND_OFF = 0.20
"""How far the cable leads away from the ring's plane before it goes down, clear of both conductors. [m]"""
CHOKE_AT = 0.10
"""Way along the cable from the coupling loop to its choke. [m]"""
ABOVE_EARTH = 0.10
"""Where it ends: as near the earth as the method allows. [m]"""
LONGEST_SEGMENT = 0.15
SCREEN_CONDUCTIVITY = 58e6


def coax_wires(
    feedline: Feedline, *, feed: FloatArray, axis: FloatArray, clear: float = 0.0
) -> tuple[SiteWire, ...]:
    """Straight pieces from the feed down, none where the cable's outside is left out.

    The cable begins `clear` [m] from the feed, where it is not bonded to anything there.

    Raises
    ------
    DesignError
        If the feed is too low for a cable to hang.
    """
    if not feedline.runs_down:
        return ()
    level = np.array([axis[0], axis[1], 0.0])
    away = feed + STAND_OFF * level
    if away[2] < ABOVE_EARTH + LONGEST_SEGMENT:
        raise DesignError(
            f'feedline.outside: the feed is {feed[2]:.2f} m above the earth, too low for a cable "straight down"; '
            "raise the ring or leave the cable's outside out",
            key="feedline.outside",
        )
    corners = [feed + clear * level, away, np.array([away[0], away[1], ABOVE_EARTH])]
    if np.linalg.norm(level) < 0.5:
        # A horizontal ring's plane is left by going down at once.
        corners = [feed - np.array([0.0, 0.0, clear]), np.array([feed[0], feed[1], ABOVE_EARTH])]
    return tuple(
        SiteWire(
            kind="coax outside",
            start=(float(a[0]), float(a[1]), float(a[2])),
            end=(float(b[0]), float(b[1]), float(b[2])),
            diameter=feedline.outer_diameter,
            conductivity=SCREEN_CONDUCTIVITY,
        )
        for a, b in pairwise(corners)
    )


def coax_graph(pieces: tuple[SiteWire, ...], address: int) -> WireGraph:
    """The pieces as one chain; its first node is the feed, its second carries the choke."""
    start = np.array(pieces[0].start)
    direction = np.array(pieces[0].end) - start
    choke = start + CHOKE_AT * direction / np.linalg.norm(direction)
    path, owner = [np.array([start, choke])], [np.zeros(1, dtype=np.int64)]
    for number, piece in enumerate(pieces):
        a, b = path[-1][-1], np.array(piece.end)
        count = int(np.ceil(np.linalg.norm(b - a) / LONGEST_SEGMENT))
        path.append(a + (b - a) * (np.arange(count)[:, None] + 1.0) / count)
        owner.append(np.full(count, number))
    nodes = np.concatenate(path)
    count = len(nodes) - 1
    return WireGraph(
        nodes=nodes,
        segments=np.stack([np.arange(count), np.arange(count) + 1], axis=1),
        radius=np.full(count, pieces[0].diameter / 2.0),
        wire=np.concatenate(owner),
        turn=np.zeros(count),
        address=np.full(count, address, dtype=np.int64),
        length_factor=np.ones(count),
    )
