# SPDX-License-Identifier: BSD-3-Clause
"""Fields around a ring on its site, at the design's power, unmodulated."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.solution import permittivity_of
from ringwright.errors import OutOfRangeError
from ringwright.physics.graph import FloatArray, WireGraph
from ringwright.physics.ground_near_field import ground_near_field
from ringwright.physics.near_field import NearFieldAt, near_field
from ringwright.physics.wave_kernel import ComplexArray

__all__ = ["FieldAtPoint", "NearFieldAt", "fields_at", "site_field"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FieldAtPoint:
    """Rms phasors of E (3,) [V/m] and H (3,) [A/m] at a place (3,) [m]."""

    at: FloatArray
    electric: ComplexArray
    magnetic: ComplexArray

    @property
    def e_rms(self) -> float:
        """Of the whole vector [V/m]."""
        return float(np.linalg.norm(self.electric))

    @property
    def h_rms(self) -> float:
        """Of the whole vector [A/m]."""
        return float(np.linalg.norm(self.magnetic))

    @property
    def e_peak(self) -> float:
        """Largest instantaneous length of the vector [V/m]."""
        return _peak(self.electric)

    @property
    def h_peak(self) -> float:
        """Largest instantaneous length of the vector [A/m]."""
        return _peak(self.magnetic)


def site_field(design: Design, point: OperatingPoint) -> NearFieldAt:
    """E [V/m] and H [A/m] as rms phasors, each (n, 3), at points (n, 3) [m] of a design's site."""
    graph, frequency = point.wires.graph, point.target.frequency
    direct = near_field(graph, point.current, frequency)
    if design.site.earth is None:
        return direct
    eps_c = permittivity_of(design.site.earth, frequency)
    reflected = ground_near_field(graph, point.current, frequency, eps_c=eps_c)

    def field_at(points: FloatArray) -> tuple[ComplexArray, ComplexArray]:
        (e, h), (e_ground, h_ground) = direct(points), reflected(points)
        return e + e_ground, h + h_ground

    return field_at


def fields_at(design: Design, point: OperatingPoint, places: FloatArray) -> tuple[FieldAtPoint, ...]:
    """Fields at places (n, 3) [m] where somebody or something could be.

    Raises
    ------
    OutOfRangeError
        If a place lies inside a conductor or in the earth.
    """
    if design.site.earth is not None and (places[:, 2] < 0.0).any():
        raise OutOfRangeError(
            f"{_shown(places[places[:, 2] < 0.0][0])} lies in the earth; heights count from z = 0 upwards"
        )
    inside = _is_inside(point.wires.graph, places)
    if inside.any():
        raise OutOfRangeError(f"{_shown(places[inside][0])} lies inside a conductor; move it out")
    electric, magnetic = site_field(design, point)(places)
    return tuple(
        FieldAtPoint(at=at, electric=e, magnetic=h)
        for at, e, h in zip(places, electric, magnetic, strict=True)
    )


def _peak(phasor: ComplexArray) -> float:
    """Half the major axis of the ellipse that sqrt(2) Re(v exp(jwt)) runs through."""
    return float(np.sqrt(np.sum(abs(phasor) ** 2) + abs(np.sum(phasor * phasor))))


def _is_inside(graph: WireGraph, places: FloatArray) -> FloatArray:
    start = graph.nodes[graph.segments[:, 0]]
    offset = places[:, None, :] - start
    along = np.clip(np.einsum("psc,sc->ps", offset, graph.tangents), 0.0, graph.lengths)
    apart = np.linalg.norm(offset - along[..., None] * graph.tangents, axis=2)
    return np.asarray((apart < graph.radius).any(axis=1))


def _shown(place: FloatArray) -> str:
    return "({:.4g} m, {:.4g} m, {:.4g} m)".format(*place)
