# SPDX-License-Identifier: BSD-3-Clause
"""What a row must be to count as a report. One sentence for each that is none; nothing is repaired by guessing."""

import math
from array import array
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Final, TypeVar, cast

import numpy as np

from ringwright.air.locator import Place, place_of
from ringwright.air.report_bands import BAND_NAMES, band_code, band_code_at, middle
from ringwright.air.reports import RawReport, Reports
from ringwright.errors import LocatorError
from ringwright.units import shown

SNR_RANGE: Final = (-60.0, 80.0)
"""[dB]: below, nothing decodes; above, no receiver on earth can tell (common practice, no source)."""
POWER_MOST: Final = 100e3
"""[W]: more than any amateur's transmitter."""
CLOCK_SLACK: Final = 300.0
"""Seconds that a receiver's clock may be ahead."""
FIRST_YEAR: Final = 1930  # ADIF 3.1.7, type Date
_LONGEST_NAME: Final = 80
_SPOT_UNCERTAINTY: Final = 100.0  # [m]: as good as three decimals of a degree
_REMEMBERED: Final = 50_000
_Value = TypeVar("_Value")
_HEARD_ME: Final = {"", "heard me", "heard-me", "rx", "received"}
_HEARD_BY_ME: Final = {"heard by me", "heard-by-me", "tx", "sent"}


class RefusedError(Exception):
    """Why a row is no report; only ever met inside this module."""


class Sieve:
    """Takes rows one by one and keeps them in columns."""

    def __init__(self, now: datetime) -> None:
        self._latest = now.timestamp() + CLOCK_SLACK
        self._time, self._frequency = array("d"), array("d")
        self._snr, self._power = array("d"), array("d")
        self._band, self._receiver_code, self._place = array("i"), array("i"), array("i")
        self._mode, self._antenna, self._heard_me = array("i"), array("i"), array("b")
        self._places: list[Place] = []
        self._at: dict[Place, int] = {}
        self._names: dict[str, dict[str, int]] = {"receiver": {}, "mode": {}, "antenna": {}}
        self._known: dict[str, dict[tuple[str, ...], object]] = {}
        self._own: Counter[str] = Counter()

    def take(self, raw: RawReport) -> str | None:
        """Keep a row, or say in one sentence why it is not kept."""
        time, frequency, band, receiver, locator, latitude, longitude, snr, power, mode, antenna, way, own = (
            raw
        )
        try:
            seconds = self._moment(time)
            who, place = self._once(self._receiver, receiver, locator, latitude, longitude)
            loud = self._once(_snr, snr)
            how = self._once(self._sending, frequency, band, power, mode, antenna, way, own)
        except RefusedError as exc:
            return str(exc)
        hertz, code, watts, mode_code, antenna_code, heard_me = how
        self._time.append(seconds)
        self._frequency.append(hertz)
        self._snr.append(loud)
        self._power.append(watts)
        self._heard_me.append(heard_me)
        self._band.append(code)
        self._receiver_code.append(who)
        self._place.append(place)
        self._mode.append(mode_code)
        self._antenna.append(antenna_code)
        if own:
            self._own[own] += 1
        return None

    def reports(self) -> Reports:
        """All that was kept, in the order it came."""
        own = self._own.most_common(1)
        band, receiver, place, mode, antenna = (
            np.frombuffer(codes, dtype=np.int32)
            for codes in (self._band, self._receiver_code, self._place, self._mode, self._antenna)
        )
        return Reports(
            time=np.frombuffer(self._time),
            frequency=np.frombuffer(self._frequency),
            snr=np.frombuffer(self._snr),
            power=np.frombuffer(self._power),
            band=band,
            receiver=receiver,
            place=place,
            mode=mode,
            antenna=antenna,
            heard_me=np.frombuffer(self._heard_me, dtype=np.int8) > 0,
            receivers=tuple(self._names["receiver"]),
            places=tuple(self._places),
            modes=tuple(self._names["mode"]),
            antennas=tuple(self._names["antenna"]),
            own_locator=own[0][0] if own else None,
        )

    def _once(self, reader: Callable[..., _Value], *texts: str) -> _Value:
        """The reader's answer, worked out once for the same texts; most stand in a log many times."""
        known = self._known.setdefault(reader.__name__, {})
        found = known.get(texts)
        if found is None:
            if len(known) > _REMEMBERED:
                known.clear()
            try:
                found = reader(*texts)
            except RefusedError as exc:
                found = exc
            known[texts] = found
        if isinstance(found, RefusedError):
            raise RefusedError(*found.args)
        return cast("_Value", found)

    def _receiver(self, receiver: str, locator: str, *spot: str) -> tuple[int, int]:
        place = self._placed(locator, spot[0], longitude=spot[1])
        return self._named("receiver", receiver.upper()), place

    def _sending(self, frequency: str, band: str, *others: str) -> tuple[float, int, float, int, int, bool]:
        power, mode, antenna, direction, own = others
        hertz, code = _frequency_and_band(frequency, band)
        watts, heard_me = _power(power), _direction(direction)
        if own:
            _own_locator(own)
        mode_code = self._named("mode", mode.upper()) if mode else -1
        return hertz, code, watts, mode_code, self._named("antenna", antenna) if antenna else -1, heard_me

    def _moment(self, text: str) -> float:
        try:
            moment = datetime.fromisoformat(text)
        except ValueError:
            moment = None
        if moment is None or len(text) <= len("2026-05-01"):
            raise RefusedError(
                f"time {shown(text)} is none; write ISO 8601 UTC as in 2026-05-01T12:34:56Z"
                if text
                else "there is no time"
            )
        seconds = (moment if moment.tzinfo else moment.replace(tzinfo=UTC)).timestamp()
        if seconds > self._latest:
            raise RefusedError(f"time {shown(text)} lies in the future; set the clock right that wrote it")
        if moment.year < FIRST_YEAR:
            raise RefusedError(f"time {shown(text)} is before {FIRST_YEAR}; correct it")
        return seconds

    def _named(self, kind: str, text: str) -> int:
        names = self._names[kind]
        code = names.get(text)
        if code is None:
            if not text:
                raise RefusedError(f"there is no {kind}")
            if len(text) > _LONGEST_NAME or not text.isprintable():
                raise RefusedError(
                    f"{kind} {shown(text)} is no name; write at most {_LONGEST_NAME} characters"
                )
            code = names[text] = len(names)
        return code

    def _placed(self, locator: str, latitude: str, *, longitude: str) -> int:
        if latitude or longitude:
            found = _spot(latitude, longitude)
        elif locator:
            found = _square(locator)
        else:
            return -1
        if found not in self._at:
            self._at[found] = len(self._places)
            self._places.append(found)
        return self._at[found]


