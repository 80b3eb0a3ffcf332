# SPDX-License-Identifier: BSD-3-Clause
"""Metals by name: conductivity, temperature coefficient, permeability, and where the numbers come from."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """`conductivity` [S/m] at 20 degrees C, `temperature_coefficient` [1/K] of the resistivity, `mu_r` relative.

    `expansion` [1/K] is linear, near 20 degrees C; handbook values from memory, sure to a twentieth.
    """

    conductivity: float
    temperature_coefficient: float
    source: str
    mu_r: float = 1.0
    expansion: float = 17e-6


MATERIALS: Mapping[str, Material] = MappingProxyType(
    {
        "copper": Material(
            conductivity=58.0e6,
            temperature_coefficient=0.00393,
            source="IEC 60028, annealed copper, 100 % IACS = 58 MS/m",
        ),
        "water tube copper": Material(
            conductivity=48.0e6,
            temperature_coefficient=0.0033,
            source="phosphorus-deoxidised copper, 80-85 % IACS, from memory; coefficient falls with the conductivity "
            "(Matthiessen's rule)",
        ),
        "silver": Material(
            conductivity=63.0e6,
            temperature_coefficient=0.0038,
            expansion=19e-6,
            source="CRC Handbook of Chemistry and Physics, 1.587e-8 ohm m at 20 degrees C; coefficient from memory",
        ),
        "aluminium": Material(
            conductivity=37.7e6,
            temperature_coefficient=0.0040,
            expansion=23e-6,
            source="CRC Handbook of Chemistry and Physics, pure, 2.650e-8 ohm m at 20 degrees C; coefficient from "
            "memory",
        ),
        "aluminium 1350": Material(
            conductivity=34.8e6,
            temperature_coefficient=0.0040,
            expansion=23e-6,
            source="electrical conductor grade, 2.873e-8 ohm m; from memory",
        ),
        "aluminium 6061": Material(
            conductivity=24.9e6,
            temperature_coefficient=0.0033,
            expansion=23e-6,
            source="temper T6, about 43 % IACS; from memory",
        ),
        "aluminium 6063": Material(
            conductivity=29.0e6,
            temperature_coefficient=0.0035,
            expansion=23e-6,
            source="3.1e-8 to 3.6e-8 ohm m by temper, the lossier half taken; from memory",
        ),
        "aluminium 6101": Material(
            conductivity=31.9e6,
            temperature_coefficient=0.0036,
            expansion=23e-6,
            source="3.13e-8 ohm m; from memory",
        ),
        "brass": Material(
            conductivity=16.4e6,
            temperature_coefficient=0.0015,
            expansion=20e-6,
            source="CRC Handbook of Chemistry and Physics, 70/30, 6.08e-8 ohm m; coefficient from memory",
        ),
        "zinc": Material(
            conductivity=16.9e6,
            temperature_coefficient=0.0037,
            expansion=30e-6,
            source="CRC Handbook of Chemistry and Physics, 5.9e-8 ohm m; from memory",
        ),
        "galvanised steel": Material(
            conductivity=16.9e6,
            temperature_coefficient=0.0037,
            expansion=12e-6,
            source="its zinc carries the current where the coat is thicker than the skin depth (about 50 um at 7 MHz); "
            "common practice, no source",
        ),
        "steel": Material(
            conductivity=6.0e6,
            temperature_coefficient=0.005,
            mu_r=100.0,
            expansion=12e-6,
            source="mild steel; permeability at radio frequency spreads from 50 to 300; common practice, no source",
        ),
        "stainless steel": Material(
            conductivity=1.39e6,
            temperature_coefficient=0.001,
            expansion=17e-6,
            source="austenitic, 7.2e-7 ohm m, not magnetic; from memory",
        ),
    }
)
