# SPDX-License-Identifier: BSD-3-Clause
"""The figures of a proof: what each number is, where it comes from, how far it holds.

Keys are paths in the proof document; `_low` and `_high` beside a key are the ends of its 95 % interval.
"""

from collections.abc import Mapping
from types import MappingProxyType

from ringwright.antenna.figures.figure import (
    DECIBEL,
    KILOHERTZ,
    MEGAHERTZ,
    MILLIOHM,
    NUMBER,
    PER_CENT,
    Figure,
    Scale,
)

_BIT = Scale("bit", "bits", 1.0)
_FIT = "least-squares fit of one resonance behind a lossy cable, after A. P. Gregory, NPL Report MAT 58, 2021"
_HOLDS = "for one resonance in the sweep; the interval holds the true value in 95 of 100 such sweeps"
_SUSPECTS = (
    "own derivation by Bayes' rule over simulated faulty rings, in the module `ringwright.proof.diagnosis`"
)
_IF_SO = "if that cause is to blame, and no other"
_SWEEP = ("sweep", "feedline")


def _measured(key: str, label: str, scale: Scale, *, digits: int, definition: str, formula: str) -> Figure:
    return Figure(
        key=f"sweeps.{key}",
        label=label,
        scale=scale,
        digits=digits,
        definition=definition,
        formula=formula,
        inputs=_SWEEP,
        source=_FIT,
        validity=_HOLDS,
    )


_MEASURED = (
    _measured(
        "frequency_hz",
        "resonance",
        MEGAHERTZ,
        digits=6,
        definition="Of the ring with coupling loop and feedline: the circle's point opposite the one off resonance.",
        formula="f_L of the fit",
    ),
    _measured(
        "q_unloaded",
        "Q, unloaded",
        NUMBER,
        digits=3,
        definition="Of the ring alone, what the feedline takes being taken out.",
        formula="Q_L (1 + coupling)",
    ),
    _measured(
        "q_loaded",
        "Q, loaded",
        NUMBER,
        digits=3,
        definition="Of the ring with the feedline as its load.",
        formula="f_L over the half-power width of the circle",
    ),
    _measured(
        "coupling",
        "coupling",
        NUMBER,
        digits=3,
        definition="Below 1 the ring is coupled too little for a match, above 1 too much.",
        formula="d/(2 - d), d the circle's diameter over the radius of the off-resonance circle",
    ),
    _measured(
        "swr_min",
        "SWR at best",
        NUMBER,
        digits=3,
        definition="Least over frequency, as at the coupling loop: the cable's flattering loss is taken out.",
        formula="(1 + |G|)/(1 - |G|) where the circle comes closest to the match",
    ),
    _measured(
        "bandwidth_half_power_hz",
        "half-power width",
        KILOHERTZ,
        digits=3,
        definition="Of the unloaded ring.",
        formula="frequency/Q unloaded",
    ),
    _measured(
        "loss_found_db",
        "loss found",
        DECIBEL,
        digits=2,
        definition="What the sweep shows of the cable's loss, one way; a lossy coupling loop is in it.",
        formula="-10 log10 |G off resonance|",
    ),
)

_INFERRED = (
    Figure(
        key="sweeps.resistance_total_ohm",
        label="loses in all",
        scale=MILLIOHM,
        digits=3,
        definition="Radiation and losses together, referred to the rms current through the gap.",
        formula="R = f dX/df/(2 Q)",
        inputs=("sweeps.q_unloaded", "sweeps.frequency_hz", "ring"),
        source="dX/df at the gap by the full-wave solution; docs/explanation/sweeps.md",
        validity=_HOLDS,
    ),
    Figure(
        key="sweeps.efficiency_pct",
        label="to the sky",
        scale=PER_CENT,
        digits=3,
        definition="Share of the power in the ring that leaves into the sky.",
        formula="radiation resistance of the solver on this site/resistance measured",
        inputs=("sweeps.resistance_total_ohm", "ring", "site"),
        source="full-wave solution on the site as described, and the measured Q",
        validity="bounds: both ends hold the Q's interval and what is not known of the site",
    ),
    Figure(
        key="sweeps.watts_found_pct",
        label="where the watts go, as found",
        scale=PER_CENT,
        digits=3,
        definition="Each address keeps its predicted resistance; what is measured beyond their sum is unexplained. "
        "Where less is measured than predicted, all share the difference.",
        formula="R_address/R_measured",
        inputs=("sweeps.resistance_total_ohm", "resistance_ohm"),
        source="docs/explanation/sweeps.md",
        validity="at the prediction's middle; its range is beside the predicted bar",
    ),
)

_TOGETHER = (
    Figure(
        key="diagnosis.probability",
        label="probability",
        scale=PER_CENT,
        digits=2,
        definition="That this explains all sweeps together; all suspects sum to 100 %.",
        formula="likelihood of all sweeps x prior, over the sum of all suspects",
        inputs=("sweeps.q_unloaded", "sweeps.coupling", "sweeps.loss_found_db", "tolerance"),
        source=_SUSPECTS,
        validity="among these eight, one fault at a time",
    ),
    Figure(
        key="diagnosis.gain_db",
        label="mending brings",
        scale=DECIBEL,
        digits=1,
        definition="More power into the sky at the same power into the ring, on the band that it changes most.",
        formula="10 log10 of the sky's share mended over the one now",
        inputs=("diagnosis.probability",),
        source=_SUSPECTS,
        validity=_IF_SO,
    ),
    Figure(
        key="diagnosis.size",
        label="how large the fault is",
        scale=NUMBER,
        digits=2,
        definition="The one thing that would be wrong, with its 95 % interval.",
        formula="of the simulated rings that explain the sweeps",
        inputs=("diagnosis.probability",),
        source=_SUSPECTS,
        validity=_IF_SO,
    ),
    Figure(
        key="next_measurement.expected_information_bits",
        label="expected to tell",
        scale=_BIT,
        digits=2,
        definition="How much the next sweep is expected to narrow the suspects; 1 bit tells two equals apart for sure.",
        formula="mutual information between cause and reading",
        inputs=("diagnosis.probability",),
        source="T. M. Cover and J. A. Thomas, Elements of Information Theory, 2nd ed., 2006, sec. 2.3",
        validity="before it is measured, on average",
    ),
)

PROOF_FIGURES: Mapping[str, Figure] = MappingProxyType(
    {figure.key: figure for figure in (*_MEASURED, *_INFERRED, *_TOGETHER)}
)
