# SPDX-License-Identifier: BSD-3-Clause
"""The pins of the board: pulses out, switches and voltages in, and the watchdog.

The pin that permits to transmit is low, and the motor's driver off, from reset on and whenever this program ends.
"""

import math
import time

from machine import ADC, WDT, Pin

FULL_SCALE_MV = 3300.0
WATCHDOG_MS = 5000
_PULSE_US, _TURN_US = 4, 20
_CATCHES_UP = 0.8
"""Of a step's time between pulses that are late."""
_NTC_OHM, _NTC_KELVIN, _NTC_BETA = 10_000.0, 298.15, 3950.0
_DIVIDER_OHM = 10_000.0


class Pins:
    """`pins`: numbers by name; `values` are the settings in force, read anew at each use."""

    def __init__(self, pins, values, *, driver_on: int = 0) -> None:
        self._values, self._driver_on = values, driver_on
        self._permit = Pin(pins["permit"], Pin.OUT, value=0)
        self._enable = Pin(pins["enable"], Pin.OUT, value=1 - driver_on)
        self._step = Pin(pins["step"], Pin.OUT, value=0)
        self._direction = Pin(pins["direction"], Pin.OUT, value=0)
        self._low, self._high = _switch(pins["low_stop"]), _switch(pins["high_stop"])
        self._forward, self._reflected = _voltage(pins["forward"]), _voltage(pins["reflected"])
        self._thermistor = None if pins["thermistor"] is None else _voltage(pins["thermistor"])
        self._way: int | None = None
        self._count, self._sums = 0, [0.0, 0.0]
        self._watchdog = WDT(timeout=WATCHDOG_MS)

    def feed(self) -> None:
        """The program lives."""
        self._watchdog.feed()

    def step(self, pulses: int, pace: float, *, look=None) -> None:
        """Make pulses; several that are late come a little closer than the drive's pace. Ends where `look` says so."""
        way = (1 if pulses > 0 else 0) ^ (1 if self._values["reversed"] else 0)
        if way != self._way:
            self._way = way
            self._direction.value(way)
            time.sleep_us(_TURN_US)  # type: ignore[attr-defined]
        pause = int(_CATCHES_UP * 1_000_000 / max(pace, 50.0))
        for number in range(abs(pulses)):
            if number:
                time.sleep_us(pause)  # type: ignore[attr-defined]
            self._step.value(1)
            time.sleep_us(_PULSE_US)  # type: ignore[attr-defined]
            self._step.value(0)
            if look is not None and look():
                return

    def show(self, moving: bool, inhibit: bool) -> None:
        """The driver stays on once it has moved: a motor let go would creep to a whole step."""
        if moving:
            self._enable.value(self._driver_on)
        self._permit.value(0 if inhibit else 1)

    def switches(self):
        """Low and high end stop; a broken wire reads as a closed one, None without a switch."""
        return _closed(self._low), _closed(self._high)

    def sample(self) -> None:
        """Look at the detectors once."""
        self._count += 1
        self._sums[0] += _millivolts(self._forward)
        self._sums[1] += _millivolts(self._reflected)

    def reading(self):
        """Means of both detectors since the last reading [mV], and the temperature."""
        count = max(1, self._count)
        means = self._sums[0] / count, self._sums[1] / count
        self._count, self._sums = 0, [0.0, 0.0]
        warm = None if self._thermistor is None else thermistor_c(_millivolts(self._thermistor))
        return means[0], means[1], warm

    def safe(self) -> None:
        """Nobody may transmit, nothing moves."""
        self._permit.value(0)
        self._enable.value(1 - self._driver_on)


def thermistor_c(millivolts: float) -> float | None:
    """Temperature of a thermistor to ground below a resistor to the supply; None where it is broken or shorted.

    The beta equation of negative-temperature-coefficient thermistors (textbook).
    """
    if not 0.01 < millivolts / FULL_SCALE_MV < 0.99:
        return None
    ohm = _DIVIDER_OHM * millivolts / (FULL_SCALE_MV - millivolts)
    return round(1.0 / (1.0 / _NTC_KELVIN + math.log(ohm / _NTC_OHM) / _NTC_BETA) - 273.15, 1)


def _switch(number):
    return None if number is None else Pin(number, Pin.IN, Pin.PULL_UP)


def _closed(pin):
    return None if pin is None else pin.value() == 1


def _voltage(number):
    adc = ADC(Pin(number))
    if hasattr(adc, "atten"):
        adc.atten(adc.ATTN_11DB)  # the whole range of the input
    return adc


def _millivolts(adc) -> float:
    if hasattr(adc, "read_uv"):
        return float(adc.read_uv()) / 1000.0
    return float(adc.read_u16()) * FULL_SCALE_MV / 65535.0
