# SPDX-License-Identifier: BSD-3-Clause
"""A capacitor made at the bench: what its dimensions give of capacitance, law, loss and voltage."""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ringwright.antenna.capacitor_rating import RADIO_FREQUENCY
from ringwright.antenna.dielectrics import PUNCTURE_ALLOWANCE, Cable, Dielectric
from ringwright.physics.capacitance import (
    disc_capacitance,
    meshed_capacitance,
    open_stub_impedance,
    plate_capacitance,
    tube_capacitance,
    tube_equivalent_gaps,
)
from ringwright.physics.checks import FloatArray
from ringwright.physics.constants import C_0
from ringwright.physics.feedline import attenuation_at

_NEPER = 20.0 / math.log(10.0)  # dB
_PAIR_DRAWN_APART, _OTHERWISE = 0.26, 0.05
"""Share by which a computed least capacitance may be off; docs/explanation/made-capacitors.md compares."""
_LAW_POINTS = 65  # straight lines between them are within 0.1 % of a gap that opens a hundredfold


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Insulation between the metal: a sheet, a sleeve on the inner tube, a board. `thickness` [m]."""

    dielectric: Dielectric
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Insulation:
    """What lies between the metal: its loss tangent, and what it stands.

    `plate_gap` [m]: of plain plates in air with the same greatest field in the air; None where there is no air.
    `rated_voltage` [V peak]: of what is solid, allowance taken off; None where nothing is or nothing is known.
    """

    loss_tangent: float = 0.0
    plate_gap: float | None = None
    rated_voltage: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeCapacitor:
    """What a written table would state.

    `least` and `greatest` [F], equal where nothing moves; `law`: (share of the travel, farads), empty where they go in
    proportion. Contacts and leads are not in it. `uncertainty`: share by which `least`
    may be off.
    """

    least: float
    greatest: float
    insulation: Insulation
    law: tuple[tuple[float, float], ...] = ()
    uncertainty: float = _OTHERWISE

    @property
    def is_fixed(self) -> bool:
        """Whether nothing of it moves."""
        return self.least == self.greatest


def made_plates(
    width: float,
    length: float,
    *,
    gap: float,
    plates: int = 2,
    least_overlap: float | None = None,
    greatest_gap: float | None = None,
    sheet: Sheet | None = None,
) -> MadeCapacitor:
    """Rectangular plates [m], drawn apart to `least_overlap` of the length, or parted to `greatest_gap`, or fixed."""
    if least_overlap is None:
        return _of_gap(
            lambda d: plate_capacitance(
                width, length, gap=d, plates=plates, permittivity=d / _air_in_series(d, sheet)
            ),
            gap=gap,
            greatest_gap=greatest_gap,
            sheet=sheet,
        )
    eps = gap / _air_in_series(np.asarray(gap), sheet)
    return MadeCapacitor(
        least=float(
            meshed_capacitance(width, least_overlap, length=length, gap=gap, plates=plates, permittivity=eps)
        ),
        greatest=float(plate_capacitance(width, length, gap=gap, plates=plates, permittivity=eps)),
        insulation=_flat_insulation(gap, sheet, is_bonded=False),
        uncertainty=_PAIR_DRAWN_APART if plates == 2 else _OTHERWISE,
    )


def made_discs(
    diameter: float, *, gap: float, greatest_gap: float | None = None, sheet: Sheet | None = None
) -> MadeCapacitor:
    """Two discs [m], parted to `greatest_gap` where one moves."""
    return _of_gap(
        lambda d: disc_capacitance(diameter, gap=d, permittivity=d / _air_in_series(d, sheet)),
        gap=gap,
        greatest_gap=greatest_gap,
        sheet=sheet,
    )


def made_tubes(
    inner_diameter: float,
    bore: float,
    *,
    overlap: float,
    least_overlap: float | None = None,
    sleeve: Sheet | None = None,
) -> MadeCapacitor:
    """A tube of outer diameter `inner_diameter` in the `bore` of another [m], drawn out to `least_overlap`."""
    a, b = inner_diameter / 2.0, bore / 2.0
    s = a if sleeve is None else min(b, a + sleeve.thickness)  # one that fills may round to more
    eps = 1.0 if sleeve is None else sleeve.dielectric.permittivity

    def at(x: float) -> float:
        return float(tube_capacitance(x, inner_radius=a, outer_radius=b, sleeve_radius=s, permittivity=eps))

    air, solid = tube_equivalent_gaps(inner_radius=a, outer_radius=b, sleeve_radius=s, permittivity=eps)
    insulation = Insulation(plate_gap=float(air))
    if sleeve is not None:
        in_sleeve = math.log(s / a) / eps
        insulation = Insulation(
            loss_tangent=sleeve.dielectric.loss_tangent * in_sleeve / (in_sleeve + math.log(b / s)),
            plate_gap=float(air),
            rated_voltage=_puncture(sleeve.dielectric) * float(solid),
        )
    return MadeCapacitor(
        least=at(overlap if least_overlap is None else least_overlap),
        greatest=at(overlap),
        insulation=insulation,
    )


def made_stub(length: float, cable: Cable, *, frequency: float, insulation: Dielectric) -> MadeCapacitor:
    """An open piece of cable [m] at a frequency [Hz], at which it has this capacitance and loss."""
    of_metal = attenuation_at(
        frequency,
        attenuation=(cable.loss - insulation_loss(cable, insulation)) / _NEPER,
        reference_frequency=cable.loss_frequency,
    )
    z = complex(
        open_stub_impedance(
            frequency,
            length=length,
            impedance=cable.impedance,
            velocity_factor=cable.velocity_factor,
            conductor_attenuation=of_metal,
            loss_tangent=insulation.loss_tangent,
        )
    )
    farads = -1.0 / (2.0 * math.pi * frequency * z.imag)
    rated = None if cable.rated_voltage is None else math.sqrt(2.0) * RADIO_FREQUENCY * cable.rated_voltage
    return MadeCapacitor(
        least=farads,
        greatest=farads,
        insulation=Insulation(loss_tangent=-z.real / z.imag, rated_voltage=rated),
    )


def insulation_loss(cable: Cable, insulation: Dielectric) -> float:
    """What the insulation has of the cable's loss [dB/m] at the frequency at which that is stated."""
    wavenumber = 2.0 * math.pi * cable.loss_frequency / (cable.velocity_factor * C_0)
    return _NEPER * wavenumber * insulation.loss_tangent / 2.0


