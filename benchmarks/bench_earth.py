# SPDX-License-Identifier: BSD-3-Clause
"""What a prediction over earth costs: the ring alone, beside metal, moved; and its directions."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import count

from ringwright.antenna.design import Design, SiteMesh, SiteWire
from ringwright.antenna.directions import dipole_in_its_place
from ringwright.antenna.directions_document import directions, directions_document
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import FIRST_RING, TERRACE_OCTAGON, shipped_design
from ringwright.antenna.solution import SolutionMemory


def bench_earth() -> Callable[[], object]:
    """Predict three bands over earth, with SWR, pattern and budget, a geometry not seen before."""
    rings = _rings(shipped_design(FIRST_RING))
    return lambda: predict(next(rings))


def bench_railing() -> Callable[[], object]:
    """Predict three bands over earth, 4 m of railing beside the ring, a geometry not seen before."""
    rings = _rings(shipped_design(TERRACE_OCTAGON))
    return lambda: predict(next(rings))


def bench_height() -> Callable[[], object]:
    """Predict three bands over earth, the same ring at a height not seen before."""
    design, memory = shipped_design(FIRST_RING), SolutionMemory()
    heights = (1.5 + 1e-3 * number for number in count())
    return lambda: predict(replace(design, site=replace(design.site, height=next(heights))), memory)


def bench_long_railing() -> Callable[[], object]:
    """Predict three bands over earth, 10 m of railing beside the ring, a geometry not seen before."""
    railing = SiteWire(
        kind="railing",
        start=(-5.0, 1.2, 0.9),
        end=(5.0, 1.2, 0.9),
        diameter=0.04,
        conductivity=7e6,
        mu_r=100.0,
    )
    rings = _beside(railing)
    return lambda: predict(next(rings))


def bench_mesh() -> Callable[[], object]:
    """Predict three bands over earth, a slab of 3 m by 3 m in half-metre mesh below, a geometry not seen before."""
    slab = SiteMesh(
        corner=(-1.5, -1.5, 0.5),
        along=(3.0, 0.0, 0.0),
        across=(0.0, 3.0, 0.0),
        spacing=0.5,
        diameter=0.01,
        conductivity=7e6,
        mu_r=100.0,
    )
    rings = _beside(slab)
    return lambda: predict(next(rings))


def bench_height_beside_a_railing() -> Callable[[], object]:
    """Predict three bands over earth, the same ring at a height not seen before, 4 m of railing beside."""
    design, memory = shipped_design(TERRACE_OCTAGON), SolutionMemory()
    heights = (1.5 + 1e-3 * number for number in count())
    return lambda: predict(replace(design, site=replace(design.site, height=next(heights))), memory)


def bench_directions() -> Callable[[], object]:
    """Directions of three predicted bands over earth, with the pattern in space and a dipole beside."""
    design = shipped_design(TERRACE_OCTAGON)
    prediction = predict(design)
    return lambda: directions_document(design, directions(design, prediction))


def bench_dipole() -> Callable[[], object]:
    """Half-wave dipole in the ring's place, one band over earth."""
    design = shipped_design(FIRST_RING)
    point = predict(design).bands[1].point
    return lambda: dipole_in_its_place(design, point, SolutionMemory())


def _beside(metal: SiteWire | SiteMesh) -> Iterator[Design]:
    """The first ring beside some metal."""
    design = shipped_design(FIRST_RING)
    return _rings(replace(design, site=replace(design.site, metal=(metal,))))


def _rings(design: Design) -> Iterator[Design]:
    """The same design a hair larger each time, so that no geometry is met twice."""
    for number in count():
        yield replace(
            design, ring=replace(design.ring, perimeter=design.ring.perimeter * (1.0 + 1e-5 * number))
        )
