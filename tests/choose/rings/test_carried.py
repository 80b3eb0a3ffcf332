# SPDX-License-Identifier: BSD-3-Clause
"""What is carried from solutions nearby: polynomials exact where they must be, and figures those of a prediction."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.design_file import parse_design
from ringwright.antenna.predict import predict
from ringwright.choose.rings.axis import axis_nodes, axis_weights
from ringwright.choose.rings.candidate import Candidate, text_of
from ringwright.choose.rings.family import family_of
from ringwright.choose.rings.finding import find_rings
from ringwright.choose.rings.node import NodeTask, bare, solve_node
from ringwright.choose.rings.plan import mesh_of
from ringwright.choose.rings.rating import Rings
from ringwright.choose.rings.verify import VerifyTask, verify
from tests.choose.rings.briefs import SMALL, brief


def test_few_sizes_are_solved_as_they_are_and_many_at_chebyshev_points():
    assert axis_nodes([3.0, 1.0, 2.0, 1.0], 4) == (1.0, 2.0, 3.0)
    nodes = axis_nodes(np.linspace(1.0, 4.0, 40), 5)
    assert (len(nodes), nodes[0], nodes[-1]) == (5, 1.0, 4.0)
    # the logarithm's Chebyshev points of the second kind: Berrut and Trefethen 2004, sec. 5
    assert np.log(nodes) == pytest.approx(
        np.log(2.0) * (1.0 - np.cos(np.pi * np.arange(5) / 4)), rel=1e-12, abs=1e-12
    )


def test_the_polynomial_carries_powers_of_the_logarithm_exactly():
    nodes, at = axis_nodes(np.linspace(0.5, 3.0, 40), 4), np.array([0.5, 0.77, 1.9, 3.0])
    weights = axis_weights(nodes, at)
    for power in range(4):
        assert weights @ np.log(nodes) ** power == pytest.approx(np.log(at) ** power, rel=1e-12, abs=1e-12)
    assert (axis_weights([2.0], np.array([2.0])) == 1.0).all()


def test_a_conductor_between_the_solved_ones_has_the_figures_of_its_prediction():
    sizes = ", ".join(f'{{ diameter = "{size} mm" }}' for size in (6, 9, 13, 19, 28))
    between = brief(
        SMALL,
        ('{ diameter = "22 mm" }, { diameter = "12 mm" }', sizes),
        ('"3 m", 2', '"2 m", 1'),
        ('earth = "free space"', 'earth = "average"'),
    )
    found = find_rings(between)
    assert found.solutions == 6 * 4  # four thicknesses for five conductors
    (carried,) = (each for each in found.candidates if each.place == (0, 0, 1, 0) and not each.is_verified)
    limits = replace(between.limits)
    solved = verify(
        VerifyTask(candidate=carried, text=text_of(between, carried.place, carried.coupling), limits=limits)
    )
    assert isinstance(solved, Candidate)
    for one, other in zip(carried.bands, solved.bands, strict=True):
        assert one.sky == pytest.approx(other.sky, rel=0.02, abs=0)  # 0.09 dB
        assert one.capacitance == pytest.approx(other.capacitance, rel=5e-4, abs=0)
        assert one.voltage_peak == pytest.approx(other.voltage_peak, rel=2e-3, abs=0)
        assert one.swr_min == pytest.approx(other.swr_min, abs=0.05)
        assert one.bandwidth == pytest.approx(other.bandwidth, rel=0.05, abs=0)
        assert one.people_margin_db == pytest.approx(other.people_margin_db, abs=0.17)
    assert carried.mass == pytest.approx(solved.mass, rel=1e-3, abs=0)


def test_capacitances_at_a_wide_bands_edges_are_those_of_its_prediction():
    wide = brief(SMALL, ('"20m", "17m"', '"10m"'), ('"2 m", "3 m", 2', '"1.4 m", "1.4 m", 1'))
    base, part = wide.bases["circle"], wide.conductors[0].conductor
    mesh = mesh_of(wide, "circle", perimeters=[1.4], radii=[part.electrical_radius])
    nodes = {index: solve_node(task) for index, task in mesh.tasks()}
    family = family_of(mesh, nodes, perimeter=1.4, radii=[part.electrical_radius])
    rated = Rings.of(base, family, (part,), joint_resistance=np.zeros(1)).rated(wide.capacitors[0].capacitor)
    text = text_of(wide, (0, 0, 0, 0), float(rated.coupling[0]))
    (band,) = predict(parse_design(text, source="candidate")).bands
    edges = (band.tuning.capacitance_lower_edge, band.tuning.capacitance_upper_edge)
    assert rated.edges[0, 0] == pytest.approx(edges, rel=5e-3, abs=0)


def test_a_solution_has_a_name_for_all_that_it_depends_on():
    base = brief().bases["circle"]

    def key(design, *, is_seen=False, **size):
        sizes = {"perimeter": 3.0, "radius": 0.01, "coupling_diameter": 0.2} | size
        return NodeTask(design=bare(design, **sizes), is_seen=is_seen).key

    site, target = base.site, base.targets[0]
    others = [
        key(base, is_seen=True),
        key(base, perimeter=3.1),
        key(base, radius=0.011),
        key(base, coupling_diameter=0.21),
        key(brief(SMALL, ('["circle"]', '["square"]')).bases["square"]),
        key(replace(base, site=replace(site, height=3.0))),
        key(replace(base, targets=(replace(target, frequency=14.1e6), *base.targets[1:]))),
        key(brief(SMALL, ('"free space"', '"poor"')).bases["circle"]),
    ]
    assert len({key(base), *others}) == 1 + len(others)
    # What is arithmetic on the network needs no other solution.
    assert key(replace(base, power=7.0, tolerance=replace(base.tolerance, earth=0.1))) == key(base)
    moved = replace(site, people=(replace(site.people[0], at=(9.0, 0.0, 2.0)),))
    assert key(replace(base, site=moved)) == key(base)
    assert key(replace(base, site=moved), is_seen=True) != key(base, is_seen=True)
