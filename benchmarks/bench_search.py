# SPDX-License-Identifier: BSD-3-Clause
"""What a search is made of: a full-wave solution for three bands over earth, and judging a family's candidates."""

from collections.abc import Callable

from benchmarks.search_grid import BRIEF
from ringwright.choose.rings.brief_file import parse_brief
from ringwright.choose.rings.family import family_of
from ringwright.choose.rings.judging import judged
from ringwright.choose.rings.node import solve_node
from ringwright.choose.rings.plan import mesh_of


def bench_solution() -> Callable[[], object]:
    """Solve one ring with one coupling loop for three bands over earth, for a search."""
    brief = parse_brief(BRIEF, source="benchmark")
    mesh = mesh_of(brief, "octagon", perimeters=[3.0], radii=[0.011])
    task = next(task for _, task in mesh.tasks() if not task.is_seen)
    return lambda: solve_node(task)


def bench_family() -> Callable[[], object]:
    """Match and judge 200 candidates of one shape and perimeter on three bands, solutions at hand."""
    brief = parse_brief(BRIEF, source="benchmark")
    radii = [part.conductor.electrical_radius for part in brief.conductors[:25]]
    perimeter = brief.perimeters[10]
    mesh = mesh_of(brief, "octagon", perimeters=[perimeter], radii=sorted(set(radii)))
    nodes = {index: solve_node(task) for index, task in mesh.tasks()}
    wanted = [(0, 10, c, k) for c in range(25) for k in range(8)]
    return lambda: list(judged(brief, family_of(mesh, nodes, perimeter=perimeter, radii=radii), wanted))
