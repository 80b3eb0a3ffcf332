# SPDX-License-Identifier: BSD-3-Clause
"""A sweep set against the prediction: the ring's loss at the gap and its efficiency, from the Q that was measured.

The solver gives how fast the ring's reactance rises with frequency, dX/df at the gap, and what the ring radiates on its
site; neither depends much on what may be wrong with a build. The measured Q then gives the whole resistance,
R = f dX/df / (2 Q), and with it the efficiency.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ringwright.antenna.bands import HIGHEST_FREQUENCY, LOWEST_FREQUENCY
from ringwright.antenna.design import Design
from ringwright.antenna.network import GAP
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.antenna.tuning import TunedRing
from ringwright.errors import OutOfRangeError, SweepFitError
from ringwright.physics.feedline import attenuation_at
from ringwright.proof.estimate import Estimate
from ringwright.proof.fit_result import ResonanceFit
from ringwright.proof.resonance_fit import fit_resonance
from ringwright.proof.sweep import Sweep, SweepKind
from ringwright.proof.swr_fit import as_over_coupled

NEPER = 8.685889638
FARTHEST = 0.05
"""Of the frequency: beyond, a sweep belongs to none of the design's bands."""
SLOPE_SPREAD = 0.01
"""Half the interval of ln(dX/df): the solver's, against independent solvers (docs/explanation/thin-wire.md)."""
FREE_SPACE_SPREAD, SITE_SPREAD = 0.03, 0.2
"""Half the interval of ln of the radiation resistance where the design gives no range: our judgement of the solver in
free space, and of a site of which the earth is guessed."""
NINETY_FIVE_FROM_EIGHTY = 1.959964 / 1.281552
"""A prediction's range runs from its tenth to its ninetieth percentile."""
SWEEP_WIDTHS, SWEEP_POINTS = 3.0, 121


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """One sweep beside its band's prediction; names are the JSON's keys less their SI suffix.

    `resistance_total` [ohm] and `efficiency_pct` of power into the sky are bounds, never one number. `as_predicted` is
    the fit of the sweep that the design predicts at the same resonance, so that like is compared with like;
    `radiation_resistance` [ohm] is the solver's on this site. `feedline_loss` [dB] is what the design declares one
    way, `loss_found` what the sweep shows, None without phase or in a transmission.
    """

    band: BandPrediction
    fit: ResonanceFit
    as_predicted: ResonanceFit
    radiation_resistance: Estimate
    resistance_total: Estimate
    efficiency_pct: Estimate
    feedline_loss: float
    loss_found: Estimate | None


