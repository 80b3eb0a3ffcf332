# SPDX-License-Identifier: BSD-3-Clause
"""What a ring tunes with its capacitor, whatever the bands."""

from dataclasses import dataclass, replace

import numpy as np

from ringwright.antenna.capacitor import range_at_gap
from ringwright.antenna.design import Design, Earth
from ringwright.antenna.geometry import Wires
from ringwright.antenna.network import (
    HIGHEST_SOLVED,
    LOWEST_SOLVED,
    RingNetwork,
    barycentric,
    chebyshev_nodes,
)
from ringwright.antenna.solution import SolutionMemory
from ringwright.antenna.tuning import capacitance_of_best_match
from ringwright.physics.constants import C_0
from ringwright.physics.graph import FloatArray
from ringwright.physics.thin_wire import PortSolution
from ringwright.physics.wave_kernel import ComplexArray

SHORTEST, LONGEST = 0.004, 0.45
"""Wire length over wavelength between which a reach is sought: below, the solver loses digits; above lies the ring's
own half-wave resonance, which no capacitor passes."""
FIRST_LOOK = 10


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ReachEnd:
    """One end of what a ring tunes, where the whole capacitance is `farads`.

    It is told from the solution at `solved_at` [Hz] nearby, `on` whose wires and over whose `earth` the ring stands
    there. (C - farads) f^2 changes by `slope` [F] with f^2, C the capacitance of best match.
    """

    farads: float
    solved_at: float
    slope: float
    on: Wires
    earth: Earth | None
    network: RingNetwork
    current: ComplexArray

    def frequency(self, capacitance: FloatArray) -> FloatArray:
        """Where the ring ends [Hz] whose capacitance of best match at `solved_at` is this [F]."""
        near = self.solved_at**2
        return np.asarray(np.sqrt(near - (capacitance - self.farads) * near / self.slope))

    def of(self, design: Design) -> float:
        """Where the design's own ring ends [Hz]."""
        capacitance = capacitance_of_best_match(
            self.network.total_at_nodes,
            design.capacitor,
            self.network.nodes,
            reference=design.feedline.impedance,
        )
        return float(self.frequency(capacitance)[0])


def reach_ends(
    design: Design, *, lone: Wires, wires: Wires, memory: SolutionMemory
) -> tuple[ReachEnd | None, ReachEnd | None]:
    """Lowest and highest end of what the capacitor reaches; None where it lies beyond the method.

    The capacitance C(f) is that of best match, as everywhere. C f^2, which would be constant without the ring's own
    capacitance, is a smooth function of f^2: a polynomial through it for the ring alone (`lone`) gives the
    frequencies, and one more solution on the site (`wires`) mends them.
    """
    lowest, highest = (share * C_0 / lone.ring_length for share in (SHORTEST, LONGEST))
    nodes = chebyshev_nodes(lowest**2, highest**2, FIRST_LOOK)
    first_look = memory.solution(lone, np.sqrt(nodes))
    squares = np.geomspace(lowest**2, highest**2, 2000)
    to_squares = barycentric(nodes, squares)
    known = to_squares @ _c_f_squared(design, lone, first_look)
    without_leads = to_squares @ _c_f_squared(_without_leads(design), lone, first_look)
    found: list[ReachEnd | None] = []
    for farads in range_at_gap(design.capacitor)[::-1]:
        root, slope = _first_root(squares, known - farads * squares)
        if not np.isfinite(root):
            found.append(None)
            continue
        near = _on_grid(_place(squares, without_leads - farads * squares, otherwise=root))
        is_on_site = LOWEST_SOLVED <= near <= HIGHEST_SOLVED
        on, earth = (wires, design.site.earth) if is_on_site else (lone, None)
        solution = memory.solution(on, np.array([near]), earth)
        found.append(
            ReachEnd(
                farads=farads,
                solved_at=near,
                slope=slope,
                on=on,
                earth=earth,
                network=RingNetwork.of(design, on, solution),
                current=solution.current[0],
            )
        )
    return found[0], found[1]


def _without_leads(design: Design) -> Design:
    """The same with the capacitor at the ring's ends.

    Its reach tells where to solve, so that leads move no solution; 100 mm of them shift a root by 1 %, over which the
    straight line leaves 2e-5.
    """
    return replace(design, capacitor=replace(design.capacitor, lead_length=None, lead_width=None))


def _place(squares: FloatArray, residue: FloatArray, *, otherwise: float) -> float:
    """Frequency [Hz] of the first root in `squares` [Hz^2], or of `otherwise` [Hz^2] where there is none."""
    root, _ = _first_root(squares, residue)
    return float(np.sqrt(root if np.isfinite(root) else otherwise))


def _on_grid(frequency: float) -> float:
    """The nearest of frequencies 0.2 % apart.

    Q or joints shift a root by less than a step, so that its solution is already known; the straight line over half a
    step leaves 1e-6.
    """
    return float(np.exp(np.round(np.log(frequency) / 2e-3) * 2e-3))


def _c_f_squared(design: Design, wires: Wires, solution: PortSolution) -> FloatArray:
    """Capacitance of best match times the square of the frequency at the solved frequencies [F Hz^2]."""
    network = RingNetwork.of(design, wires, solution)
    farads = capacitance_of_best_match(
        network.total_at_nodes, design.capacitor, solution.frequency, reference=design.feedline.impedance
    )
    return np.asarray(farads * solution.frequency**2)


def _first_root(x: FloatArray, y: FloatArray) -> tuple[float, float]:
    """Where sampled values first fall through zero, and the slope there; nan and 1 where they do not."""
    after = int(np.argmax(y < 0.0))
    if after == 0:
        return np.nan, 1.0
    slope = (y[after] - y[after - 1]) / (x[after] - x[after - 1])
    return float(x[after] - y[after] / slope), float(slope)
