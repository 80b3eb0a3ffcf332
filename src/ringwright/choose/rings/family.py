# SPDX-License-Identifier: BSD-3-Clause
"""All rings of one shape and perimeter: their lossless network for any conductor and coupling, from those solved."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from ringwright.choose.rings.axis import axis_weights
from ringwright.choose.rings.node import Node
from ringwright.choose.rings.plan import Index, Mesh
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Family:
    """Conductors c, mesh couplings d, frequencies f.

    `outside`, `ring`, `coupling`, `joints` (c, d, f, 2, 2), `sky`, `metal` (c, f), `fields` (c, f, people, 2), as of a
    `Node`. `is_built` (c,): whether a conductor's ring could be solved; `refusal` a sentence where one could not.
    """

    perimeter: float
    ratios: tuple[float, ...]
    outside: ComplexArray
    ring: FloatArray
    coupling: FloatArray
    joints: FloatArray
    sky: FloatArray
    metal: FloatArray
    fields: FloatArray
    is_built: FloatArray
    refusal: str | None


def family_of(mesh: Mesh, nodes: Mapping[Index, Node], *, perimeter: float, radii: Sequence[float]) -> Family:
    """The rings of one perimeter [m] with conductors of these radii [m]."""
    along = axis_weights(mesh.perimeters, np.array([perimeter]))[0]
    used = np.flatnonzero(along)
    whole = [a for a in range(len(mesh.radii)) if all(_is_whole(mesh, nodes, (int(p), a)) for p in used)]
    refused = next((node.refusal for node in nodes.values() if node.refusal is not None), None)
    count, middle = len(mesh.ratios), len(mesh.ratios) // 2
    if not whole:
        return _empty(mesh, perimeter=perimeter, conductors=len(radii), refusal=refused)
    solved = [mesh.radii[a] for a in whole]
    least, most = solved[0] * (1.0 - 1e-9), solved[-1] * (1.0 + 1e-9)
    is_built = np.array([least <= radius <= most for radius in radii])
    across = axis_weights(solved, np.clip(radii, solved[0], solved[-1]))

    def carried(name: str, couplings: Sequence[int]) -> Any:
        here = np.array(
            [[[getattr(nodes[int(p), a, d], name) for d in couplings] for a in whole] for p in used]
        )
        return np.einsum("ca,a...->c...", across, np.tensordot(along[used], here, axes=1))

    every = range(count)
    return Family(
        perimeter=perimeter,
        ratios=mesh.ratios,
        outside=carried("outside", every),
        ring=carried("ring", every),
        coupling=carried("coupling", every),
        joints=carried("joints", every),
        sky=carried("sky", [middle])[:, 0],
        metal=carried("metal", [middle])[:, 0],
        fields=carried("fields", [middle])[:, 0],
        is_built=is_built,
        refusal=refused,
    )


def coupling_weights(family: Family, diameters: FloatArray) -> FloatArray:
    """Weights (n, d) of the mesh's couplings for loops of these diameters [m]."""
    return axis_weights(family.ratios, diameters * math.pi / family.perimeter)


def _is_whole(mesh: Mesh, nodes: Mapping[Index, Node], ring: tuple[int, int]) -> bool:
    found = [nodes.get((*ring, d)) for d in range(len(mesh.ratios))]
    return all(node is not None and node.refusal is None for node in found)


def _empty(mesh: Mesh, *, perimeter: float, conductors: int, refusal: str | None) -> Family:
    f, people = len(mesh.base.targets), len(mesh.base.site.people)
    two_ports = np.zeros((conductors, len(mesh.ratios), f, 2, 2))
    return Family(
        perimeter=perimeter,
        ratios=mesh.ratios,
        outside=two_ports.astype(complex),
        ring=two_ports,
        coupling=two_ports,
        joints=two_ports,
        sky=np.zeros((conductors, f)),
        metal=np.zeros((conductors, f)),
        fields=np.zeros((conductors, f, people, 2)),
        is_built=np.zeros(conductors, dtype=bool),
        refusal=refusal,
    )
