# SPDX-License-Identifier: BSD-3-Clause
"""Where the missing watts went: every cause with its probability, its size, and what curing it would bring.

Seven causes and none are weighed by Bayes' rule over all sweeps at once (docs/explanation/diagnosis.md). One cause at a
time: two faults together are beyond it, and some belief is withheld for that.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.solution import SolutionMemory
from ringwright.errors import OutOfRangeError
from ringwright.physics.graph import FloatArray
from ringwright.proof.draws import Draws
from ringwright.proof.estimate import Estimate
from ringwright.proof.evidence import Evidence, Explained, Told, explain
from ringwright.proof.measured import Measured
from ringwright.proof.suspects import Cause
from ringwright.proof.twin import Twin

ALIKE = 0.3
"""A suspect whose probability is at least this share of the first one's is not told apart from it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """How large a fault would be: `what` in words, its `unit` ("" for a factor), and the 95 % interval."""

    what: str
    unit: str
    value: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """One cause; names are the JSON's keys less their SI suffix. What it says of sizes holds if it is to blame.

    `resistance`: what it adds at the gap [ohm] at `at_frequency` [Hz], the sweep of which it takes the largest share.
    `gain_db`: what curing it brings at `gain_frequency` [Hz], the sweep that it changes most; `gains_db` sweep by
    sweep: in power into the sky over power into the ring; for `coupling` the mismatch, for `feed_line` the cable's loss
    beyond the declared. `size` is None for `none`.
    """

    cause: Cause
    probability: float
    resistance: Estimate
    at_frequency: float
    gain_db: Estimate
    gain_frequency: float
    gains_db: tuple[float, ...]
    size: Size | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """All suspects, most probable first; the probabilities sum to 1."""

    suspects: tuple[Suspect, ...]
    evidence: Evidence = field(repr=False, compare=False)

    @property
    def not_told_apart(self) -> tuple[Cause, ...]:
        """The first suspect with those that explain the sweeps nearly as well; alone if there are none."""
        first = self.suspects[0].probability
        return tuple(each.cause for each in self.suspects if each.probability >= ALIKE * first)


def silent(done: int, total: int, doing: str) -> None:
    """Nobody hears."""


def diagnose(
    design: Design, measured: Sequence[Measured], memory: SolutionMemory | None = None, *, told: Told = silent
) -> Diagnosis:
    """Which cause explains the difference between prediction and sweeps.

    Parameters
    ----------
    design : Design
        What was declared.
    measured : sequence of Measured
        One or more sweeps, of any bands, in any order.
    memory : SolutionMemory, optional
        Keeps solutions between calls; a fresh one without it.
    told : callable, optional
        Hears of progress; what it raises ends the work.

    Raises
    ------
    OutOfRangeError
        If nothing was measured.
    DesignError
        If the design cannot be built.
    """
    if not measured:
        raise OutOfRangeError("a diagnosis needs at least one sweep with a resonance")
    told(0, len(Cause) + 1, "solving the ring at its sweeps")
    frequency = np.array([each.frequency for each in measured])
    return diagnosis_with(Twin(design, frequency, memory or SolutionMemory()), measured, told=told)


def diagnosis_with(twin: Twin, measured: Sequence[Measured], *, told: Told = silent) -> Diagnosis:
    """The same with a twin that is solved: for each of its frequencies the sweep made there."""
    evidence = explain(twin, measured, told=told)
    suspects = [_suspect(each, evidence.twin) for each in evidence.suspects]
    suspects.sort(key=lambda suspect: suspect.probability, reverse=True)
    return Diagnosis(suspects=tuple(suspects), evidence=evidence)


def cured(cause: Cause, draws: Draws) -> Draws:
    """The same rings with this fault put right."""
    declared = Draws.as_declared(len(draws.joints))
    undone = {name: getattr(declared, name) for name in _MADE_BY[cause]}
    return replace(draws, **undone, is_other_earth=draws.is_other_earth and cause is not Cause.EARTH)


