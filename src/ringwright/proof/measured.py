# SPDX-License-Identifier: BSD-3-Clause
"""What one sweep says about one resonance, as the diagnosis takes it."""

from dataclasses import dataclass
from math import exp, hypot, log

from ringwright.errors import OutOfRangeError
from ringwright.proof.comparison import Comparison
from ringwright.proof.sweep import SweepKind

NINETY_FIVE = 1.959964
"""Standard deviations from the middle to the ends of an interval that holds 95 of 100."""
LEAST_SPREAD = 1e-4
CALIBRATION_SPREAD = 0.01
"""Of a reflection near 1 as an analyser shows it (common practice, no source)."""
CABLE_SPREAD = 0.2
"""Of the loss a data sheet gives for a cable, over that loss (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One sweep's resonance with how sure it is; spreads are standard deviations of the natural logarithm.

    `frequency` [Hz] of the loaded resonance. `coupling` as the fit defines it; None where there is none, as in a
    transmission from probe to probe. `off_resonance` is the size of the reflection without the resonance, the declared
    feedline's loss taken out: the only thing that tells of a cable worse than declared; None where none is declared.
    """

    frequency: float
    q_unloaded: float
    q_spread: float
    coupling: float | None = None
    coupling_spread: float = 0.03
    off_resonance: float | None = None
    off_resonance_spread: float = 0.01

    def __post_init__(self) -> None:
        for name in self.__slots__:
            value = getattr(self, name)
            if value is not None and not 0.0 < value < float("inf"):
                raise OutOfRangeError(f"measured {name} must be finite and > 0, got {value!r}")

    @classmethod
    def of(cls, comparison: Comparison) -> "Measured":
        """What a sweep that was set against its prediction measured."""
        fit = comparison.fit
        has_coupling = fit.kind is not SweepKind.TRANSMISSION
        # Without a declared loss the sweep's cable may be any: it is taken out of the fit, and accuses nobody.
        has_cable = fit.kind is SweepKind.REFLECTION and comparison.feedline_loss > 0.0
        lost = comparison.feedline_loss * log(10.0) / 10.0  # there and back, natural logarithm
        return cls(
            frequency=fit.frequency.value,
            q_unloaded=fit.q_unloaded.value,
            q_spread=max(fit.q_unloaded.log_spread / NINETY_FIVE, LEAST_SPREAD),
            coupling=fit.coupling.value if has_coupling else None,
            coupling_spread=max(fit.coupling.log_spread / NINETY_FIVE, LEAST_SPREAD) if has_coupling else 1.0,
            off_resonance=fit.off_resonance.value * exp(lost) if has_cable else None,
            off_resonance_spread=hypot(
                fit.off_resonance.log_spread / NINETY_FIVE, CALIBRATION_SPREAD, CABLE_SPREAD * lost
            )
            if has_cable
            else 1.0,
        )

    @property
    def logarithms(self) -> tuple[tuple[float | None, float], ...]:
        """Of unloaded Q, coupling and off-resonance reflection, each with its spread; None for what is missing."""
        return tuple(
            (None if value is None else log(value), spread)
            for value, spread in (
                (self.q_unloaded, self.q_spread),
                (self.coupling, self.coupling_spread),
                (self.off_resonance, self.off_resonance_spread),
            )
        )