def number(text: str, what: str) -> float:
    """A finite number as people write it in a log, or refused."""
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value) or "_" in text or not (text.isascii() and text.isprintable()):
        raise RefusedError(f"{what} {shown(text)} is not a number; correct it")
    return value


def _frequency_and_band(frequency: str, band: str) -> tuple[float, int]:
    named = band_code(band) if band else None
    if band and named is None:
        raise RefusedError(f"band {shown(band)} is none; write one as in 40m")
    if not frequency:
        if named is None:
            raise RefusedError("there is neither frequency nor band")
        return middle(named), named
    megahertz = number(frequency, "frequency")
    code = band_code_at(megahertz * 1e6)
    if code is None:
        raise RefusedError(f"frequency {frequency} MHz lies in no amateur band; write it in MHz")
    if named is not None and named != code:
        raise RefusedError(
            f"frequency {frequency} MHz does not lie in the band {BAND_NAMES[named]} beside it"
        )
    return megahertz * 1e6, code


def _snr(text: str) -> float:
    if not text:
        return math.nan
    value = number(text[:-2].rstrip() if text[-2:].casefold() == "db" else text, "SNR")
    low, high = SNR_RANGE
    if not low <= value <= high:
        raise RefusedError(f"SNR {text} dB is impossible; it lies between {low:g} and {high:g} dB")
    return value


def _power(text: str) -> float:
    if not text:
        return math.nan
    value = number(text, "power")
    if not 0.0 < value <= POWER_MOST:
        raise RefusedError(f"power {text} W is impossible; write watts above 0, at most {POWER_MOST:g}")
    return value


def _direction(text: str) -> bool:
    word = text.casefold()
    if word in _HEARD_ME:
        return True
    if word in _HEARD_BY_ME:
        return False
    raise RefusedError(f"direction {shown(text)} is none; write heard me or heard by me")


def _square(locator: str) -> Place:
    try:
        return place_of(locator)
    except LocatorError as exc:
        raise RefusedError(str(exc)) from exc


def _own_locator(locator: str) -> Place:
    try:
        return place_of(locator)
    except LocatorError as exc:
        raise RefusedError(f"own {exc}") from exc


def _spot(latitude: str, longitude: str) -> Place:
    if not (latitude and longitude):
        raise RefusedError("one of latitude and longitude is missing")
    north, east = number(latitude, "latitude"), number(longitude, "longitude")
    if abs(north) > 90.0 or abs(east) > 180.0:
        raise RefusedError(f"there is no place at latitude {latitude}, longitude {longitude} degrees")
    return Place(latitude=north, longitude=east, uncertainty=_SPOT_UNCERTAINTY)