_MADE_BY: dict[Cause, tuple[str, ...]] = {
    Cause.JOINTS: ("joint_extra",),
    Cause.CAPACITOR: ("capacitor_tangent", "capacitor_contact"),
    Cause.CONDUCTOR: ("conductor",),
    Cause.EARTH: ("earth_conductivity", "earth_permittivity"),
    Cause.METAL: ("bar_peak", "frame"),
    Cause.COUPLING: ("loop_size", "loop_nearness"),
    Cause.FEED_LINE: ("line_loss", "has_common_mode"),
    Cause.NONE: (),
}


def _suspect(explained: Explained, twin: Twin) -> Suspect:
    cause, draws = explained.cause, explained.draws
    gains, whole = _gains_db(cause, draws, twin), twin.resistance(draws)
    extra = whole - twin.resistance(cured(cause, draws))
    worst = int(np.argmax(np.median(abs(extra) / whole, axis=0)))
    most = int(np.argmax(np.median(abs(gains), axis=0)))
    return Suspect(
        cause=cause,
        probability=explained.probability,
        resistance=_interval(extra[:, worst]),
        at_frequency=float(twin.frequency[worst]),
        gain_db=_interval(gains[:, most]),
        gain_frequency=float(twin.frequency[most]),
        gains_db=tuple(float(gain) for gain in np.median(gains, axis=0)),
        size=_size(cause, draws, twin=twin, sweep=worst),
    )


def _gains_db(cause: Cause, draws: Draws, twin: Twin) -> FloatArray:
    """(samples, sweeps) [dB]."""
    now, then = (_sent(cause, each, twin) for each in (draws, cured(cause, draws)))
    return np.asarray(10.0 * np.log10(then / now))


def _sent(cause: Cause, draws: Draws, twin: Twin) -> FloatArray:
    """Share of the power into the ring that leaves for the sky, times what the cause keeps from the ring."""
    share = twin.sky_resistance(draws) / twin.resistance(draws)
    if cause is Cause.COUPLING:
        coupling = np.exp(twin.observe(draws).ln_coupling)
        return np.asarray(share * 4.0 * coupling / (1.0 + coupling) ** 2)
    if cause is Cause.FEED_LINE:
        through = twin.observe(draws).ln_off_resonance / 2.0  # a reflection passes the cable twice
        return np.asarray(share * np.exp(through))
    return share


def _size(cause: Cause, draws: Draws, *, twin: Twin, sweep: int) -> Size | None:
    match cause:
        case Cause.NONE:
            return None
        case Cause.JOINTS:
            what, unit, values = "resistance of one bad joint", "ohm", draws.joint_extra
        case Cause.CAPACITOR:
            ohms = twin.capacitor_resistance(draws)[:, sweep]
            what, unit, values = "Q of the capacitor", "", twin.parts.reactance[sweep] / ohms
        case Cause.CONDUCTOR:
            what, unit, values = (
                "factor on the declared resistance of the ring's conductor",
                "",
                draws.conductor,
            )
        case Cause.EARTH:
            conductivity = twin.earth.middle.conductivity * np.exp(draws.earth_conductivity)
            what, unit, values = "conductivity of the earth", "S/m", conductivity
        case Cause.METAL:
            what, unit, values = (
                "resonance of metal that the design does not state",
                "Hz",
                draws.bar_frequency,
            )
        case Cause.COUPLING:
            mutual = twin.loop.factors(draws.loop_size)[1][:, sweep] * draws.loop_nearness
            what, unit, values = "factor on the declared coupling to the ring", "", mutual
        case Cause.FEED_LINE if np.median(draws.has_common_mode) > 0.5:
            ohms = twin.outside[draws.choke_left] * draws.has_common_mode[:, None]
            what, unit, values = "resistance by current on the cable's outside", "ohm", ohms[:, sweep]
        case Cause.FEED_LINE:
            what, unit, values = "loss of the feedline beyond the declared, at 10 MHz", "dB", draws.line_loss
    return Size(what=what, unit=unit, value=_interval(values))


def _interval(values: FloatArray) -> Estimate:
    low, middle, high = np.percentile(values, [2.5, 50.0, 97.5])
    return Estimate(value=float(middle), low=float(low), high=float(high))
