# SPDX-License-Identifier: BSD-3-Clause
"""What the person should know about a sweep besides its figures."""

from collections.abc import Iterator

import numpy as np

from ringwright.proof.estimate import Flag
from ringwright.proof.fit_result import ResonanceFit
from ringwright.proof.sweep import Sweep, SweepKind

FEW_POINTS = 5  # within the loaded half-power width
NOISY, UNSURE = 0.02, 0.05  # of the circle's diameter; of the unloaded Q
TOO_LARGE = 2e-3  # of a reflection above 1
ROUNDING = 1e-6  # of a reflection: residuals below are the numbers' own digits
SECOND_DIP = 0.1  # of the depth of the first
SHALLOW_LOSS = 0.97  # reflection off resonance that no short cable explains
STRONG_PROBES = 0.2  # coupling of both probes

POINTS, NOISE, CALIBRATION, SECOND = "few_points", "noise", "calibration", "second_resonance"
CABLE, EDGE, CUT, PROBES, NOT_ALONE = "cable", "dip_at_edge", "cut", "probes_load", "not_alone"


def circle_flags(sweep: Sweep, result: ResonanceFit, *, together: float) -> Iterator[Flag]:
    """All that holds of a fitted sweep with phase; `together` above 1 where residuals are more than noise."""
    yield from common_flags(sweep, result)
    assert result.resonance is not None
    if result.noise > NOISY * abs(result.resonance.diameter) or result.q_unloaded.log_spread > UNSURE:
        yield Flag(
            code=NOISE,
            text=f"the sweep is noisy, {result.noise:.2g} a point; average, or sweep closer around the dip",
        )
    if together > 1.0 and result.noise > ROUNDING:
        yield Flag(
            code=NOT_ALONE,
            text="what is left beside the fitted resonance is more than noise; the intervals are widened for it",
        )
    if _has_second_dip(sweep, result):
        yield Flag(code=SECOND, text="there is a second dip in the sweep; the deeper one is measured")
    if sweep.kind is SweepKind.TRANSMISSION:
        yield from _probe_flags(result)
    else:
        yield from _cable_flags(result)


def common_flags(sweep: Sweep, result: ResonanceFit) -> Iterator[Flag]:
    """What holds with phase or without."""
    f, at = sweep.frequency, result.frequency.value
    width = at / result.q_loaded.value
    inside = int(np.count_nonzero(abs(f - at) < width / 2.0))
    if inside < FEW_POINTS:
        yield Flag(
            code=POINTS,
            text=f"{inside or 'no'} point{' lies' if inside == 1 else 's lie'} in the dip, {width / 1e3:.3g} kHz wide; "
            f"{FEW_POINTS} or more tell better: sweep {10 * width / 1e3:.3g} kHz around {at / 1e6:.5g} MHz",
        )
    if min(at - f[0], f[-1] - at) < width:
        yield Flag(
            code=EDGE,
            text="the dip lies at the edge of the sweep; sweep as far on either side of it as it is wide",
        )
    excess = float(abs(sweep.response).max()) - 1.0
    if excess > max(TOO_LARGE, 5.0 * result.noise):
        yield Flag(
            code=CALIBRATION,
            text=f"the analyser shows {excess:.1%} more than a passive ring can reflect; calibrate it at the plane of "
            f"measurement",
        )
    used = result.last - result.first
    if used < len(f):
        yield Flag(code=CUT, text=f"{used} of {len(f)} points around the dip are used")


def _has_second_dip(sweep: Sweep, result: ResonanceFit) -> bool:
    """Whether something outside the fitted points stands out as the resonance does, if less."""
    assert result.resonance is not None
    outside = np.ones(len(sweep.frequency), dtype=bool)
    outside[result.first : result.last] = False
    if not outside.any():
        return False
    off, tuned = result.off_resonance.value, abs(result.resonance.off + result.resonance.diameter)
    depth = off - tuned
    expected = abs(result.resonance.response(sweep.frequency[outside]))
    missing = (expected - abs(sweep.response[outside])) * np.sign(depth)
    return bool(missing.max() > max(SECOND_DIP * abs(depth), 6.0 * result.noise))


def _probe_flags(result: ResonanceFit) -> Iterator[Flag]:
    yield Flag(
        code=PROBES,
        text="measured from probe to probe, taken to be equal; unequal ones load the ring more and its Q is higher",
    )
    if result.coupling.value > STRONG_PROBES:
        yield Flag(
            code=PROBES,
            text="the probes load the ring much; move both away until the peak is 20 dB below a through",
        )


def _cable_flags(result: ResonanceFit) -> Iterator[Flag]:
    assert result.delay is not None
    # The coupling loop's own inductance turns the phase by at most a radian per relative frequency.
    longest_without = 1.0 / (2.0 * np.pi * result.frequency.value)
    if result.delay.low > longest_without or result.off_resonance.high < SHALLOW_LOSS:
        loss = -10.0 * np.log10(min(result.off_resonance.value, 1.0))
        yield Flag(
            code=CABLE,
            text=f"measured through a cable, or a lossy coupling loop: {result.delay.value * 1e9:.3g} ns there and "
            f"back and {loss:.2f} dB one way; both are taken out",
        )
