# SPDX-License-Identifier: BSD-3-Clause
"""What sweeps say, for people: sweep by sweep, then the suspects, then what to do next."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from ringwright.antenna.figures.figure import in_decibels, significant
from ringwright.cli.terminal import Terminal
from ringwright.cli.words import CAUTION
from ringwright.proof.comparison import Comparison
from ringwright.proof.diagnosis import Diagnosis, Suspect
from ringwright.proof.estimate import Estimate
from ringwright.proof.next_measurement import NextMeasurement, hardly_more
from ringwright.proof.proving import Proof
from ringwright.proof.verdict import CAUSES, gain_words, match_words, verdict

_CELLS = 24
_SHOWN = {"Hz": ("MHz", 1e-6), "ohm": ("mohm", 1e3), "S/m": ("mS/m", 1e3)}
"""Unit that people read a fault's size in, and how many of it make one."""
_SAFETY = (
    "Before you touch the ring or mend a joint: transmitter off and cable apart, so that nobody can key it. The "
    "capacitor carries kilovolts at a few watts. Solder fumes, ladders and lightning have their own rules; licensed "
    "practice and your local codes decide."
)


def proof_report(proof: Proof, terminal: Terminal) -> Iterator[str]:
    """Line by line."""
    yield terminal.strong(f"{proof.design.name}: what its sweeps say")
    yield terminal.wrapped("In brackets the interval that holds the true value in 95 of 100 such sweeps.")
    for comparison in proof.comparisons:
        yield ""
        yield from _sweep(comparison, terminal)
    yield ""
    yield from _suspects(proof.diagnosis, terminal)
    yield ""
    yield from next_words(proof.next_measurements, terminal)
    yield ""
    yield terminal.wrapped(_SAFETY, first=f"{CAUTION} ")


def next_words(offered: Sequence[NextMeasurement], terminal: Terminal) -> Iterator[str]:
    """The first two that tell enough to be worth making, or that there is none."""
    telling = [each for each in offered if each.is_worth_making]
    if not telling:
        yield terminal.wrapped(hardly_more(offered), first="next  ", rest=" " * 6)
    for number, following in enumerate(telling[:2]):
        first, second = (CAUSES[cause] for cause in following.separates)
        told = (
            f"It tells {first} from {second} best; {following.expected_information_bits:.2f} bits expected."
        )
        yield terminal.wrapped(f"{following.do} {told}", first="or    " if number else "next  ", rest=" " * 6)


def _sweep(comparison: Comparison, terminal: Terminal) -> Iterator[str]:
    fit = comparison.fit
    at = f"{comparison.band.band or ''} {fit.frequency.value / 1e6:.6g} MHz".strip()
    yield terminal.strong(terminal.wrapped(f"{at}  {Path(fit.source).name}"))
    yield terminal.wrapped(verdict(comparison), first="  ", rest="  ")
    resistance, efficiency = comparison.resistance_total, comparison.efficiency_pct
    yield f"  loses in all  {_span(resistance, 1e3)} mohm at the gap"
    yield terminal.wrapped(
        f"{efficiency.low:.3g} to {efficiency.high:.3g} % of its power into the sky, {in_decibels(efficiency.value)}; "
        f"predicted {comparison.band.efficiency_sky_pct:.3g} %",
        first="  sends         ",
        rest=" " * 16,
    )
    words = match_words(comparison)
    if words is not None:
        yield terminal.wrapped(words, first="  meets         ", rest=" " * 16)
    yield f"  is wide       {_span(fit.bandwidth_half_power, 1e-3)} kHz at half power"
    for flag in fit.flags:
        yield terminal.wrapped(flag.text, first="  ! ", rest="    ")


def _suspects(diagnosis: Diagnosis, terminal: Terminal) -> Iterator[str]:
    yield terminal.strong("What explains all of it together")
    for suspect in diagnosis.suspects:
        yield from _suspect(suspect, terminal)
    alike = diagnosis.not_told_apart
    if len(alike) > 1:
        names = ", ".join(CAUSES[cause] for cause in alike)
        yield terminal.wrapped(f"These sweeps do not tell apart: {names}.", first="  ", rest="  ")


def _suspect(suspect: Suspect, terminal: Terminal) -> Iterator[str]:
    bar = ("#" * round(_CELLS * suspect.probability)).ljust(_CELLS, ".")
    yield f"  {CAUSES[suspect.cause]:<17} {100.0 * suspect.probability:5.1f} %  {bar}"
    if suspect.size is None or suspect.probability < 0.05:
        return
    size = suspect.size
    unit, factor = _SHOWN.get(size.unit, (size.unit, 1.0))
    yield terminal.wrapped(
        f"if so: {size.what}: {_span(size.value, factor)} {unit}".rstrip() + f"; {gain_words(suspect)}",
        first="    ",
        rest="    ",
    )


def _span(estimate: Estimate, factor: float = 1.0) -> str:
    value, low, high = (significant(factor * one, 3) for one in (estimate.value, estimate.low, estimate.high))
    return f"{value} ({low} to {high})"
