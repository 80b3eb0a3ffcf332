# SPDX-License-Identifier: BSD-3-Clause
"""SWR readings typed from a meter: one frequency with its unit and one SWR each, as in `7.050 MHz 1.8`."""

import re
from decimal import Decimal

import numpy as np

from ringwright.errors import QuantityError, SweepFileError
from ringwright.proof.file_text import text_lines
from ringwright.proof.sweep import Sweep, SweepKind, checked_sweep
from ringwright.units import shown, to_si

_READING = re.compile(
    r"(?P<frequency>[^\sA-Za-z]+)\s*(?P<unit>[kMG]?Hz)\s*[:=]?\s*(?P<swr>\d+(?:\.\d*)?|\.\d+)\s*(?::\s*1)?",
    re.ASCII,
)
HIGHEST_SWR = 1000.0


def parse_readings(text: str, *, source: str = "readings", reference: float = 50.0) -> Sweep:
    """Readings in any order, one a line or between semicolons; `reference` [ohm] is what the meter is made for.

    Raises
    ------
    SweepFileError
        If a reading does not read as a frequency with its unit and an SWR of 1 or more.
    """
    found = []
    for number, line in enumerate(text_lines(text.encode(errors="replace"), source), start=1):
        found += [
            (*_reading(part.strip(), source=source, line=number), number)
            for part in line.partition("#")[0].split(";")
            if part.strip()
        ]
    found.sort(key=lambda reading: reading[0])
    frequency, swr, rounding, lines = zip(*found, strict=True) if found else ((), (), (), ())
    s = np.array(swr, dtype=float)
    sweep = Sweep(
        source=source,
        kind=SweepKind.SWR,
        frequency=np.array(frequency, dtype=float),
        response=np.asarray((s - 1.0) / (s + 1.0), dtype=np.complex128),
        reference=reference,
        # d|reflection| = 2 ds / (s + 1)^2
        rounding=np.asarray(2.0 * np.array(rounding, dtype=float) / (s + 1.0) ** 2),
    )
    return checked_sweep(sweep, lines)


def _reading(text: str, *, source: str, line: int) -> tuple[float, float, float]:
    """Frequency [Hz], SWR, and half the SWR's last digit."""
    match = _READING.fullmatch(text)
    if match is None:
        raise SweepFileError(
            source, line, f'{shown(text)} is no reading; write frequency, unit and SWR, as in "7.050 MHz 1.8"'
        )
    try:
        frequency = to_si(f"{match['frequency']} {match['unit']}", "Hz")
    except QuantityError as exc:
        raise SweepFileError(source, line, str(exc)) from exc
    swr = float(match["swr"])
    if not 1.0 <= swr <= HIGHEST_SWR:
        raise SweepFileError(
            source, line, f"an SWR of {swr:g} is none; it is 1 or more, at most {HIGHEST_SWR:g} is read"
        )
    exponent = Decimal(match["swr"]).as_tuple().exponent
    assert isinstance(exponent, int)
    return frequency, swr, 0.5 * 10.0**exponent
