# SPDX-License-Identifier: BSD-3-Clause
"""Couplings tried on one ring and site: for each band the least SWR that the capacitor can set, full-wave."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from ringwright.antenna.design import Coupling, CouplingKind, Design, Target
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.network import RingNetwork
from ringwright.antenna.solution import SolutionMemory
from ringwright.antenna.tuning import TunedRing
from ringwright.choose.knobs import has_opening
from ringwright.errors import DesignError, OutOfRangeError
from ringwright.physics.graph import FloatArray
from ringwright.units import format_quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class BandMatch:
    """One target re-tuned for its lowest SWR: that SWR, the whole gap capacitance [F] for it, and which way it misses.

    `is_over_coupled`: the coupling takes more than a match.
    """

    target: Target
    swr_min: float
    capacitance: float
    is_over_coupled: bool

    @property
    def miss(self) -> float:
        """Logarithm of the SWR, positive where over-coupled: passes through 0 smoothly as the coupling grows."""
        size = float(np.log(self.swr_min))
        return size if self.is_over_coupled else -size


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A coupling with what it gives on every band."""

    coupling: Coupling
    bands: tuple[BandMatch, ...]

    @property
    def worst(self) -> BandMatch:
        """The band with the highest SWR."""
        return max(self.bands, key=lambda band: band.swr_min)

    @property
    def swr_worst(self) -> float:
        return self.worst.swr_min

    @property
    def misses(self) -> FloatArray:
        """By how much each band misses its match, signed."""
        return np.array([band.miss for band in self.bands])


class Trials:
    """All couplings tried so far, none of them twice.

    `told` hears how many were tried, and of the best of them; what it raises ends the search.
    """

    def __init__(self, design: Design, told: Callable[[int, Trial], None] | None = None) -> None:
        self._design, self._told = design, told
        self._tried: dict[Coupling, Trial | None] = {}
        self._memory = SolutionMemory()

    def of(self, coupling: Coupling) -> Trial | None:
        """What a coupling gives; None if it cannot be built."""
        if coupling not in self._tried:
            self._tried[coupling] = self._new(coupling)
            if self._told is not None and self.known:
                self._told(len(self.known), min(self.known, key=lambda trial: trial.swr_worst))
        return self._tried[coupling]

    @property
    def known(self) -> list[Trial]:
        """Every coupling that could be built, in the order of trying."""
        return [trial for trial in self._tried.values() if trial is not None]

    def _new(self, coupling: Coupling) -> Trial | None:
        if not has_opening(coupling):
            return None
        # Turns of a transformer leave the wires as they are; else what was solved is large and of no more use.
        memory = self._memory if coupling.kind is CouplingKind.TRANSFORMER else None
        try:
            return match_bands(replace(self._design, coupling=coupling), memory)
        except DesignError:
            return None


def match_bands(design: Design, memory: SolutionMemory | None = None) -> Trial:
    """Re-tune every target of a design for its lowest SWR.

    One solution at each target's own frequency is enough: where the SWR is least over the capacitance, it is least
    over the frequency too, but for what changes over the width of the resonance (docs/explanation/matching.md).

    Raises
    ------
    DesignError
        If the design cannot be built.
    OutOfRangeError
        If a target lies past the ring's own resonance.
    """
    wires = build_wires(design)
    # On the very frequencies it was solved at a network is exact, however far apart they lie.
    frequencies = np.unique([target.frequency for target in design.targets])
    solution = (memory or SolutionMemory()).solution(wires, frequencies, design.site.earth)
    network = RingNetwork.of(design, wires, solution)
    bands = tuple(match_band(design, network, target) for target in design.targets)
    return Trial(coupling=design.coupling, bands=bands)


def match_band(design: Design, network: RingNetwork, target: Target) -> BandMatch:
    """One target of a design from a network solved at its frequency."""
    frequency = target.frequency
    try:
        tuned = TunedRing.at(
            network, design.capacitor, frequency=frequency, reference=design.feedline.impedance
        )
    except OutOfRangeError as exc:
        size = f"ring.perimeter of {format_quantity(design.ring.perimeter, 'm', digits=4)}"
        raise OutOfRangeError(f"{size}: {exc}") from exc
    return BandMatch(
        target=target,
        swr_min=float(tuned.swr(np.array([frequency]))[0]),
        capacitance=tuned.capacitance,
        is_over_coupled=tuned.is_over_coupled(frequency),
    )
