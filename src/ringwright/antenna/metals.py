# SPDX-License-Identifier: BSD-3-Clause
"""What metals weigh, how they bend and how they warm: handbook values near 20 degrees C, from memory."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

SOURCE = (
    "handbook values near 20 degrees C, from memory, sure to a twentieth; strength is that of the soft metal"
)
_POISSON = 0.33  # of all of these within 0.05


@dataclass(frozen=True, slots=True)
class Metal:
    """`density` [kg/m^3], `elasticity` [Pa] Young's modulus, `yields_at` [Pa] when soft, `specific_heat` [J/(kg K)]."""

    density: float
    elasticity: float
    yields_at: float
    specific_heat: float

    @property
    def rigidity(self) -> float:
        """Shear modulus [Pa]."""
        return self.elasticity / (2.0 * (1.0 + _POISSON))


_ALUMINIUM = Metal(2700.0, 69e9, 50e6, 897.0)
_STEEL = Metal(7850.0, 206e9, 220e6, 460.0)

METALS: Mapping[str, Metal] = MappingProxyType(
    {
        "copper": Metal(8940.0, 117e9, 50e6, 385.0),
        "water tube copper": Metal(8940.0, 117e9, 50e6, 385.0),
        "silver": Metal(10_490.0, 76e9, 55e6, 235.0),
        "aluminium": _ALUMINIUM,
        "aluminium 1350": _ALUMINIUM,
        "aluminium 6061": _ALUMINIUM,
        "aluminium 6063": _ALUMINIUM,
        "aluminium 6101": _ALUMINIUM,
        "brass": Metal(8530.0, 105e9, 110e6, 380.0),
        "zinc": Metal(7140.0, 90e9, 70e6, 388.0),
        "galvanised steel": _STEEL,
        "steel": _STEEL,
        "stainless steel": Metal(7900.0, 195e9, 210e6, 500.0),
    }
)
"""By the names of `ringwright.antenna.materials`."""


def metal_of(material: str | None) -> Metal:
    """A conductor's metal; one of no name counts as copper."""
    return METALS["copper" if material is None else material]
