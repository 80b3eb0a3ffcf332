# SPDX-License-Identifier: BSD-3-Clause
"""What a page draws of a prediction, as plain arrays in SI: curves at the feed, and the ring in space."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.geometry import Address
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.prediction import BandPrediction
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray

CURVE_POINTS = 97
"""Equal steps of phase along the resonance's circle, under 2 degrees each: smooth at any size on a screen."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Curves:
    """What the feed sees across one band [Hz] with the capacitor at its setting."""

    band: str | None
    edges: tuple[float, float]
    frequency: FloatArray
    swr: FloatArray
    reflection: ComplexArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawing:
    """Ring and coupling in space: nodes (n, 3) [m] of conductors, the ring's closed, from the gap on.

    `coupling` is closed as a loop and open as a tapped coupling's arm, from the ring back to it; without nodes where a
    transformer's core sits at the `feed`, `core_turns` being those of its primary and the ring's passes. `current`
    [A rms] at each node of the ring in one band, at the design's power.
    """

    ring: FloatArray
    ring_radius: float
    current: FloatArray
    coupling: FloatArray
    coupling_radius: float
    coupling_is_closed: bool
    core_turns: tuple[int, int] | None
    feed: FloatArray
    centre: FloatArray
    across: FloatArray
    up: FloatArray
    axis: FloatArray
    gap_voltage_peak: float


def curves(band: BandPrediction) -> Curves:
    """SWR and reflection over the band, or over what was solved if the band is a single frequency."""
    point = band.point
    frequency = _close_in_the_dip(
        centre=band.match.frequency, half_width=band.bandwidth_half_power, nodes=point.tuned.network.nodes
    )
    return Curves(
        band=band.band,
        edges=(point.target.low, point.target.high),
        frequency=frequency,
        swr=point.tuned.swr(frequency),
        reflection=point.tuned.reflection(frequency),
    )


def drawing(point: OperatingPoint) -> Drawing:
    """Ring and coupling with the current of one band."""
    wires, graph = point.wires, point.wires.graph
    ring, coupling = (np.flatnonzero(graph.address == part) for part in (Address.RING, Address.COUPLING))
    starts = graph.segments[:, 0]
    is_closed, core = wires.beside is None, wires.core
    path = starts[coupling] if is_closed else np.append(starts[coupling], graph.segments[coupling[-1], 1])
    return Drawing(
        ring=graph.nodes[starts[ring]],
        ring_radius=float(graph.radius[ring[0]]),
        current=np.asarray(abs(point.current[ring, 0])),
        coupling=graph.nodes[path],
        coupling_radius=float(graph.radius[coupling[0]]) if len(coupling) else 0.0,
        coupling_is_closed=is_closed,
        core_turns=None if core is None else (core.primary_turns, core.passes),
        feed=graph.nodes[wires.feed],
        centre=wires.centre,
        across=wires.across,
        up=wires.up,
        axis=wires.axis,
        gap_voltage_peak=point.gap_voltage_peak,
    )


def _close_in_the_dip(*, centre: float, half_width: float, nodes: FloatArray) -> FloatArray:
    """Frequencies [Hz] over the solved range, close where the phase turns and far apart where it rests.

    Off resonance by x half widths the phase has turned by arctan x.
    """
    ends = np.arctan((nodes[[0, -1]] - centre) / half_width)
    return np.asarray(centre + half_width * np.tan(np.linspace(ends[0], ends[1], CURVE_POINTS)))
