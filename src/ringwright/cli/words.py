# SPDX-License-Identifier: BSD-3-Clause
"""A design in words, lengths in metres or in feet and inches, and the cautions."""

from ringwright.antenna.design import Conductor, ConductorKind, Coupling, Design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.prediction import BandPrediction
from ringwright.safety.cautions import AUTHORITY
from ringwright.units import format_quantity, to_si

CAUTION = "▲"
_HIGH_VOLTAGE = (
    "it burns, also across air. Never touch or adjust the ring while transmitting, "
    "and keep it out of others' reach."
)
_DRIVEN = (
    "The drive hangs on those kilovolts: only an insulating shaft, as long as the voltage asks, keeps them off the "
    "motor and out of the cable that comes indoors. Couple, adjust and turn it with the transmitter off and unable to "
    "key."
)
_FIELDS = (
    "Fields close by are strong: they heat metal and can disturb medical implants. ringwright keepout says how far "
    "people must stay away."
)


def length(metres: float, *, is_imperial: bool) -> str:
    """A length as a builder measures it."""
    if is_imperial:
        return format_quantity(metres, "ft" if metres >= 0.9144 else "in", digits=4)
    return format_quantity(metres, "m" if metres >= 1.0 else "mm", digits=4)


def mass(kilograms: float, *, is_imperial: bool) -> str:
    """As scales show it."""
    if is_imperial:
        return f"{kilograms / to_si('1 lb', 'kg'):.1f} lb"
    return f"{kilograms:.1f} kg"


def design_in_words(design: Design, *, is_imperial: bool) -> str:
    """What is built and how it is driven, in one line or two."""
    ring = design.ring
    turns = f"{ring.turns} turns of " if ring.turns > 1 else ""
    return (
        f"{ring.shape.value}, {turns}{length(ring.perimeter, is_imperial=is_imperial)} round, "
        f"{_conductor(ring.conductor, is_imperial=is_imperial)}; "
        f"{_coupling(design.coupling, is_imperial=is_imperial)}; {design.capacitor.kind} capacitor; "
        f"{design.power:.4g} W"
    )


def _coupling(coupling: Coupling, *, is_imperial: bool) -> str:
    if coupling.core is not None:
        return f"transformer of {coupling.core.primary_turns} to {coupling.core.passes} turns"
    if coupling.tap_at is not None:
        return f"tapped {length(coupling.tap_at, is_imperial=is_imperial)} along"
    assert coupling.diameter is not None
    return f"coupling loop {length(coupling.diameter, is_imperial=is_imperial)}"


def _conductor(conductor: Conductor, *, is_imperial: bool) -> str:
    across = conductor.width if conductor.kind is ConductorKind.STRIP else conductor.diameter
    assert across is not None
    return f"{length(across, is_imperial=is_imperial)} {conductor.kind.value}"


def band_name(band: BandPrediction) -> str:
    """What the person asked for: the band, or a single frequency."""
    if band.band is not None and band.is_whole_band:
        return band.band
    return FIGURES["frequency_hz"].text(band.frequency)


def cautions(design: Design, bands: tuple[BandPrediction, ...]) -> tuple[str, ...]:
    """What can hurt in what has just been shown."""
    voltage = FIGURES["capacitor.must_stand_peak_v"]
    most = voltage.text(max(voltage.of(band) for band in bands))
    return (
        f"Up to {most} peak across the capacitor at {design.power:.4g} W: {_HIGH_VOLTAGE}",
        *((_DRIVEN,) if design.drive is not None else ()),
        _FIELDS,
        AUTHORITY,
    )
