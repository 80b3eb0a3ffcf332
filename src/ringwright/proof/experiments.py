# SPDX-License-Identifier: BSD-3-Clause
"""Things one could do and then sweep again, each with what the rings that are believed in would show."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from ringwright.antenna.bands import bands_of
from ringwright.antenna.capacitor_parts import range_at_gap
from ringwright.antenna.design import Design, SiteMesh, SiteWire
from ringwright.antenna.network import HIGHEST_SOLVED, LOWEST_SOLVED
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import DesignError
from ringwright.physics.graph import FloatArray
from ringwright.proof.diagnosis import cured
from ringwright.proof.draws import Draws
from ringwright.proof.evidence import MODEL_SPREAD, Evidence, Explained, Told
from ringwright.proof.measured import Measured
from ringwright.proof.sampling import SEED
from ringwright.proof.suspects import Cause
from ringwright.proof.tried import ROUGHLY
from ringwright.proof.twin import Observed, Twin
from ringwright.units import format_quantity

RAISED = 1.0
"""How much the ring is raised. [m]"""
LESS_BY_RAISING = (0.2, 1.1)
"""What a piece of metal nobody knows the place of does to the raised ring, over what it did."""
SAME_BAND = 0.05
"""Frequencies closer than this share are one band."""
STANDARD_CAPACITORS = (22e-12, 47e-12, 100e-12, 220e-12, 470e-12)
"""Every second step of the E6 series, IEC 60063. [F]"""
UNKNOWN = 10.0
"""Spread of a logarithm that such a sweep does not show."""
NOTHING_TO_SEE = -20.0
"""Stands for the logarithm of a Q where there is no single resonance."""
LOWER_BY = (0.55, 0.85)
"""Frequencies worth going to with an added capacitor, over the lowest swept one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Experiment:
    """One sweep after one change: `do` says both, `change` makes it in rings drawn.

    `noise` is of the logarithms of unloaded Q and coupling, (2,).
    `before` is the same band's sweep of the unchanged ring, None where there is none.
    """

    kind: str
    do: str
    twin: Twin
    sweep: int
    noise: FloatArray
    before: "Before | None" = None
    change: Callable[[Draws], Draws] = lambda draws: draws
    added_capacitance: float = 0.0

    @property
    def spread(self) -> FloatArray:
        """Of the reading about what a ring shows, (2,): noise, and what the model leaves open and no sweep showed."""
        variance = self.noise**2
        left = variance / (variance + MODEL_SPREAD**2) if self.before else np.ones(2)
        return np.sqrt(variance + left * MODEL_SPREAD**2)

    def reading(self, explained: Explained) -> FloatArray:
        """What each kept ring of a suspect would show, (rings, 2)."""
        draws = explained.draws
        shown = _logarithms(
            self.twin.observe(self.change(draws), added_capacitance=self.added_capacitance), self.sweep
        )
        if self.before:
            # What a ring leaves unexplained of the sweep before is partly the model's, and then stays.
            kept = MODEL_SPREAD**2 / (MODEL_SPREAD**2 + self.noise**2)
            shown = shown + kept * self.before.unexplained(draws)
        return np.nan_to_num(shown, nan=NOTHING_TO_SEE)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Before:
    """A sweep that was made, and the twin of the ring it was made of."""

    twin: Twin
    sweep: int
    measured: Measured

    def unexplained(self, draws: Draws) -> FloatArray:
        """Measured less shown by each ring, (rings, 2)."""
        (q, _), (coupling, _), _ = self.measured.logarithms
        shown = _logarithms(self.twin.observe(draws), self.sweep)
        measured = np.array([q, np.nan if coupling is None else coupling], dtype=float)
        return np.nan_to_num(measured - shown, nan=0.0)


def _logarithms(seen: Observed, sweep: int) -> FloatArray:
    return np.stack([seen.ln_q[:, sweep], seen.ln_coupling[:, sweep]], axis=1)


def experiments(evidence: Evidence, memory: SolutionMemory, told: Told) -> Iterator[Experiment]:
    """All that can be done with this design, band by band."""
    told(0, 3, "the same ring swept again")
    yield from _again(evidence)
    told(1, 3, "the ring at other frequencies")
    yield from _elsewhere(evidence, memory)
    told(2, 3, "the ring on a changed site")
    yield from _on_changed_site(evidence, memory)
    told(3, 3, "done")


def _again(evidence: Evidence) -> Iterator[Experiment]:
    twin = evidence.twin
    for sweep, each in enumerate(evidence.measured):
        at = format_quantity(each.frequency, "MHz", digits=4)
        before = Before(twin=twin, sweep=sweep, measured=each)
        yield Experiment(
            kind="repeat",
            do=f"Repeat the sweep at {at} without changing anything.",
            twin=twin,
            sweep=sweep,
            noise=_noise(each),
            before=before,
        )
        yield Experiment(
            kind="remake joints",
            do=f"Clean and remake every joint of the ring, those at the capacitor too, then sweep at {at} again.",
            twin=twin,
            sweep=sweep,
            noise=_noise(each),
            before=before,
            change=lambda draws: cured(Cause.JOINTS, draws),
        )


