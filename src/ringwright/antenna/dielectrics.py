# SPDX-License-Identifier: BSD-3-Clause
"""Insulation by name: permittivity, loss and puncture; and coaxial cables of which a piece becomes a capacitor."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

PUNCTURE_ALLOWANCE = 10.0
"""By which a handbook's puncture field is divided: it is of thin films for a short time at low frequency, and at radio
frequency a flaw heats until it burns through. 4 to 10 is common practice, no source; the largest is taken."""
_VOLTS_PER_MIL = 1.0 / 25.4e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Dielectric:
    """Relative `permittivity` and `loss_tangent` at some megahertz, `puncture` [V/m] as handbooks state it."""

    permittivity: float
    loss_tangent: float
    puncture: float
    source: str


def _handbook(permittivity: float, loss_tangent: float, *, volts_per_mil: float, loss: str) -> Dielectric:
    return Dielectric(
        permittivity=permittivity,
        loss_tangent=loss_tangent,
        puncture=volts_per_mil * _VOLTS_PER_MIL,
        source=f"handbook table at 1 MHz, least puncture of the range; loss {loss}",
    )


_VON_HIPPEL = "after von Hippel, Dielectric Materials, 1954, from memory"

DIELECTRICS: Mapping[str, Dielectric] = MappingProxyType(
    {
        "PTFE": _handbook(2.1, 2e-4, volts_per_mil=1000, loss="from the same kind of table"),
        "polyethylene": _handbook(2.3, 3e-4, volts_per_mil=1200, loss="from the same kind of table"),
        "polystyrene": _handbook(2.6, 2e-4, volts_per_mil=500, loss=_VON_HIPPEL),
        "acrylic": _handbook(2.8, 0.014, volts_per_mil=990, loss=_VON_HIPPEL),
        "PVC": Dielectric(
            permittivity=3.2,
            loss_tangent=0.04,
            puncture=300 * _VOLTS_PER_MIL,
            source="loss from a handbook table, the rest from memory; it heats, choose another",
        ),
        "ruby mica": _handbook(5.4, 3e-4, volts_per_mil=3800, loss=_VON_HIPPEL),
        "fused quartz": _handbook(3.8, 2e-4, volts_per_mil=1000, loss=_VON_HIPPEL),
        "borosilicate glass": _handbook(4.8, 0.006, volts_per_mil=335, loss=_VON_HIPPEL),
        "window glass": _handbook(7.8, 0.011, volts_per_mil=200, loss=_VON_HIPPEL),
        "steatite": _handbook(5.8, 0.0035, volts_per_mil=150, loss=_VON_HIPPEL),
        "porcelain": _handbook(5.5, 0.011, volts_per_mil=40, loss=_VON_HIPPEL),
        "glass epoxy": Dielectric(
            permittivity=4.4,
            loss_tangent=0.02,
            puncture=20e6,
            source="printed board of the common grade, from memory; differs by maker and dampness",
        ),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable:
    """`impedance` [ohm], velocity factor, matched `loss` [dB/m] at `loss_frequency` [Hz], `rated_voltage` [V rms]."""

    impedance: float
    velocity_factor: float
    loss: float
    loss_frequency: float
    rated_voltage: float | None = None


CABLES: Mapping[str, Cable] = MappingProxyType(
    {
        # Ratings of MIL-C-17/28 and /74; loss from memory, sure to 15 %.
        "5 mm polyethylene": Cable(
            impedance=50.0,
            velocity_factor=0.66,
            loss=0.048,
            loss_frequency=10e6,
            rated_voltage=1400.0,
        ),
        "10 mm polyethylene": Cable(
            impedance=50.0,
            velocity_factor=0.66,
            loss=0.020,
            loss_frequency=10e6,
            rated_voltage=3700.0,
        ),
    }
)
