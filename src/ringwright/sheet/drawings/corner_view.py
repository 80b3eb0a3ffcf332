# SPDX-License-Identifier: BSD-3-Clause
"""A corner of a polygon: two pieces of conductor, and where each is sawn."""

import math

import numpy as np

from ringwright.antenna.building import CornerKind
from ringwright.physics.graph import FloatArray
from ringwright.sheet.build import Build
from ringwright.sheet.drawings.outlines import ring_section
from ringwright.sheet.drawings.scale import fitted
from ringwright.sheet.measures import angle
from ringwright.sheet.sketch import COPPER, INK, QUIET, THIN, Sketch

WIDTH, HEIGHT = 86.0, 70.0


def corner_view(build: Build, turning: float) -> Sketch:
    """The corner at which the conductor turns by `turning` [rad]."""
    design, measures = build.design, build.measures
    sketch = Sketch(WIDTH, HEIGHT, title="A corner, to scale")
    thick = ring_section(design)[0]
    size = max(4.0 * thick, 3.0 * design.building.take_off)
    is_mitre = design.building.corners is CornerKind.MITRE
    left, right = (
        corner_pieces(thick, turning, length=size)
        if is_mitre
        else elbow_pieces(thick, turning, length=size, take_off=design.building.take_off)
    )
    points = np.concatenate([left, right])
    view = fitted(
        points.min(axis=0), points.max(axis=0), left_top=(8.0, 12.0), room=(WIDTH - 16.0, HEIGHT - 24.0)
    )
    for piece in (left, right):
        sketch.shape(view(piece), ink=INK, width=0.35, fill="#f3e7db")
    inner, outer = view(left[1]), view(left[2])
    if is_mitre:
        sketch.line([inner, outer], ink=COPPER, width=0.6)
        sketch.leader(
            (inner + outer) / 2.0, (WIDTH / 2.0 + 6.0, 6.0), f"saw {angle(abs(turning) / 2.0)} off square"
        )
        longer = 2.0 * thick / 2.0 * abs(math.tan(turning / 2.0))
        words = f"outer edge {measures.length(longer)} longer than inner"
    else:
        sketch.circle(
            view((0.0, 0.0)), view.mm(design.building.take_off), ink=COPPER, width=0.4, dash="1.5 0.8"
        )
        words = (
            f"elbow of {angle(abs(turning))}: each tube, cut square, ends {measures.length(design.building.take_off)} "
            "before the axes cross"
        )
    sketch.text(words, (WIDTH / 2.0, HEIGHT - 7.0))
    sketch.text(
        f"{angle(math.pi - abs(turning))} inside, turns by {angle(abs(turning))}",
        (WIDTH / 2.0, HEIGHT - 2.5),
        ink=QUIET,
    )
    sketch.line(view([(-size, 0.0), (0.0, 0.0)]), ink=QUIET, width=THIN, dash="2 0.6 0.4 0.6")
    away = (math.cos(turning) * size, -math.sin(turning) * size)
    sketch.line(view([(0.0, 0.0), away]), ink=QUIET, width=THIN, dash="2 0.6 0.4 0.6")
    return sketch


def elbow_pieces(
    thick: float, turning: float, *, length: float, take_off: float
) -> tuple[FloatArray, FloatArray]:
    """As `corner_pieces`, cut square `take_off` [m] before the axes cross: what an elbow takes in."""
    half = thick / 2.0
    left = np.array([(-length, -half), (-take_off, -half), (-take_off, half), (-length, half)])
    c, s = math.cos(turning), -math.sin(turning)
    right_own = np.array([(length, -half), (take_off, -half), (take_off, half), (length, half)])
    return left, np.asarray(right_own @ np.array([[c, s], [-s, c]]))


def corner_pieces(thick: float, turning: float, *, length: float) -> tuple[FloatArray, FloatArray]:
    """Two mitred pieces whose axes meet at the origin: from the left, then turning clockwise by `turning` [rad].

    Corners (4, 2) [m] each; the second and third of the first are the ends of the saw cut.
    """
    half = thick / 2.0
    cut = half * math.tan(turning / 2.0)
    left = np.array([(-length, -half), (-cut, -half), (cut, half), (-length, half)])
    c, s = math.cos(turning), -math.sin(turning)
    turn = np.array([[c, s], [-s, c]])  # rows: along the second piece, its left side
    right_own = np.array([(length, -half), (cut, -half), (-cut, half), (length, half)])
    return left, np.asarray(right_own @ turn)
