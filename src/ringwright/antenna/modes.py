# SPDX-License-Identifier: BSD-3-Clause
"""Modes by name and their mode factor: average power over peak envelope power while transmitting.

FCC OET Bulletin 65, Supplement B (97-01), Table 2. For heavily processed speech another printing says 40 %; the
larger figure is taken, which errs to the safe side. Modes that keep a full carrier for the whole transmission are 1.
"""

from collections.abc import Mapping
from types import MappingProxyType

FULL_CARRIER = "carrier"

MODE_FACTORS: Mapping[str, float] = MappingProxyType(
    {
        FULL_CARRIER: 1.0,
        "CW": 0.4,  # conversational
        "SSB voice": 0.2,
        "SSB voice processed": 0.5,  # heavy speech processing
        "FM": 1.0,
        "AM": 1.0,  # not in the table: the carrier stays, and a full carrier is the safe side
        "RTTY": 1.0,
        "AFSK": 1.0,
        "digital": 1.0,  # in the transmit slot; slots belong into transmit_share
    }
)
