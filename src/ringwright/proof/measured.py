# SPDX-License-Identifier: BSD-3-Clause
"""What one sweep says about one resonance, as the diagnosis takes it."""

from dataclasses import dataclass

from ringwright.errors import OutOfRangeError


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One sweep's resonance with how sure it is; spreads are standard deviations of the natural logarithm.

    `frequency` [Hz] of the loaded resonance. `coupling` as the fit defines it, the declared feedline taken out; None
    where there is none, as in a transmission from probe to probe. `off_resonance` is the size of the reflection at the
    circle's off-resonance point, the declared loss taken out: the only thing that tells of a cable worse than declared.
    """

    frequency: float
    q_unloaded: float
    q_spread: float
    coupling: float | None = None
    coupling_spread: float = 0.03
    off_resonance: float | None = None
    off_resonance_spread: float = 0.01

    def __post_init__(self) -> None:
        for name in ("frequency", "q_unloaded", "q_spread", "coupling", "coupling_spread", "off_resonance"):
            value = getattr(self, name)
            if value is not None and not 0.0 < value < float("inf"):
                raise OutOfRangeError(f"measured {name} must be finite and > 0, got {value!r}")
