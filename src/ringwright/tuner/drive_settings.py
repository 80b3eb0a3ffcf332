# SPDX-License-Identifier: BSD-3-Clause
"""What the board must know of a drive, as far as the design says it. Counts are microsteps, as on the line."""

from ringwright.antenna.design import Design
from ringwright.antenna.drive_resolution import shaft_turns, turns_per_step
from ringwright.errors import TuningTableError

MOST_SPEED = 20_000
"""Steps a second that the board makes at most."""
BELOW = 1.0 / 360.0
"""Turns of the capacitor's shaft from its end of travel down to where the end stop's switch opens: a plain lever switch
opens at the same place to less than that; own assumption."""
LEAST_BELOW = 40
"""Steps of that at least, as the board is shipped; own assumption."""
GETS_THERE = 0.5
"""Seconds to full speed; own assumption, what a small stepper with a gear takes without losing steps."""


def drive_settings(design: Design) -> dict[str, int]:
    """Travel, speeds, and where the switch of the low end opens.

    Raises
    ------
    TuningTableError
        If the design states no drive, or no travel of its capacitor.
    """
    drive, turns = design.drive, shaft_turns(design.capacitor)
    if drive is None:
        raise TuningTableError("drive: the design states none; add a [drive] to it, which the tuner turns")
    if turns is None:
        raise TuningTableError('capacitor.travel: not stated; add it, as in travel = "16 turns" or "180 deg"')
    step = turns_per_step(drive)
    speed = max(1, min(MOST_SPEED, round(drive.speed * drive.steps_per_turn * drive.microsteps)))
    below = max(LEAST_BELOW, round(BELOW / step))
    return {
        "speed": speed,
        "acceleration": max(10, round(speed / GETS_THERE)),
        "seek_speed": max(1, speed // 2),
        "travel": round(turns / step),
        "stop_at": -below,
        "switch_slack": below,
    }
