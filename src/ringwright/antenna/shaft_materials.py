# SPDX-License-Identifier: BSD-3-Clause
"""What shafts are made of: how stiff in torsion, and whether it keeps the kilovolts off the motor."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True, kw_only=True)
class ShaftMaterial:
    """`shear_modulus` [Pa] for torsion about the shaft's length, and where it comes from."""

    shear_modulus: float
    insulates: bool
    source: str


def _insulator(shear_modulus: float, source: str) -> ShaftMaterial:
    return ShaftMaterial(shear_modulus=shear_modulus, insulates=True, source=source)


def _metal(shear_modulus: float) -> ShaftMaterial:
    return ShaftMaterial(shear_modulus=shear_modulus, insulates=False, source="handbook value, from memory")


SHAFT_MATERIALS: Mapping[str, ShaftMaterial] = MappingProxyType(
    {
        # Twisting about the grain shears both planes along it: 2/(1/899 + 1/595) MPa.
        "beech": _insulator(
            0.72e9,
            "899 and 595 MPa along the grain, J. Wood Science 65, 2019, doi 10.1186/s10086-019-1794-4, table 1",
        ),
        "birch": _insulator(
            0.95e9, "0.068 and 0.074 of 13.9 GPa, USDA Wood Handbook, yellow birch, from memory"
        ),
        "POM": _insulator(1.0e9, "2.8 GPa in tension over 2 (1 + 0.37), from memory"),
        "polyamide": _insulator(0.5e9, "conditioned to room humidity, half of dry; from memory"),
        "PVC": _insulator(1.1e9, "hard; 3.0 GPa in tension over 2 (1 + 0.38), handbook value"),
        "acrylic": _insulator(1.1e9, "3.0 GPa in tension over 2 (1 + 0.35), handbook value"),
        "PTFE": _insulator(0.17e9, "0.5 GPa in tension over 2 (1 + 0.46), from memory"),
        "glass-fibre rod": _insulator(3.1e9, "drawn profiles, 0.45 million psi, makers' data"),
        "FR4": _insulator(4.5e9, "woven glass and epoxy, also G10, in the plane of the cloth; from memory"),
        "soft PVC hose": _insulator(
            5e6, "plasticised; varies tenfold with heat and kind, common practice, no source"
        ),
        "rubber hose": _insulator(1e6, "of hardness 60 Shore A; from memory"),
        "steel": _metal(79e9),
        "brass": _metal(37e9),
        "aluminium": _metal(26e9),
    }
)
