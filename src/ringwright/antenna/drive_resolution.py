# SPDX-License-Identifier: BSD-3-Clause
"""How finely a drive tunes: hertz per turn of the shaft along a band, and the gearing that lands on frequency."""

import math
from dataclasses import dataclass

import numpy as np

from ringwright.antenna.capacitor import capacitance_per_travel
from ringwright.antenna.design import Capacitor, Drive, Target
from ringwright.antenna.tuning import TunedRing, best_capacitance
from ringwright.physics.graph import FloatArray

ALONG_BAND = 17
"""Places from edge to edge at which a law is looked at; a table of capacitance changes its slope at every row."""
SHARE_OF_WIDTH = 0.1
"""Of the bandwidth, within which tuning should land: SWR then stays where it was found; common practice, no source."""
MICROSTEPS = (1, 2, 4, 8, 16, 32, 64, 128, 256)
"""What drivers of stepper motors offer."""
_SPAN = 1e-4  # of the frequency, for the slope of capacitance over frequency


def shaft_turns(capacitor: Capacitor) -> float | None:
    """Turns of the capacitor's shaft from end to end; None where no travel is stated."""
    if capacitor.travel is None:
        return None
    return capacitor.travel if capacitor.travel_unit == "turns" else capacitor.travel / 360.0


def hertz_per_turn(tuned: TunedRing, capacitor: Capacitor, frequency: FloatArray) -> FloatArray:
    """How far one turn of the shaft would move the tuning, by the slope at each frequency [Hz]; nan out of reach.

    Arithmetic on the solved network: another law or travel costs no new solution.
    """
    turns = shaft_turns(capacitor)
    if turns is None:
        return np.full(len(frequency), math.nan)
    around = np.concatenate([frequency, frequency * (1.0 - _SPAN), frequency * (1.0 + _SPAN)])
    needed = best_capacitance(tuned.network, capacitor, around, reference=tuned.reference)
    here, below, above = needed.reshape(3, -1)
    slopes = [capacitance_per_travel(capacitor, float(farads)) for farads in here]
    per_travel = np.array([math.nan if slope is None else slope for slope in slopes])
    return np.asarray(abs(2.0 * _SPAN * frequency / (above - below) * per_travel) / turns)


@dataclass(frozen=True, slots=True)
class Sweep:
    """Hertz per turn [Hz] at both edges, in the middle, and the most anywhere in between; None out of reach."""

    low: float | None
    mid: float | None
    high: float | None
    worst: float | None

    @classmethod
    def along(cls, tuned: TunedRing, capacitor: Capacitor, target: Target) -> "Sweep":
        """Across a target from edge to edge."""
        found = hertz_per_turn(tuned, capacitor, np.linspace(target.low, target.high, ALONG_BAND))
        reached = found[np.isfinite(found)]
        low, mid, high = (_finite(found[place]) for place in (0, ALONG_BAND // 2, -1))
        return cls(low, mid, high, float(reached.max()) if len(reached) else None)

    def times(self, turns: float) -> "Sweep":
        """The same for so many turns of the shaft."""

        def scaled(each: float | None) -> float | None:
            return None if each is None else each * turns

        return Sweep(scaled(self.low), scaled(self.mid), scaled(self.high), scaled(self.worst))


def turns_per_step(drive: Drive) -> float:
    """Turns of the capacitor's shaft for one microstep of the motor."""
    return 1.0 / (drive.steps_per_turn * drive.microsteps * drive.reduction)


def gearing_needed(
    drive: Drive, *, step: float, spring: float, width: float
) -> tuple[float | None, int | None]:
    """Reduction with the microsteps as they are, and microsteps with the reduction as it is, that land within a tenth.

    `step` is the largest microstep, `spring` what a twisted shaft lets go, `width` the bandwidth, all in hertz. None
    where nothing of the kind lands there: gearing does not cure what lies behind it.
    """
    left = SHARE_OF_WIDTH * width - spring
    if left <= 0.0:
        return None, None
    times = step / 2.0 / left
    enough = (count for count in MICROSTEPS if count >= times * drive.microsteps)
    return times * drive.reduction, next(enough, None)


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None
