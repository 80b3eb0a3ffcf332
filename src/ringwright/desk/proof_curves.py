# SPDX-License-Identifier: BSD-3-Clause
"""What a page draws of a sweep: its points around the dip, the fitted circle and the predicted one.

All as at the coupling loop: the cable that the fit found, its length and loss, is taken out, so that measured and
predicted curves start from the same open end. A transmission is drawn as a share of its circle.
"""

from dataclasses import dataclass, replace

import numpy as np

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.graph import IntArray
from ringwright.proof.comparison import Comparison
from ringwright.proof.resonance_model import Resonance
from ringwright.proof.sweep import Sweep, SweepKind
from ringwright.proof.verdict import predicted_range

MOST_POINTS = 400
DRAWN_POINTS = 241
REACH = 4.0
"""Loaded half-power widths on either side of the resonance, of the wider one."""
FEWEST_WIDTHS = 0.75
"""Drawn on either side also where the sweep ends before."""
LARGEST_REFLECTION = 0.999


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofCurves:
    """Frequencies [Hz]; `points` as measured, the rest along `drawn`.

    None: `response` without phase, `swr` and the predicted ones of a transmission. The prediction's range is that of
    its Q, the coupling loop as designed.
    """

    points: FloatArray
    response: ComplexArray | None
    swr: FloatArray | None
    drawn: FloatArray
    fitted: ComplexArray | None
    fitted_swr: FloatArray | None
    predicted: ComplexArray | None
    predicted_swr: FloatArray | None
    predicted_swr_range: tuple[FloatArray, FloatArray] | None


def proof_curves(sweep: Sweep, comparison: Comparison) -> ProofCurves:
    """The curves of one sweep."""
    fit = comparison.fit
    is_through = fit.kind is SweepKind.TRANSMISSION
    has_phase = fit.kind is not SweepKind.SWR
    predicted = _cable_out(comparison.as_predicted.resonance)
    measured = _cable_out(fit.resonance) if has_phase else _of_coupling(comparison)
    low, high = _span(sweep.frequency, measured, predicted)
    inside = _spread_out(np.flatnonzero((sweep.frequency >= low) & (sweep.frequency <= high)))
    points, drawn = sweep.frequency[inside], np.linspace(low, high, DRAWN_POINTS)
    response = sweep.response[inside]
    if fit.resonance is None:
        response = response / fit.off_resonance.value
    elif is_through:
        response = (response / _cable(fit.resonance, points) - fit.resonance.off) / fit.resonance.diameter
        measured = replace(measured, off=0.0, diameter=1.0)
    else:
        response = response / _cable(fit.resonance, points) / fit.resonance.off
    fitted = measured.response(drawn)
    return ProofCurves(
        points=points,
        response=response if has_phase else None,
        swr=None if is_through else _swr(response),
        drawn=drawn,
        fitted=fitted if has_phase else None,
        fitted_swr=None if is_through else _swr(fitted),
        predicted=None if is_through else predicted.response(drawn),
        predicted_swr=None if is_through else _swr(predicted.response(drawn)),
        predicted_swr_range=None if is_through else _predicted_swr_range(comparison, predicted, drawn),
    )


def _cable(resonance: Resonance, frequency: FloatArray) -> ComplexArray:
    """What the cable alone does."""
    return replace(resonance, off=1.0, diameter=0.0).response(frequency)


def _cable_out(resonance: Resonance | None) -> Resonance:
    assert resonance is not None  # a fit with phase has one
    ratio = resonance.diameter / resonance.off if resonance.off else resonance.diameter
    return replace(resonance, off=1.0, diameter=ratio, delay=0.0, slope=0.0)


def _of_coupling(comparison: Comparison) -> Resonance:
    """Without a phase the circle's size still follows from the coupling; it is drawn about the axis."""
    fit = comparison.fit
    return Resonance(
        frequency=fit.frequency.value,
        q_loaded=fit.q_loaded.value,
        off=1.0,
        diameter=-_share(fit.coupling.value),
        delay=0.0,
    )


def _share(coupling: float) -> float:
    """Diameter of the circle over the radius of the off-resonance circle."""
    return 2.0 * coupling / (1.0 + coupling)


def _predicted_swr_range(
    comparison: Comparison, predicted: Resonance, drawn: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Least and greatest SWR between the ends of the predicted Q; the coupling grows as the Q does."""
    q, coupling = comparison.as_predicted.q_unloaded.value, comparison.as_predicted.coupling.value
    curves = [_swr(predicted.response(drawn))]
    for end in predicted_range(comparison):
        coupled = coupling * end / q
        ratio = _share(coupled) / _share(coupling)
        other = replace(predicted, q_loaded=end / (1.0 + coupled), diameter=predicted.diameter * ratio)
        curves.append(_swr(other.response(drawn)))
    return np.minimum.reduce(curves), np.maximum.reduce(curves)


def _span(frequency: FloatArray, measured: Resonance, predicted: Resonance) -> tuple[float, float]:
    f, width = measured.frequency, max(measured.width, predicted.width)
    low = max(f - REACH * width, min(float(frequency[0]), f - FEWEST_WIDTHS * width))
    high = min(f + REACH * width, max(float(frequency[-1]), f + FEWEST_WIDTHS * width))
    return low, high


def _spread_out(indices: IntArray) -> IntArray:
    """At most `MOST_POINTS` of them, evenly."""
    if len(indices) <= MOST_POINTS:
        return indices
    return np.asarray(indices[np.linspace(0, len(indices) - 1, MOST_POINTS).round().astype(int)])


def _swr(response: ComplexArray) -> FloatArray:
    size = np.minimum(abs(response), LARGEST_REFLECTION)
    return np.asarray((1.0 + size) / (1.0 - size))
