# SPDX-License-Identifier: BSD-3-Clause
"""How a ring is put together, what it stands on, and what is bought for it, as plain values in SI."""

from dataclasses import dataclass
from enum import Enum


class CornerKind(Enum):
    """How the straight pieces of a polygon meet."""

    MITRE = "mitre"
    ELBOW = "elbow"


class StandKind(Enum):
    STANDING = "standing"
    FIXED = "fixed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """What the ring stands on: a mast on `feet` on a circle, or one fixed to a house.

    `foot_circle` [m] diameter; `floor` [m] height of the feet, or of the fixing, above real earth; `mass` [kg] with the
    mast; `ballast` [kg] already there; `mast_diameter` [m]; `wind` [m/s] the gust it is to stand.
    """

    kind: StandKind = StandKind.STANDING
    feet: int = 3
    foot_circle: float = 1.2
    floor: float = 0.0
    mass: float = 4.0
    ballast: float = 0.0
    mast_diameter: float = 0.040
    wind: float = 25.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Building:
    """How it is made. None where it follows from the rest.

    `take_off` [m] from an elbow's corner to where the tube stops in it; `stock` [m] length that the ring's conductor is
    sold in, None from a coil; `kerf` [m] of the saw; `bend_allowance` [m] at each end of a bent piece, cut off
    afterwards; `connector_gap` [m] between the ends of the coupling's conductor; masses [kg]; box sizes [m], outside;
    `is_framed` whether a frame carries the ring.
    """

    corners: CornerKind = CornerKind.MITRE
    take_off: float = 0.010
    stock: float | None = 3.0
    kerf: float = 0.002
    bend_allowance: float = 0.100
    connector_gap: float = 0.010
    capacitor_mass: float | None = None
    box_mass: float = 0.5
    box_width: float | None = None
    box_height: float | None = None
    box_depth: float | None = None
    is_framed: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What one piece costs, in a currency's three letters."""

    amount: float
    currency: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """A line of the shopping list; `replaces` the design's own line of that name, None for a new one."""

    name: str
    count: int = 1
    price: Price | None = None
    replaces: str | None = None
