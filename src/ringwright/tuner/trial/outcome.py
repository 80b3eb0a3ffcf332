# SPDX-License-Identifier: BSD-3-Clause
"""What came of one twin."""

from dataclasses import dataclass, field

from ringwright.tuner.trial.faults import Fault
from ringwright.tuner.trial.truth import Truth


@dataclass(slots=True, kw_only=True)
class Outcome:
    """One run. `truth` where the search said it was done, None where it never did; `unsafe`: acts by name."""

    number: int
    fault: Fault | None
    truth: Truth | None = None
    carrier: float = 0.0
    readings: int = 0
    readings_keyed: int = 0
    forward_max: float = 0.0
    seconds: float = 0.0
    has_fault_happened: bool = False
    reached_power: bool = False
    last_word: str = ""
    unsafe: dict[str, int] = field(default_factory=dict)

    @property
    def is_success(self) -> bool:
        return self.truth is not None and self.truth.is_success
