# SPDX-License-Identifier: BSD-3-Clause
"""The suspects: what each cause may have done to the ring, how large it may be, and how often it is to blame.

How often, and how large, is common practice without a source. A fault is a change that matters: one that adds at least
a tenth to the resistance at the gap.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from enum import Enum
from types import MappingProxyType

import numpy as np
from scipy.special import ndtri

from ringwright.antenna.design import Design
from ringwright.physics.graph import FloatArray
from ringwright.proof.draws import Draws
from ringwright.proof.tried import CHOKES
from ringwright.proof.twin import Twin


class Cause(Enum):
    """What explains the difference between prediction and sweeps."""

    JOINTS = "joints"
    CAPACITOR = "capacitor"
    CONDUCTOR = "conductor"
    EARTH = "earth"
    METAL = "metal"
    COUPLING = "coupling"
    FEED_LINE = "feed_line"
    NONE = "none"


PRIOR: Mapping[Cause, float] = MappingProxyType(
    {
        Cause.JOINTS: 0.17,
        Cause.CAPACITOR: 0.14,
        Cause.CONDUCTOR: 0.13,
        Cause.EARTH: 0.05,
        Cause.METAL: 0.18,
        Cause.COUPLING: 0.10,
        Cause.FEED_LINE: 0.05,
        Cause.NONE: 0.18,
    }
)
SMALLEST, LARGEST = 0.1, 30.0
"""Resistance that a fault adds over that at the gap: what matters, and what nobody would overlook."""
WORST_CONDUCTOR = 10.0
"""Times the declared resistance of the ring's conductor, as of steel that was taken for something better."""
COUPLING_SPREAD = 0.05
"""Of the mutual impedance of a coupling loop bent by hand as declared, of its logarithm."""
REACTANCE_SPREAD = 0.15
"""Of the reactance of a coupling with its leads to the socket, of its logarithm: a centimetre of lead is some 10 nH."""
EARTH_SPREAD = (1.5, 0.8)
"""Of the logarithms of conductivity and permittivity if the earth is to blame."""
LEAST_BAR = 0.02
"""The least a bar adds at its resonance, over the resistance at the gap: most metal nearby hardly shows."""
BAR_Q = (5.0, 20.0)
"""Of wires near half a wave over an earth, from thick and low to thin and high."""
BAR_SKY = (0.2, 0.85)
"""Share of what a bar takes at its resonance that leaves for the sky."""
BAR_BEYOND = 1.2
"""A bar that resonates further than this factor beyond the swept frequencies hardly shows."""
BAR_WITH_RING = 0.95
"""How far the far fields of ring and bar add or cancel over the sky, at most; 1 is the bound of Cauchy and Schwarz."""
FRAME = 0.3
"""Spread of what a closed frame does to radiation and earth."""
FRAME_SHARE, OUTSIDE_SHARE = 0.15, 0.5
"""How often metal is a closed frame rather than a bar; and a feed line's common mode rather than its loss."""
CONTACT_SHARE = 0.25
"""How often a bad capacitor's loss is a contact's, the same at every frequency, rather than its insulation's."""
LOOP_NEARNESS = (0.6, 1.4)
"""Mutual impedance of a coupling elsewhere than declared, over that of one in its place."""
LINE_LOSS = (0.3, 4.0)
"""Of water in a cable or a bad plug, beyond the declared loss, at 10 MHz. [dB]"""

COLUMNS, TOLERATED = 12, 6
"""Of the uniform numbers that a set of draws is made from; the first are what the tolerances leave open."""


def draws_of(cause: Cause, twin: Twin, uniform: FloatArray) -> Draws:
    """Rings that this cause might have made, from `uniform` numbers (samples, `COLUMNS`)."""
    tolerated = _tolerated(twin.design, uniform)
    return tolerated if cause is Cause.NONE else _FAULTS[cause](tolerated, twin, uniform[:, TOLERATED:])


def _tolerated(design: Design, uniform: FloatArray) -> Draws:
    """What the design's tolerances leave open, whatever the cause."""
    normal, tolerance = ndtri(uniform[:, :TOLERATED]), design.tolerance
    return replace(
        Draws.as_declared(len(uniform)),
        capacitor_loss=np.exp(tolerance.capacitor_q * normal[:, 0]),
        joints=np.exp(tolerance.joint_resistance * normal[:, 1]),
        earth_conductivity=tolerance.earth * normal[:, 2],
        earth_permittivity=tolerance.earth * normal[:, 3],
        loop_nearness=np.exp(COUPLING_SPREAD * normal[:, 4]),
        loop_reactance=np.exp(REACTANCE_SPREAD * normal[:, 5]),
    )