def _noise(measured: Measured) -> FloatArray:
    return np.array([measured.q_spread, measured.coupling_spread if measured.coupling else UNKNOWN])


def _elsewhere(evidence: Evidence, memory: SolutionMemory) -> Iterator[Experiment]:
    bands, added = _other_bands(evidence), _added_capacitors(evidence)
    frequency = np.array([*bands.values(), *added.values()])
    if not len(frequency):
        return
    twin = Twin(evidence.twin.design, frequency, memory, earths_each_way=ROUGHLY)
    noise = _usual_noise(evidence)
    whole = 1.0 / (2.0 * np.pi * frequency * twin.parts.reactance)
    low, high = range_at_gap(twin.design.capacitor)
    for sweep, name in enumerate(bands):
        if low <= whole[sweep] <= high:
            yield Experiment(
                kind="another band",
                do=f"Sweep {name} too, at {format_quantity(bands[name], 'MHz', digits=4)}.",
                twin=twin,
                sweep=sweep,
                noise=noise,
            )
    from_band = format_quantity(float(evidence.twin.frequency.min()), "MHz", digits=4)
    for sweep, (farads, there) in enumerate(added.items(), start=len(bands)):
        yield Experiment(
            kind="fixed capacitor",
            do=f"Leave the capacitor where it tunes {from_band}, put a fixed mica or vacuum capacitor of "
            f"{format_quantity(farads, 'pF')} across it, and sweep at about {format_quantity(there, 'MHz', digits=3)}.",
            twin=twin,
            sweep=sweep,
            noise=noise,
            added_capacitance=farads,
        )


def _other_bands(evidence: Evidence) -> dict[str, float]:
    """Bands the capacitor may reach that no sweep is near, by name [Hz]."""
    design, swept = evidence.twin.design, evidence.twin.frequency
    low, high = range_at_gap(design.capacitor)
    whole = 1.0 / (2.0 * np.pi * swept * evidence.twin.parts.reactance)
    # A ring's inductance hardly changes, so that frequency goes as C^-1/2: near enough to look no further.
    lowest = max(float((swept * np.sqrt(whole / high)).min()) * 0.95, LOWEST_SOLVED)
    highest = min(float((swept * np.sqrt(whole / low)).max()) * 1.05, HIGHEST_SOLVED)
    return {
        band.name: band.centre
        for band in bands_of(design.region).values()
        if lowest <= band.centre <= highest and np.all(abs(swept / band.centre - 1.0) > SAME_BAND)
    }


def _added_capacitors(evidence: Evidence) -> dict[float, float]:
    """Fixed capacitors worth adding at the lowest sweep [F], and where the ring then resonates [Hz]."""
    lowest = int(np.argmin(evidence.twin.frequency))
    f, reactance = float(evidence.twin.frequency[lowest]), float(evidence.twin.parts.reactance[lowest])
    whole = 1.0 / (2.0 * np.pi * f * reactance)
    there = {farads: f * float(np.sqrt(whole / (whole + farads))) for farads in STANDARD_CAPACITORS}
    return {
        farads: at
        for farads, at in there.items()
        if LOWER_BY[0] <= at / f <= LOWER_BY[1] and at >= LOWEST_SOLVED
    }


def _usual_noise(evidence: Evidence) -> FloatArray:
    """Of a sweep yet to be made."""
    return np.asarray(np.median([_noise(each) for each in evidence.measured], axis=0))


def _on_changed_site(evidence: Evidence, memory: SolutionMemory) -> Iterator[Experiment]:
    design = evidence.twin.design
    site = replace(design.site, height=design.site.height + RAISED)
    changes: list[tuple[str, str, Design, Callable[[Draws], Draws]]] = [
        (
            "raise",
            f"Raise the ring by {format_quantity(RAISED, 'm')}, secured against wind,",
            replace(design, site=site),
            _with_metal_further_away,
        )
    ]
    if design.site.metal:
        kinds = " and the ".join(dict.fromkeys(_kind_of(piece) for piece in design.site.metal))
        changes.append(
            ("remove metal", f"Take the {kinds} away", design.without_metal(), lambda draws: draws)
        )
    for kind, do, changed, change in changes:
        try:
            twin = Twin(changed, evidence.twin.frequency, memory, like=evidence.twin, earths_each_way=ROUGHLY)
        except DesignError:
            continue
        for sweep, each in enumerate(evidence.measured):
            yield Experiment(
                kind=kind,
                do=f"{do} and sweep at {format_quantity(each.frequency, 'MHz', digits=4)} again.",
                twin=twin,
                sweep=sweep,
                noise=_noise(each),
                before=Before(twin=evidence.twin, sweep=sweep, measured=each),
                change=change,
            )


def _with_metal_further_away(draws: Draws) -> Draws:
    less = np.random.default_rng(SEED).uniform(*LESS_BY_RAISING, len(draws.bar_peak))
    return replace(draws, bar_peak=draws.bar_peak * less, frame=draws.frame * less)


def _kind_of(piece: SiteWire | SiteMesh) -> str:
    return piece.kind if isinstance(piece, SiteWire) else "mesh"
