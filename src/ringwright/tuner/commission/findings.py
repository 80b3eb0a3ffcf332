# SPDX-License-Identifier: BSD-3-Clause
"""What was found while a drive was brought up; kept in the workspace, told to the brain."""

from dataclasses import dataclass, replace

from ringwright.tuner.brain import Ring
from ringwright.tuner.commission.plan import StepName


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """`travel` [steps] is the design's, for which all this holds; None: not found yet. Counts in steps.

    `speed` [steps/s]: the board's own, `seek_speed` that towards its end stop. `slack`: most that backlash and windup
    take up. `meter`: what a trusted meter showed over what the board read before its calibration, None where none was
    made.
    """

    travel: int
    done: tuple[StepName, ...] = ()
    speed: int | None = None
    seek_speed: int | None = None
    low_end: int | None = None
    high_end: int | None = None
    slack: int | None = None
    meter: float | None = None

    @property
    def next_step(self) -> StepName | None:
        """The first that is not done; None: all are."""
        return next((step for step in StepName if step not in self.done), None)

    def with_done(self, step: StepName) -> "Findings":
        """The same with one more step done."""
        return replace(self, done=tuple(each for each in StepName if each in {*self.done, step}))

    def without(self, step: StepName) -> "Findings":
        """The same with a step and all after it to be done again."""
        steps = [*StepName]
        return replace(self, done=tuple(each for each in self.done if steps.index(each) < steps.index(step)))


def with_findings(ring: Ring, found: Findings) -> Ring:
    """The ring as it was found to be, where something was found."""
    return replace(
        ring,
        low_end=ring.low_end if found.low_end is None else found.low_end,
        high_end=ring.high_end if found.high_end is None else found.high_end,
        slack=ring.slack if found.slack is None else found.slack,
        speed=ring.speed if found.speed is None else float(found.speed),
        seek_speed=ring.seek_speed if found.seek_speed is None else float(found.seek_speed),
    )
