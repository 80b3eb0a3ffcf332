# SPDX-License-Identifier: BSD-3-Clause
"""Coastlines that ship with the program: Natural Earth, 1:110m, public domain (see coastlines/NOTICE.txt)."""

import json
from functools import cache
from importlib.resources import files

import numpy as np

from ringwright.physics.checks import FloatArray


@cache
def coastlines() -> tuple[FloatArray, ...]:
    """Lines (n, 2) of longitude and latitude [deg], decoded from TopoJSON's quantised steps."""
    topology = json.loads(files("ringwright.air").joinpath("coastlines/land-110m.json").read_text("utf-8"))
    scale, shift = (np.array(topology["transform"][name]) for name in ("scale", "translate"))
    return tuple(np.cumsum(np.array(arc, dtype=float), axis=0) * scale + shift for arc in topology["arcs"])