def _log_uniform(u: FloatArray, low: float, high: float) -> FloatArray:
    return np.asarray(low * (high / low) ** u)


def _usual_resistance(twin: Twin) -> float:
    """Of the declared ring, a middle over its sweeps [ohm]."""
    return float(np.exp(np.log(twin.resistance(Draws.as_declared(1))).mean()))


def _joints(draws: Draws, twin: Twin, u: FloatArray) -> Draws:
    places = twin.parts.joint_share.shape[1]
    extra = _log_uniform(u[:, 0], SMALLEST, LARGEST) * _usual_resistance(twin)
    return replace(draws, joint_extra=extra, joint_place=np.asarray(u[:, 1] * places, dtype=np.int64))


def _capacitor(draws: Draws, twin: Twin, u: FloatArray) -> Draws:
    extra = _log_uniform(u[:, 0], SMALLEST, LARGEST) * _usual_resistance(twin)
    is_contact = u[:, 1] < CONTACT_SHARE
    middle = float(np.exp(np.log(twin.parts.reactance).mean()))
    return replace(
        draws,
        capacitor_contact=np.where(is_contact, extra, 0.0),
        capacitor_tangent=np.where(is_contact, 0.0, extra / middle),
    )


def _conductor(draws: Draws, twin: Twin, u: FloatArray) -> Draws:
    over_ring = _usual_resistance(twin) / float(np.exp(np.log(twin.parts.ring).mean()))
    most = min(LARGEST * over_ring, WORST_CONDUCTOR - 1.0)
    least = min(SMALLEST * over_ring, most / 2.0)
    return replace(draws, conductor=1.0 + _log_uniform(u[:, 0], least, most))


def _earth(draws: Draws, _: Twin, u: FloatArray) -> Draws:
    normal = ndtri(u[:, :2])
    return replace(
        draws,
        earth_conductivity=draws.earth_conductivity + EARTH_SPREAD[0] * normal[:, 0],
        earth_permittivity=draws.earth_permittivity + EARTH_SPREAD[1] * normal[:, 1],
        is_other_earth=True,
    )


def _metal(draws: Draws, twin: Twin, u: FloatArray) -> Draws:
    swept = twin.frequency
    low, high = float(swept.min()) / BAR_BEYOND, float(swept.max()) * BAR_BEYOND
    is_frame = u[:, 5] < FRAME_SHARE
    peak = _log_uniform(u[:, 0], LEAST_BAR, LARGEST) * _usual_resistance(twin)
    return replace(
        draws,
        bar_peak=np.where(is_frame, 0.0, peak),
        bar_frequency=_log_uniform(u[:, 1], low, high),
        bar_q=_log_uniform(u[:, 2], *BAR_Q),
        bar_angle=0.3 * ndtri(u[:, 3]),
        bar_sky=BAR_SKY[0] + (BAR_SKY[1] - BAR_SKY[0]) * u[:, 4],
        # Of a bar u[:, 5] says nothing else but that it is one.
        bar_with_ring=BAR_WITH_RING * (2.0 * (u[:, 5] - FRAME_SHARE) / (1.0 - FRAME_SHARE) - 1.0) * ~is_frame,
        frame=np.where(is_frame, np.expm1(FRAME * ndtri(u[:, 4])), 0.0),
    )


def _coupling(draws: Draws, twin: Twin, u: FloatArray) -> Draws:
    least, most = twin.loop.reach
    return replace(
        draws,
        loop_size=least + (most - least) * u[:, 0],
        loop_nearness=draws.loop_nearness * _log_uniform(u[:, 1], *LOOP_NEARNESS),
    )


def _feed_line(draws: Draws, _: Twin, u: FloatArray) -> Draws:
    is_outside = u[:, 2] < OUTSIDE_SHARE
    return replace(
        draws,
        line_loss=np.where(is_outside, 0.0, _log_uniform(u[:, 0], *LINE_LOSS)),
        choke_left=np.asarray(u[:, 1] * len(CHOKES), dtype=np.int64),
        has_common_mode=is_outside.astype(float),
    )


_FAULTS: Mapping[Cause, Callable[[Draws, Twin, FloatArray], Draws]] = MappingProxyType(
    {
        Cause.JOINTS: _joints,
        Cause.CAPACITOR: _capacitor,
        Cause.CONDUCTOR: _conductor,
        Cause.EARTH: _earth,
        Cause.METAL: _metal,
        Cause.COUPLING: _coupling,
        Cause.FEED_LINE: _feed_line,
    }
)