def _of_gap(
    capacitance: Callable[[FloatArray], FloatArray],
    *,
    gap: float,
    greatest_gap: float | None,
    sheet: Sheet | None,
) -> MadeCapacitor:
    """Plates face to face, the gap fixed or opened in proportion to the travel."""
    insulation = _flat_insulation(gap, sheet, is_bonded=greatest_gap is None)
    if greatest_gap is None:
        closed = float(capacitance(np.asarray(gap)))
        return MadeCapacitor(least=closed, greatest=closed, insulation=insulation)
    not_counted = gap - float(_air_in_series(np.asarray(gap), sheet))
    gaps = not_counted + np.geomspace(greatest_gap - not_counted, gap - not_counted, _LAW_POINTS)
    farads = capacitance(gaps)
    shares = (greatest_gap - gaps) / (greatest_gap - gap)
    law = tuple(zip(shares.tolist(), farads.tolist(), strict=True))
    return MadeCapacitor(least=law[0][1], greatest=law[-1][1], insulation=insulation, law=law)


def _air_in_series(gap: FloatArray, sheet: Sheet | None) -> FloatArray:
    """Gap of air alone with the field that the air beside the sheet has [m]."""
    if sheet is None:
        return gap
    return np.asarray(gap - sheet.thickness + sheet.thickness / sheet.dielectric.permittivity)


def _flat_insulation(gap: float, sheet: Sheet | None, *, is_bonded: bool) -> Insulation:
    """Of a plane gap; metal that moves, or that is not bonded to the sheet, leaves a film of air on it."""
    if sheet is None:
        return Insulation(plate_gap=gap)
    series, eps = float(_air_in_series(np.asarray(gap), sheet)), sheet.dielectric.permittivity
    is_filled = is_bonded and math.isclose(gap, sheet.thickness)
    return Insulation(
        loss_tangent=sheet.dielectric.loss_tangent * sheet.thickness / eps / series,
        # Where the sheet is bonded air is met at the metal's edges only, along a path as long as the sheet is thick.
        plate_gap=gap if is_filled else series,
        rated_voltage=_puncture(sheet.dielectric) * eps * series,
    )


def _puncture(dielectric: Dielectric) -> float:
    """Peak field that is allowed in it [V/m]."""
    return dielectric.puncture / PUNCTURE_ALLOWANCE
