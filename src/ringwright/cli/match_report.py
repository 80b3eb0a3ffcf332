# SPDX-License-Identifier: BSD-3-Clause
"""A match for the person who bends the loop: what to make, what it gives, and what a slip costs."""

from collections.abc import Callable, Iterator

from ringwright.antenna.design import Coupling, CouplingKind, CouplingPlace, Target
from ringwright.choose.figures import COUPLING_FIGURES
from ringwright.choose.knobs import loop_size, value_of, wire_length
from ringwright.choose.match import CouplingMatch
from ringwright.choose.match_notes import match_notes
from ringwright.choose.trials import BandMatch, Trial
from ringwright.cli.terminal import Terminal
from ringwright.cli.words import CAUTION, length
from ringwright.safety.cautions import AUTHORITY, HIGH_VOLTAGE

Metres = Callable[[float], str]

_ONE_FOR_ALL = {
    CouplingKind.LOOP: "one coupling loop for all bands",
    CouplingKind.TAPPED: "one tap for all bands",
    CouplingKind.TRANSFORMER: "one transformer for all bands",
}
_SIDES = {
    "diameter": "in diameter {less} (smaller) or {more} (larger)",
    "tap_at": "along the ring {less} (nearer) or {more} (farther)",
    "clearance": "in clearance {less} (nearer) or {more} (farther)",
    "turns": "more or less {more} or {less}",
}
_HARDLY = 0.02
"""Of an SWR: what nobody can measure."""


def match_report(found: CouplingMatch, terminal: Terminal, *, is_imperial: bool) -> Iterator[str]:
    """The answer, line by line."""

    def metres(value: float) -> str:
        return length(value, is_imperial=is_imperial)

    def paragraph(head: str, text: str) -> str:
        return terminal.wrapped(text, first=f"  {head:<12}")

    yield terminal.strong(f"{found.design.name}: {_ONE_FOR_ALL[found.design.coupling.kind]}")
    yield terminal.wrapped(_what_to_make(found.best.coupling, metres))
    yield ""
    yield from _table(found, metres)
    yield ""
    yield paragraph("a slip", _slips(found, metres))
    yield paragraph("trade", _trade(found, metres))
    if found.rule is not None:
        yield paragraph("one fifth", _rule(found, found.rule, metres))
    for note in match_notes(found):
        yield terminal.wrapped(note.text, first="  ! ")
    yield ""
    yield terminal.wrapped(f"{HIGH_VOLTAGE} {AUTHORITY}", first=f"{CAUTION} ")


def explanation(terminal: Terminal) -> Iterator[str]:
    """Every figure of a match: what it means, its formula, source and limits."""
    for key, figure in COUPLING_FIGURES.items():
        yield ""
        yield terminal.strong(terminal.wrapped(f"{figure.label} ({key})"))
        for word, text in (
            ("means", figure.definition),
            ("formula", figure.formula),
            ("from", ", ".join(figure.inputs)),
            ("source", figure.source),
            ("holds", figure.validity),
        ):
            yield terminal.wrapped(text, first=f"  {word:<8}")


def _what_to_make(coupling: Coupling, metres: Metres) -> str:
    size, clearance = _size(coupling, metres), metres(coupling.clearance)
    match coupling.kind:
        case CouplingKind.TRANSFORMER:
            return f"Wind {size} of primary on the core."
        case CouplingKind.TAPPED:
            return (
                f"Join the arm to the ring {size} along the conductor from the point half-way round, {clearance} "
                "clear of it."
            )
        case CouplingKind.LOOP:
            shape = f"a circle {size} across"
            if coupling.squash != 1.0:
                along, across = (metres(axis) for axis in loop_size(coupling))
                shape = f"an oval {along} along the ring's conductor and {across} across (squash {coupling.squash:.2f})"
            wire = metres(wire_length(coupling) or 0.0)
            place = "in the ring's centre" if coupling.place is CouplingPlace.CENTRE else "opposite the gap"
            return (
                f"Bend {wire} of conductor into {shape}, {clearance} clear of the ring's, {place}. Lengths are those "
                "of its axis, the clearance is between surfaces."
            )


def _table(found: CouplingMatch, metres: Metres) -> Iterator[str]:
    columns = {"best": found.best, "now": found.now}
    if found.rule is not None:
        columns["one fifth"] = found.rule
    sizes = (_size(trial.coupling, metres) for trial in columns.values())
    yield f"  {'':<12}" + "".join(f"{name:>11}" for name in columns) + "   band alone"
    yield f"  {'':<12}" + "".join(f"{size:>11}" for size in sizes)
    for number, (target, own) in enumerate(zip(found.design.targets, found.own_best, strict=True)):
        swrs = "".join(f"{_marked(trial.bands[number]):>11}" for trial in columns.values())
        alone = f"{own.bands[number].swr_min:.2f} at {_size(own.coupling, metres)}"
        yield f"  {_name(target):<12}{swrs}   {alone}"
    yield f"  {'worst':<12}" + "".join(f"{trial.swr_worst:>10.2f} " for trial in columns.values()).rstrip()
    yield "  lowest SWR, each band re-tuned; + takes too much there, - too little"


def _slips(found: CouplingMatch, metres: Metres) -> str:
    parts = []
    for each in found.sensitivity:
        step = "one turn" if each.name == "turns" else metres(each.step)
        less, more = (
            "cannot be built" if swr is None else f"{swr:.2f}" for swr in (each.swr_less, each.swr_more)
        )
        parts.append(f"{step} {_SIDES[each.name].format(less=less, more=more)}")
    return f"makes the worst SWR: {'; '.join(parts)}"


def _trade(found: CouplingMatch, metres: Metres) -> str:
    if found.best.swr_worst < 1.0 + _HARDLY:
        return "none: one size matches every band"
    pairs = zip(found.design.targets, found.own_best, strict=True)
    by_size = sorted(pairs, key=lambda pair: value_of(pair[1].coupling, found.first))
    parts = [
        f"a perfect match on {_name(target)} ({_size(own.coupling, metres)}) costs SWR {own.swr_worst:.2f} on "
        f"{_name(own.worst.target)}"
        for target, own in (by_size[0], by_size[-1])
    ]
    return "; ".join(parts)


def _rule(found: CouplingMatch, rule: Trial, metres: Metres) -> str:
    size, swr = _size(rule.coupling, metres), f"{rule.swr_worst:.2f}"
    start = f"of the ring's diameter, {size}, is common practice and has no source. "
    if rule.swr_worst < found.best.swr_worst + _HARDLY:
        return start + "Here it happens to be as good as the best."
    way = "takes too much" if rule.worst.is_over_coupled else "takes too little"
    return (
        f"{start}Here it {way} and gives SWR {swr} on {_name(rule.worst.target)}: it knows neither what this ring "
        "loses on its site, nor the loop's own reactance, nor how close the loop lies."
    )


def _size(coupling: Coupling, metres: Metres) -> str:
    """The first size of a coupling."""
    if coupling.core is not None:
        return f"{coupling.core.primary_turns} turns"
    size = coupling.tap_at if coupling.diameter is None else coupling.diameter
    assert size is not None
    return metres(size)


def _marked(band: BandMatch) -> str:
    if band.swr_min < 1.0 + _HARDLY:
        return f"{band.swr_min:.2f} "
    return f"{band.swr_min:.2f}{'+' if band.is_over_coupled else '-'}"


def _name(target: Target) -> str:
    if target.band is not None and target.low < target.high:
        return target.band
    return f"{target.frequency / 1e6:.6g} MHz"
