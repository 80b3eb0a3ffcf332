# SPDX-License-Identifier: BSD-3-Clause
"""A search for the person who will build one of them: the front, what it stands on, and why not the rest."""

from collections.abc import Iterator

from ringwright.choose.rings.candidate import Candidate, CandidateBand, name_of
from ringwright.choose.rings.found import Found
from ringwright.cli.terminal import Terminal
from ringwright.cli.words import CAUTION, length, mass
from ringwright.safety.cautions import AUTHORITY, HIGH_VOLTAGE

_OBJECTIVES = {
    "sky_db": "sky",
    "size": "size",
    "mass": "mass",
    "cost": "cost",
    "bandwidth": "bandwidth",
    "margin": "margin",
}


def search_report(found: Found, terminal: Terminal, *, is_imperial: bool) -> Iterator[str]:
    """The answer, line by line."""
    yield terminal.strong(_headline(found))
    yield terminal.wrapped(_counts(found))
    for number, each in enumerate(found.front, 1):
        yield ""
        yield terminal.strong(terminal.wrapped(f"{number}. {name_of(found.brief, each.place)}", rest="   "))
        for line in _ring(found, each, is_imperial=is_imperial):
            yield terminal.wrapped(line, first="   ")
    if found.nearest is not None:
        yield ""
        yield terminal.wrapped(f"No ring passes; {found.nearest.text}.", first="! ")
    if found.refused:
        yield ""
        yield terminal.strong("why not the others")
        for refused in found.refused:
            yield terminal.wrapped(f"{refused.reason}: {refused.relax}", first=f"{refused.count:>7}  ")
    if found.brief.defaults_used:
        yield ""
    for note in found.brief.defaults_used:
        yield terminal.wrapped(f"left open: {note}")
    yield ""
    yield terminal.wrapped(f"{HIGH_VOLTAGE} {AUTHORITY}", first=f"{CAUTION} ")


def _headline(found: Found) -> str:
    count = len(found.front)
    rings = "1 ring" if count == 1 else f"{count} rings"
    return f"{found.brief.name}: {rings} worth building" if count else f"{found.brief.name}: no ring passes"


def _counts(found: Found) -> str:
    others = found.passing - len(found.front)
    rest = (
        f" {others} other{'s pass' if others > 1 else ' passes'}, beaten to within 0.1 dB or beyond the best twelve."
        if others
        else ""
    )
    beaten = f" The rings below are solved each for itself.{rest}" if found.front else ""
    kept = f", {found.kept} of them known from before" if found.kept else ""
    return (
        f"{found.considered} considered, {found.screened} provably out, {found.solved} carried by {found.solutions} "
        f"full-wave solutions{kept}; {found.passing} pass.{beaten}"
    )


def _ring(found: Found, each: Candidate, *, is_imperial: bool) -> Iterator[str]:
    brief = found.brief
    points = each.points(brief.weights)
    parts = ", ".join(f"{_OBJECTIVES[name]} {value:+.2f}" for name, value in points.items())
    across, loop = (length(each_way, is_imperial=is_imperial) for each_way in (each.diameter, each.coupling))
    cost = "" if each.cost is None else f", {each.cost:.2f} {brief.limits.currency or ''}".rstrip()
    yield (
        f"score {each.score(brief.weights):.2f} ({parts}); {across} across, "
        f"{mass(each.mass, is_imperial=is_imperial)}{cost}; coupling loop {loop}"
    )
    for band in each.bands:
        yield _band(band)


def _band(band: CandidateBand) -> str:
    name = band.band or f"{band.frequency / 1e6:.4g} MHz"
    people = f", people {band.people_margin_db:.1f} dB clear" if band.people_margin_db < 99.0 else ""
    return (
        f"{name:<5} sky {100.0 * band.sky:.1f} %, SWR {band.swr_min:.2f}, {band.bandwidth / 1e3:.3g} kHz wide at half "
        f"power, {band.voltage_peak / 1e3:.2g} kV with {band.voltage_margin_db:.1f} dB to spare{people}"
    )
