# SPDX-License-Identifier: BSD-3-Clause
"""One sweep's answer as plain values."""

from dataclasses import dataclass

from ringwright.proof.estimate import Estimate, Flag
from ringwright.proof.resonance_model import Resonance
from ringwright.proof.sweep import SweepKind


@dataclass(frozen=True, slots=True, kw_only=True)
class ResonanceFit:
    """Names are the JSON's keys less their SI suffix. `swr_min` is None for a transmission.

    Beside the contract's keys: `off_resonance` is the size of the reflection without the resonance, which shows the
    cable's loss (of a transmission what leaks past, without an interval); `delay` [s] is its time there and back, None
    where no phase was measured; `noise` the rms error of one point; `first` to `last` - 1 the points that were fitted;
    `resonance` draws the fitted circle, None where there is no phase.
    """

    source: str
    kind: SweepKind
    frequency: Estimate
    q_loaded: Estimate
    q_unloaded: Estimate
    coupling: Estimate
    swr_min: Estimate | None
    bandwidth_half_power: Estimate
    flags: tuple[Flag, ...]
    off_resonance: Estimate
    delay: Estimate | None
    noise: float
    first: int
    last: int
    resonance: Resonance | None
