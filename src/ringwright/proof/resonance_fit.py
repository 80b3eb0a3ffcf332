# SPDX-License-Identifier: BSD-3-Clause
"""What a sweep says about a ring: loaded and unloaded Q, coupling, resonance, least SWR, each with its interval.

Definitions: with d the circle's diameter over the size of the reflection off resonance, the coupling is d/(2 - d),
above 1 over-coupled; the unloaded Q is the loaded one times 1 + coupling; the frequency is that of the circle's point
opposite the off-resonance point. SWR is that at the coupling loop: the cable's loss, which the off-resonance reflection
shows, is taken out, and its length with it. Between two equal probes d is the transmission itself, the coupling that
of both, d/(1 - d).

References
----------
.. [1] A. P. Gregory, Q-factor Measurement by using a Vector Network Analyser, NPL Report MAT 58, 2021, secs. 2-3.
"""

from ringwright.proof.circle_fit import fit_circle
from ringwright.proof.fit_result import ResonanceFit
from ringwright.proof.sweep import Sweep, SweepKind
from ringwright.proof.swr_fit import fit_swr


def fit_resonance(sweep: Sweep, *, off_resonance: float = 1.0) -> ResonanceFit:
    """Fit the strongest resonance of a sweep.

    `off_resonance` is the size of reflection that the cable's loss leaves off resonance; it is asked for only where
    an SWR sweep does not reach far enough from the dip to show it.

    Raises
    ------
    SweepFitError
        If the sweep does not show a resonance well enough to be measured.
    """
    if sweep.kind is SweepKind.SWR:
        return fit_swr(sweep, off_resonance=off_resonance)
    return fit_circle(sweep)