def prove_sweep(design: Design, prediction: Prediction, sweep: Sweep) -> Comparison:
    """Fit a sweep and set it against its band.

    Raises
    ------
    SweepFitError
        If it shows no resonance, or one that belongs to no band of the design.
    """
    reference = design.feedline.impedance
    middle = float(sweep.frequency[len(sweep.frequency) // 2])
    loss = feedline_attenuation(design, middle)
    fit = fit_resonance(sweep.referred_to(reference), off_resonance=float(np.exp(-2.0 * loss)))
    return compare(design, nearest_band(prediction.bands, fit), fit)


def nearest_band(bands: Sequence[BandPrediction], fit: ResonanceFit) -> BandPrediction:
    """The band whose edges lie nearest to the resonance."""
    f = fit.frequency.value

    def away(band: BandPrediction) -> float:
        target = band.point.target
        return max(target.low - f, f - target.high, 0.0) / f

    band = min(bands, key=away)
    if not LOWEST_FREQUENCY <= f <= HIGHEST_FREQUENCY:
        raise SweepFitError(
            fit.source,
            f"the resonance would be at {f / 1e6:.4g} MHz, where no design is; look at the unit of the frequencies",
        )
    if away(band) > FARTHEST:
        raise SweepFitError(
            fit.source,
            f"the resonance at {f / 1e6:.4g} MHz is far from every band of the design; add it to the design's bands or "
            f"tune_to",
        )
    return band


def feedline_attenuation(design: Design, frequency: float) -> float:
    """Matched loss of the declared feedline, one way [Np]."""
    line = design.feedline
    if line.loss_frequency is None:
        return line.loss * line.length / NEPER
    return float(
        attenuation_at(
            frequency, attenuation=line.loss * line.length / NEPER, reference_frequency=line.loss_frequency
        )
    )


def compare(design: Design, band: BandPrediction, fit: ResonanceFit) -> Comparison:
    """Set a fit against a band."""
    f = fit.frequency.value
    tuned = _tuned_as_measured(design, band, fit)
    as_predicted = _predicted_fit(tuned, fit)
    if fit.kind is SweepKind.SWR and tuned.is_over_coupled(f):
        fit = as_over_coupled(fit)  # an SWR does not tell the side; the prediction is the better guess
    _, q_open = tuned.resonance()
    # The circle's unloaded Q and that of the ring with its coupling loop open differ by about coupling over Q, as the
    # loop's inductance is part of what resonates; the predicted sweep says by how much.
    per_circle = q_open / as_predicted.q_unloaded.value
    q = fit.q_unloaded
    resistance = f * reactance_slope(tuned, f) / (2.0 * q.value * per_circle)
    total = Estimate(
        value=resistance,
        low=resistance * q.value / q.high * float(np.exp(-SLOPE_SPREAD)),
        high=resistance * q.value / q.low * float(np.exp(SLOPE_SPREAD)),
    )
    radiation = _radiation_resistance(design, band, f)
    is_cable_seen = fit.kind is SweepKind.REFLECTION
    return Comparison(
        band=band,
        fit=fit,
        as_predicted=as_predicted,
        radiation_resistance=radiation,
        resistance_total=total,
        efficiency_pct=_efficiency(radiation, total),
        feedline_loss=feedline_attenuation(design, f) * NEPER,
        loss_found=_one_way(fit.off_resonance) if is_cable_seen else None,
    )


def _one_way(off: Estimate) -> Estimate:
    value, low, high = (-10.0 * float(np.log10(max(g, 1e-6))) for g in (off.value, off.high, off.low))
    return Estimate(value=value, low=low, high=high)


def _tuned_as_measured(design: Design, band: BandPrediction, fit: ResonanceFit) -> TunedRing:
    """The predicted ring with the capacitance that resonates where the built one does."""
    try:
        return TunedRing.at(
            band.point.tuned.network,
            design.capacitor,
            frequency=fit.frequency.value,
            reference=design.feedline.impedance,
        )
    except OutOfRangeError as exc:
        raise SweepFitError(fit.source, str(exc)) from exc


def _predicted_fit(tuned: TunedRing, fit: ResonanceFit) -> ResonanceFit:
    """The same fit of the sweep that the design predicts, without noise or cable."""
    f0, q = tuned.resonance()
    reach = SWEEP_WIDTHS * f0 / q
    frequency = np.linspace(tuned.frequency - reach, tuned.frequency + reach, SWEEP_POINTS)
    return fit_resonance(
        Sweep(
            source=fit.source,
            kind=SweepKind.REFLECTION,
            frequency=frequency,
            response=tuned.reflection(frequency),
            reference=tuned.reference,
        )
    )


def reactance_slope(tuned: TunedRing, frequency: float) -> float:
    """dX/df at the gap, coupling loop open [ohm/Hz]."""
    span = frequency * 1e-4
    below, above = tuned.ring_reactance(frequency + span * np.array([-1.0, 1.0]))
    return float(above - below) / (2.0 * span)


def _radiation_resistance(design: Design, band: BandPrediction, frequency: float) -> Estimate:
    """What leaves into the sky, over the square of the gap current, at the measured frequency [ohm]."""
    network = band.point.tuned.network
    here, there = (
        float(network.parts(f)["radiation"][GAP, GAP].real) for f in (frequency, band.point.target.frequency)
    )
    value = band.resistance.radiation * here / there
    known = band.range.get("resistance_ohm.radiation")
    if known is None:
        is_bare = design.site.earth is None and not design.site.metal
        return Estimate.factor(value, FREE_SPACE_SPREAD if is_bare else SITE_SPREAD)
    low, high = (
        value
        * (end / band.resistance.radiation) ** NINETY_FIVE_FROM_EIGHTY
        * float(np.exp(sign * FREE_SPACE_SPREAD))
        for end, sign in zip(known, (-1.0, 1.0), strict=True)
    )
    return Estimate(value=value, low=min(low, value), high=max(high, value))


def _efficiency(radiation: Estimate, total: Estimate) -> Estimate:
    """Per cent; both intervals at once, as independent factors, and never more than all."""
    value = 100.0 * radiation.value / total.value
    down = np.hypot(np.log(radiation.value / radiation.low), np.log(total.high / total.value))
    up = np.hypot(np.log(radiation.high / radiation.value), np.log(total.value / total.low))
    low, high = value * float(np.exp(-down)), value * float(np.exp(up))
    return Estimate(value=min(value, 100.0), low=min(low, 100.0), high=min(high, 100.0))
