# SPDX-License-Identifier: BSD-3-Clause
"""A proof as small HTML tables for notebooks: each sweep beside its band, the suspects, what to measure next."""

from collections.abc import Iterator

from ringwright.antenna.charts.html import band_bar
from ringwright.antenna.charts.notebook import (
    CAUTION,
    Cell,
    card,
    listed,
    paragraph,
    plain_bar,
    table,
    watt_bar,
)
from ringwright.proof.comparison import Comparison
from ringwright.proof.diagnosis import Suspect
from ringwright.proof.next_measurement import hardly_more
from ringwright.proof.proving import Proof
from ringwright.proof.verdict import CAUSES, verdict, watts_found
from ringwright.units import format_quantity

_TOUCH = (
    "Before you touch the ring or mend a joint: transmitter off and cable apart, so that nobody can key it. Licensed "
    "practice and your local codes decide."
)


def proof_html(proof: Proof) -> str:
    """Two rows a sweep: as predicted, as found."""
    sweeps = [row for each in proof.comparisons for row in _rows(each)]
    return card(
        f"{proof.design.name}: what its sweeps say",
        listed(f"{_place(each)}: {verdict(each)}" for each in proof.comparisons),
        table(("band", "", "where the watts go", "unloaded Q", "into the sky"), sweeps),
        paragraph("What explains all of it together"),
        table(("suspect", "probability", ""), [_suspect(each) for each in proof.diagnosis.suspects]),
        listed(_next(proof)),
        cautions=(CAUTION, _TOUCH),
    )


def _place(each: Comparison) -> str:
    return each.band.band or format_quantity(each.band.frequency, "MHz", digits=6)


def _rows(each: Comparison) -> Iterator[tuple[Cell, ...]]:
    predicted, found, sky = each.as_predicted.q_unloaded, each.fit.q_unloaded, each.efficiency_pct
    yield (
        _place(each), "predicted", band_bar(each.band), f"{predicted.value:.0f}",
        f"{each.band.efficiency_sky_pct:.3g} %",
    )  # fmt: skip
    shares = watt_bar((name, share, f"{share:.1f} %") for name, share in watts_found(each).items())
    yield (
        "", "found", shares, f"{found.value:.0f} ({found.low:.0f} to {found.high:.0f})",
        f"{sky.value:.3g} % ({sky.low:.3g} to {sky.high:.3g})",
    )  # fmt: skip


def _suspect(each: Suspect) -> tuple[Cell, ...]:
    return CAUSES[each.cause], f"{100.0 * each.probability:.1f} %", plain_bar(each.probability)


def _next(proof: Proof) -> Iterator[str]:
    """The measurement that tells most, if any does."""
    telling = [each for each in proof.next_measurements if each.is_worth_making]
    for each in telling[:1]:
        yield f"Next: {each.do} {each.expected_information_bits:.2f} bits expected."
    if not telling:
        yield hardly_more(proof.next_measurements)
