# SPDX-License-Identifier: BSD-3-Clause
"""A search through the sizes of a coupling in one place: a look along the first size, then downhill in all."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ringwright.antenna.design import CouplingKind, CouplingPlace, Design
from ringwright.choose.knobs import Knob, knobs_of, value_of, with_values
from ringwright.choose.lowest import smallest_worst, spaced
from ringwright.choose.trials import Trial, Trials
from ringwright.physics.graph import FloatArray

COARSE = 1.25
"""Ratio of neighbours in the first look: the SWR then changes by a factor of two to three between them."""
STEP = 0.005
"""What a careful builder may be off. [m]"""
AS_GOOD = 1.005
"""Ratio of worst SWRs that nobody can tell apart: of couplings so close, the one most like the design's is taken."""
NEAR_LIMIT = 1.02
"""Ratio within which a size counts as the greatest or least tried."""
SHIFTED = {
    CouplingKind.LOOP: ("diameter", "clearance"),
    CouplingKind.TAPPED: ("tap_at", "clearance"),
    CouplingKind.TRANSFORMER: ("turns",),
}
"""What a builder may miss by a step."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensitivity:
    """The worst SWR with one size `step` smaller and larger than the best [m, or 1]; None where it cannot be built."""

    name: str
    step: float
    swr_less: float | None
    swr_more: float | None


class Search:
    """One search through the sizes, the coupling's place as the design has it."""

    def __init__(self, design: Design, names: Sequence[str], trials: Trials) -> None:
        self._design, self._trials = design, trials
        self._knobs = knobs_of(design, names)
        others = {knob.name: value_of(design.coupling, knob.name) for knob in self._knobs[1:]}
        dips = _dips(self._scan(others))
        if not self._knobs[0].is_whole:
            dips = [self._refined(trial, self._knobs[:1]) for trial in dips]
        self.best = min(dips, key=_swr_worst)
        if len(self._knobs) > 1:
            found = [self._refined(trial, self._knobs) for trial in (self.best, *self._elsewhere())]
            least = min(trial.swr_worst for trial in found)
            as_good = [trial for trial in found if trial.swr_worst < least * AS_GOOD]
            self.best = min(as_good, key=self._change)

    def curve(self) -> tuple[Trial, ...]:
        """Along the first size, the others as in the best."""
        first, *others = self._knobs
        best = self.best.coupling
        self._scan({knob.name: value_of(best, knob.name) for knob in others})
        along = [
            trial
            for trial in self._trials.known
            if trial.coupling == with_values(replace(self._design, coupling=best), _sizes(trial, [first]))
        ]
        return tuple(sorted(along, key=lambda trial: value_of(trial.coupling, first.name)))

    def own_best(self, curve: Sequence[Trial]) -> tuple[Trial, ...]:
        """For each band alone: the first size that matches it best."""
        found = []
        for number in range(len(self._design.targets)):
            trial = min(curve, key=lambda trial: trial.bands[number].swr_min)
            if not self._knobs[0].is_whole:
                trial = self._refined(trial, self._knobs[:1], only=number)
            found.append(trial)
        return tuple(found)

    def sensitivity(self) -> Iterator[Sensitivity]:
        """A step to either side of the best, size by size."""
        best = replace(self._design, coupling=self.best.coupling)
        for name in SHIFTED[best.coupling.kind]:
            if name == "clearance" and best.coupling.place is CouplingPlace.CENTRE:
                continue
            step = 1.0 if name == "turns" else STEP
            value = value_of(best.coupling, name)
            less, more = (
                self._trials.of(with_values(best, {name: moved})) if moved > 0.0 else None
                for moved in (value - step, value + step)
            )
            yield Sensitivity(name=name, step=step, swr_less=_swr(less), swr_more=_swr(more))

    def at_limit(self) -> tuple[str, ...]:
        """Sizes whose best value is the least or the greatest tried."""
        values = _sizes(self.best, self._knobs)
        return tuple(
            knob.name
            for knob in self._knobs
            if values[knob.name] < knob.low * NEAR_LIMIT or values[knob.name] * NEAR_LIMIT > knob.high
        )

    def _change(self, trial: Trial) -> float:
        """How far a trial's other sizes are from the design's."""
        return sum(
            abs(math.log(value_of(trial.coupling, knob.name) / value_of(self._design.coupling, knob.name)))
            for knob in self._knobs[1:]
        )

    def _scan(self, others: Mapping[str, float]) -> list[Trial]:
        """A first look along the first size."""
        first = self._knobs[0]
        if first.is_whole:
            sizes = [float(count) for count in range(int(first.low), int(first.high) + 1)]
        else:
            own = value_of(self._design.coupling, first.name)
            sizes = sorted({own, *spaced(first.low, first.high, COARSE)})
        tried = (self._trials.of(with_values(self._design, {**others, first.name: size})) for size in sizes)
        return [trial for trial in tried if trial is not None]

    def _elsewhere(self) -> Iterator[Trial]:
        """Starts with one of the other sizes far from the design's."""
        for knob in self._knobs[1:]:
            for share in (0.25, 0.75):
                values = _sizes(self.best, self._knobs) | {
                    knob.name: knob.low ** (1.0 - share) * knob.high**share
                }
                trial = self._trials.of(with_values(self._design, values))
                if trial is not None:
                    yield trial

    def _refined(self, start: Trial, knobs: Sequence[Knob], *, only: int | None = None) -> Trial:
        """From a trial to the best near it, for all bands or for one alone, the sizes of `knobs` varied."""
        base = replace(self._design, coupling=start.coupling)

        def trial_at(sizes: tuple[float, ...]) -> Trial | None:
            named = zip(knobs, sizes, strict=True)
            return self._trials.of(with_values(base, {knob.name: size for knob, size in named}))

        def misses_at(sizes: tuple[float, ...]) -> FloatArray | None:
            trial = trial_at(sizes)
            if trial is None:
                return None
            return trial.misses if only is None else trial.misses[[only]]

        begin = [value_of(start.coupling, knob.name) for knob in knobs]
        end = trial_at(smallest_worst(misses_at, begin, [(knob.low, knob.high) for knob in knobs]))
        return start if end is None else end


def _sizes(trial: Trial, knobs: Sequence[Knob]) -> dict[str, float]:
    return {knob.name: value_of(trial.coupling, knob.name) for knob in knobs}


def _dips(scan: Sequence[Trial]) -> list[Trial]:
    """Trials that no neighbour undercuts."""
    worst = [math.inf, *map(_swr_worst, scan), math.inf]
    return [
        trial
        for number, trial in enumerate(scan)
        if worst[number + 1] <= min(worst[number], worst[number + 2])
    ]


def _swr_worst(trial: Trial) -> float:
    return trial.swr_worst


def _swr(trial: Trial | None) -> float | None:
    return None if trial is None else trial.swr_worst
