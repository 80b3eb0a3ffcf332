# SPDX-License-Identifier: BSD-3-Clause
"""What a site must keep for the method to hold: height above the earth, width, and no bodies in each other."""

from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from ringwright.antenna.design import Design, SiteMesh, SiteWire
from ringwright.antenna.site_metal import JOIN, ends_of
from ringwright.errors import DesignError
from ringwright.physics.graph import FloatArray, WireGraph
from ringwright.physics.half_space.kernels import LOWEST_PAIR, WIDEST_PAIR
from ringwright.units import format_quantity

LOWEST = LOWEST_PAIR / 2.0
"""No conductor's axis lies lower over an earth. [m]"""
GRAIN = 1e-9


def check_heights(design: Design) -> None:
    """Refuse what lies nearer the earth than the method holds.

    Raises
    ------
    DesignError
        Naming `site.height` or the piece of `site.metal`.
    """
    if design.site.earth is None:
        return
    holds = f"but over an earth the method holds only from {format_quantity(LOWEST, 'm')} up"
    if design.site.height < LOWEST - GRAIN:
        shown = format_quantity(design.site.height, "m")
        raise DesignError(
            f"site.height: the ring's lowest point is {shown} above the earth, {holds}: raise the ring",
            key="site.height",
        )
    for number, piece in enumerate(design.site.metal, start=1):
        lowest = float(_corners(piece)[:, 2].min())
        if lowest < LOWEST - GRAIN:
            shown = format_quantity(lowest, "m")
            raise DesignError(
                f"site.metal[{number}]: the {_kind(piece)} comes down to {shown} above the earth, {holds}: raise it "
                "or leave that part out",
                key=f"site.metal[{number}]",
            )


def check_width(design: Design, graph: WireGraph) -> None:
    """Refuse metal so far away that the method over an earth does not hold.

    Raises
    ------
    DesignError
        Naming `site.metal`.
    """
    level = graph.nodes[:, :2]
    # The nodes' box is quick and never too narrow; only one that is too wide is looked at closer.
    if design.site.earth is None or np.linalg.norm(np.ptp(level, axis=0)) <= WIDEST_PAIR:
        return
    apart = float(np.linalg.norm(level[:, None] - level, axis=2).max())
    if apart > WIDEST_PAIR:
        raise DesignError(
            f"site.metal: two conductors lie {format_quantity(apart, 'm', digits=3)} apart, but over an earth the "
            f"method holds only up to {format_quantity(WIDEST_PAIR, 'm')}: leave the far one out",
            key="site.metal",
        )


def check_feedline(cable: Sequence[SiteWire], metal: Sequence[SiteWire]) -> None:
    """Refuse a feedline that runs through metal.

    Raises
    ------
    DesignError
        Naming `feedline.outside`.
    """
    for piece in cable:
        for wire in metal:
            if _between(ends_of(piece), ends_of(wire)) < (piece.diameter + wire.diameter) / 2.0:
                raise DesignError(
                    f"feedline.outside: straight down, the cable runs into the {wire.kind}; turn the ring, move the "
                    "metal, or leave the cable's outside out",
                    key="feedline.outside",
                )


def unjoined_contacts(metal: Sequence[SiteWire | SiteMesh]) -> Iterator[tuple[SiteWire, SiteWire]]:
    """Pairs of wires whose bodies touch though neither ends on the other's axis, so that they count as apart.

    A mesh is left out: what is joined to it ends on it.
    """
    wires = [piece for piece in metal if isinstance(piece, SiteWire)]
    for first, second in combinations(wires, 2):
        a, b = ends_of(first), ends_of(second)
        from_ends = min(to_line(a, b).min(), to_line(b, a).min())
        if from_ends >= JOIN and _between(a, b) < (first.diameter + second.diameter) / 2.0:
            yield first, second


def to_line(points: FloatArray, ends: FloatArray) -> FloatArray:
    """Distance of points (n, 3) from the straight piece between two ends (2, 3) [m]."""
    direction = ends[1] - ends[0]
    place = np.clip((points - ends[0]) @ direction / (direction @ direction), 0.0, 1.0)
    return np.asarray(np.linalg.norm(points - ends[0] - place[:, None] * direction, axis=1))


def _between(a: FloatArray, b: FloatArray) -> float:
    """Least distance between two straight pieces (2, 3) [m]: of an end from the other, or where the lines cross."""
    u, v, offset = a[1] - a[0], b[1] - b[0], b[0] - a[0]
    normal = np.cross(u, v)
    square = float(normal @ normal)
    from_ends = min(float(to_line(a, b).min()), float(to_line(b, a).min()))
    if square < 1e-12 * float(u @ u) * float(v @ v):
        return from_ends
    on_a, on_b = (float(np.cross(offset, other) @ normal) / square for other in (v, u))
    crosses = 0.0 <= on_a <= 1.0 and 0.0 <= on_b <= 1.0
    return abs(float(offset @ normal)) / np.sqrt(square) if crosses else from_ends


def _corners(piece: SiteWire | SiteMesh) -> FloatArray:
    if isinstance(piece, SiteWire):
        return ends_of(piece)
    corner, along, across = (np.array(v) for v in (piece.corner, piece.along, piece.across))
    return np.array([corner, corner + along, corner + across, corner + along + across])


def _kind(piece: SiteWire | SiteMesh) -> str:
    return piece.kind if isinstance(piece, SiteWire) else "mesh"
