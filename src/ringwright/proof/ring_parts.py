# SPDX-License-Identifier: BSD-3-Clause
"""A ring with its coupling and site, solved once at the frequencies of its sweeps and taken apart by address."""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from ringwright.antenna.capacitor_parts import lead_impedance
from ringwright.antenna.design import Design
from ringwright.antenna.far_side import far_side_of
from ringwright.antenna.geometry import Wires, build_wires
from ringwright.antenna.network import FEED, GAP, RingNetwork
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray

Values = TypeVar("Values", FloatArray, ComplexArray)

STEP = 1e-3
"""Share of the frequency over which the slope of the reactance is taken: the width of a resonance of Q 500."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RingParts:
    """The declared ring at the swept frequencies, coupling left to itself; (b,) each.

    Attributes
    ----------
    frequency : ndarray of float64, shape (b,)
        [Hz]
    open_air : ndarray of float64, shape (b,)
        Resistance at the gap of sky, earth, metal nearby and the coupling's own conductor. [ohm]
    sky, ring, joints : ndarray of float64, shape (b,)
        Resistance at the gap by address; `sky` is a part of `open_air`. [ohm]
    joint_share : ndarray of float64, shape (b, places)
        Square of the current at each joint over that through the gap, the gap's own terminals first. [1]
    reactance, stiffness : ndarray of float64, shape (b,)
        X of ring and leads at the gap, and f dX/df + X, which over twice the resistance is the unloaded Q. [ohm]
    port : ndarray of complex128, shape (b,)
        What the feed shows without the resonance, over the feedline's impedance; of a transformer its inverse. [1]
    strength : ndarray of complex128, shape (b,)
        Over the resistance at the gap: what the resonance adds to `port`. [ohm]
    port_slope, strength_slope : ndarray of complex128, shape (b,)
        f d/df of `port`, and of the logarithm of `strength`. [1]
    """

    frequency: FloatArray
    open_air: FloatArray
    sky: FloatArray
    ring: FloatArray
    joints: FloatArray
    joint_share: FloatArray
    reactance: FloatArray
    stiffness: FloatArray
    port: ComplexArray
    strength: ComplexArray
    port_slope: ComplexArray
    strength_slope: ComplexArray


def ring_parts(design: Design, frequency: FloatArray, memory: SolutionMemory) -> RingParts:
    """Solve the declared ring at the swept frequencies [Hz]."""
    wires = build_wires(design)
    around = np.concatenate([frequency * (1.0 - STEP), frequency * (1.0 + STEP)])
    solution = memory.solution(wires, around, design.site.earth)
    network = RingNetwork.of(design, wires, solution)
    z, reference = network.total_at_nodes, design.feedline.impedance
    turns = z[:, FEED, GAP] / z[:, FEED, FEED]
    driven = np.stack([-turns if network.rests_shorted else 0.0 * turns, np.ones(len(around))], axis=1)
    gap = np.einsum("mp,mp->m", driven, z[:, GAP])
    reactance = gap.imag + lead_impedance(design.capacitor, around).imag
    ring, joints = (
        _middle(np.einsum("mp,mpq,mq->m", driven.conj(), network.power_at_nodes[name], driven).real)
        for name in ("ring", "joints")
    )
    current = _middle(np.einsum("msep,mp->mse", solution.current, driven))
    port = reference / z[:, FEED, FEED] if network.rests_shorted else z[:, FEED, FEED] / reference
    strength = reference * turns**2 if network.rests_shorted else -(z[:, FEED, GAP] ** 2) / reference
    return RingParts(
        frequency=frequency,
        open_air=_middle(gap.real) - ring - joints,
        sky=_sky(design, wires, frequency=frequency, current=current),
        ring=ring,
        joints=joints,
        joint_share=_joint_share(wires, current),
        reactance=_middle(reactance),
        stiffness=_slope(reactance) + _middle(reactance),
        port=_middle(port),
        strength=_middle(strength),
        port_slope=_slope(port),
        strength_slope=_slope(strength) / _middle(strength),
    )


def _middle(around: Values) -> Values:
    below, above = np.split(around, 2)
    return (below + above) / 2.0


def _slope(around: Values) -> Values:
    """f d/df."""
    below, above = np.split(around, 2)
    return (above - below) / (2.0 * STEP)


def _sky(design: Design, wires: Wires, *, frequency: FloatArray, current: ComplexArray) -> FloatArray:
    return np.array(
        [
            far_side_of(wires.graph, each, frequency=float(f), earth=design.site.earth).sky
            for f, each in zip(frequency, current, strict=True)
        ]
    )


def _joint_share(wires: Wires, current: ComplexArray) -> FloatArray:
    places = np.array([(0, 0.0), *wires.joints])
    segment, fraction = places[:, 0].astype(int), places[:, 1]
    there = current[:, segment, 0] * (1.0 - fraction) + current[:, segment, 1] * fraction
    return np.asarray(abs(there) ** 2)
