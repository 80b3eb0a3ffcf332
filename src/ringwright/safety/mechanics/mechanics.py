# SPDX-License-Identifier: BSD-3-Clause
"""Everything mechanical of a design, found at once."""

from dataclasses import dataclass, replace

from ringwright.antenna.building import Stand
from ringwright.antenna.design import Design
from ringwright.antenna.prediction import Prediction
from ringwright.safety.mechanics.bending import Bend, Sag, bends, find_sag
from ringwright.safety.mechanics.clearances import Clearances, find_clearances
from ringwright.safety.mechanics.cutting import CutList, cut_list
from ringwright.safety.mechanics.masses import Masses, find_masses
from ringwright.safety.mechanics.warmth import Warmth, find_warmth
from ringwright.safety.mechanics.wind_load import Standing, WindLoad, find_standing, find_wind


@dataclass(frozen=True, slots=True, kw_only=True)
class Mechanics:
    """`stand` is what was taken for it where the design has no [stand], `stand_assumed`; its mass counts either way."""

    cuts: CutList
    mass: Masses
    bends: tuple[Bend, ...]
    sag: Sag | None
    stand: Stand
    stand_assumed: bool
    wind: WindLoad
    standing: Standing | None
    warmth: tuple[Warmth, ...]
    clearance: Clearances


def find_mechanics(design: Design, prediction: Prediction) -> Mechanics:
    """Mechanics of a design that was predicted."""
    wires = prediction.bands[0].point.wires
    stand = design.stand or Stand()
    on_stand = replace(design, stand=stand)
    masses = find_masses(on_stand, wires)
    voltage = max(band.capacitor.must_stand_peak for band in prediction.bands)
    clear = find_clearances(design, voltage)
    wind = find_wind(on_stand, wires, clear.box)
    return Mechanics(
        cuts=cut_list(design, wires),
        mass=masses,
        bends=bends(design),
        sag=find_sag(design, wires, masses, wind=wind),
        stand=stand,
        stand_assumed=design.stand is None,
        wind=wind,
        standing=find_standing(stand, masses, wind),
        warmth=tuple(find_warmth(design, band, band.point.wires) for band in prediction.bands),
        clearance=clear,
    )
