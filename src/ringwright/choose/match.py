# SPDX-License-Identifier: BSD-3-Clause
"""Match: the coupling with the lowest SWR on the worst band, every band re-tuned, full-wave on the design's site."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from ringwright.antenna.coupling_place import in_centre
from ringwright.antenna.design import CouplingKind, CouplingPlace, CouplingShape, Design
from ringwright.antenna.geometry import build_wires
from ringwright.choose.knobs import (
    KNOBS,
    check_knobs,
    ring_diameter,
    usual_knobs,
    with_values,
)
from ringwright.choose.search import Search, Sensitivity
from ringwright.choose.trials import Trial, Trials

RULE_OF_THUMB = 1.0 / 5.0
"""Of the ring's diameter; common practice, no source."""
USUAL_CLEARANCE = 0.015
"""Of a loop brought from the centre to the conductor [m], that of a design file's default."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CouplingMatch:
    """What was found.

    `varied`: the keys that were. `now`: the design's own coupling. `rule`: a round loop of a fifth of the ring's
    diameter in the design's place, None for other kinds. `own_best`: for each band in turn the coupling that matches
    it best, all but the first size as in `best`. `curve`: along the first size, ascending, the others as in `best`.
    `at_limit`: keys whose best value is the greatest or least tried. `tried`: couplings solved.
    """

    design: Design
    varied: tuple[str, ...]
    best: Trial
    now: Trial
    rule: Trial | None
    own_best: tuple[Trial, ...]
    curve: tuple[Trial, ...]
    sensitivity: tuple[Sensitivity, ...]
    at_limit: tuple[str, ...]
    tried: int

    @property
    def first(self) -> str:
        """The key of the first size."""
        return KNOBS[self.design.coupling.kind][0]

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from ringwright.choose.match_html import match_html  # it describes this class

        return match_html(self)


def find_coupling(
    design: Design,
    *,
    vary: Sequence[str] = (),
    progress: Callable[[int, Trial], None] | None = None,
) -> CouplingMatch:
    """Find the coupling with the lowest SWR on the worst band.

    Parameters
    ----------
    design : Design
        Ring, site, capacitor and bands; its coupling is where the search starts.
    vary : sequence of str
        Keys of the coupling to vary beside its size: `squash`, `clearance`, `at` of a loop, `clearance` of a tapped
        coupling. Empty: the size alone, of an oval loop also its squash.
    progress : callable, optional
        Hears how many couplings were tried and which was the best; what it raises ends the search.

    Raises
    ------
    DesignError
        If the design cannot be built, or has no such key.
    OutOfRangeError
        If a target lies past the ring's own resonance.
    """
    check_knobs(design.coupling, vary)
    build_wires(design)  # what is wrong with the design is not to be taken for one coupling among many
    names = tuple(dict.fromkeys((*usual_knobs(design.coupling), *vary)))
    trials = Trials(design, progress)
    now = trials.of(design.coupling)
    assert now is not None
    places = [design] if "at" not in names else [design, *_elsewhere(design, trials)]
    searched = [Search(placed, names, trials) for placed in places]
    search = min(searched, key=lambda each: each.best.swr_worst)
    curve = search.curve()
    return CouplingMatch(
        design=design,
        varied=names,
        best=search.best,
        now=now,
        rule=_rule_of_thumb(design, trials),
        own_best=search.own_best(curve),
        curve=curve,
        sensitivity=tuple(search.sensitivity()),
        at_limit=search.at_limit(),
        tried=len(trials.known),
    )


def _elsewhere(design: Design, trials: Trials) -> list[Design]:
    """The design with its coupling loop in the other place, if it can be built there."""
    other = replace(design.coupling, place=CouplingPlace.OPPOSITE_GAP, clearance=USUAL_CLEARANCE)
    if design.coupling.place is CouplingPlace.OPPOSITE_GAP:
        other = in_centre(design.coupling, design.ring)
    return [] if trials.of(other) is None else [replace(design, coupling=other)]


def _rule_of_thumb(design: Design, trials: Trials) -> Trial | None:
    if design.coupling.kind is not CouplingKind.LOOP:
        return None
    round_loop = replace(design.coupling, shape=CouplingShape.CIRCLE, squash=1.0)
    size = {"diameter": RULE_OF_THUMB * ring_diameter(design.ring)}
    return trials.of(with_values(replace(design, coupling=round_loop), size))
