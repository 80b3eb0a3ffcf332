# SPDX-License-Identifier: BSD-3-Clause
"""Of the table [capacitor]: several capacitors as one, what each loses and stands, and the leads to the ring."""

from dataclasses import replace
from typing import TypedDict

from ringwright.antenna.capacitor_parts import GAP_WIDTH
from ringwright.antenna.capacitor_rating import TWO_GAPS
from ringwright.antenna.design import Capacitor, Part
from ringwright.antenna.design_file.models import CapacitorTable
from ringwright.antenna.design_file.place import Place
from ringwright.errors import DesignError
from ringwright.physics.leads import WIDEST_STRAP
from ringwright.units import format_quantity

# Unloaded Q at the low end of what is bought or built; common practice, no source.
_DEFAULT_Q = {
    "air": (500, "a wiper contact carries the current, common practice"),
    "butterfly": (1000, "no wiper in the current's way, common practice"),
    "split-stator": (1000, "no wiper in the current's way, common practice"),
    "vacuum": (2000, "low end of used parts, common practice"),
    "trombone": (1000, "sliding tubes in air, common practice"),
    "coax stub": (300, "the cable's own loss, common practice"),
    "plate": (1000, "plain plates in air, common practice"),
}
_WIPER_APART = (1000, "the contact's resistance is stated apart, common practice")
_FIXED_Q = (1000, "a transmitting capacitor of mica or ceramic, common practice")
_AIR_TEMPERATURE = 40.0


class _Loss(TypedDict):
    q: float | None
    esr: float | None
    variable: Part
    fixed_part: Part
    series_part: Part


class _Leads(TypedDict):
    gap_width: float | None
    lead_length: float | None
    lead_width: float | None


def check_combination(table: CapacitorTable) -> None:
    """Refuse what contradicts itself."""
    for name, is_there in (("fixed", table.fixed > 0.0), ("series", table.series is not None)):
        for key in ("q", "esr", "rated_voltage", "rated_current"):
            if getattr(table, f"{name}_{key}") is not None and not is_there:
                raise DesignError(
                    f"capacitor.{name}_{key} needs a capacitor; add capacitor.{name} or remove it"
                )
    for key in ("", "variable_", "fixed_", "series_"):
        if getattr(table, f"{key}q") is not None and getattr(table, f"{key}esr") is not None:
            raise DesignError(
                f"capacitor.{key}q and capacitor.{key}esr are both given; leave one of them out"
            )
    if table.wired is not None and table.sections is None:
        raise DesignError("capacitor.wired says how sections are joined; add capacitor.sections or remove it")
    if table.sections is not None and table.kind in TWO_GAPS and not _is_in_series(table, sections=2):
        raise DesignError(
            f'capacitor.sections: a {table.kind} has 2 in series; write sections = 2 and wired = "series", or leave '
            "both out and state minimum and maximum as connected"
        )
    if table.contact_resistance and (table.kind in TWO_GAPS or table.wired == "series"):
        raise DesignError(
            "capacitor.contact_resistance: with two sections in series no current crosses the rotor's contact; leave "
            "it out"
        )
    if (table.body_diameter is None) != (table.body_length is None):
        missing = "length" if table.body_length is None else "diameter"
        raise DesignError(f"capacitor.body_{missing} is missing; the surface needs both sizes of the body")


def _is_in_series(table: CapacitorTable, *, sections: int) -> bool:
    return table.sections == sections and table.wired != "parallel"


def read_loss(table: CapacitorTable, place: Place) -> _Loss:
    """Q or ESR of the whole; where a part states its own, of each part."""
    stated = [
        f"{part}_{key}"
        for part in ("variable", "fixed", "series")
        for key in ("q", "esr")
        if getattr(table, f"{part}_{key}") is not None
    ]
    whole = next((key for key in ("q", "esr") if getattr(table, key) is not None), None)
    if stated and whole is not None:
        raise DesignError(
            f"capacitor.{whole} is of the whole gap capacitance and capacitor.{stated[0]} of a part; leave one out "
            f"(write variable_{whole} if it is the variable capacitor's own)"
        )
    fallback = _WIPER_APART if table.kind == "air" and table.contact_resistance else _DEFAULT_Q[table.kind]
    q = table.q
    if not stated and whole is None:
        place.note("q", fallback[0], fallback[1])
        q = float(fallback[0])

    def part(name: str, otherwise: tuple[int, str], *, is_there: bool = True) -> Part:
        own_q, own_esr = getattr(table, f"{name}_q"), getattr(table, f"{name}_esr")
        if stated and is_there and own_q is None and own_esr is None:
            place.note(f"{name}_q", otherwise[0], otherwise[1])
            own_q = float(otherwise[0])
        return Part(q=own_q, esr=own_esr)

    fixed = part("fixed", _FIXED_Q, is_there=table.fixed > 0.0)
    series = part("series", _FIXED_Q, is_there=table.series is not None)
    return _Loss(
        q=q,
        esr=table.esr,
        variable=part("variable", fallback),
        fixed_part=replace(
            fixed, rated_voltage=table.fixed_rated_voltage, rated_current=table.fixed_rated_current
        ),
        series_part=replace(
            series, rated_voltage=table.series_rated_voltage, rated_current=table.series_rated_current
        ),
    )


def read_air(table: CapacitorTable, place: Place) -> float:
    """Temperature of the air between the plates [deg C]; it counts where a plate gap is judged."""
    if table.air_temperature is not None:
        return table.air_temperature
    if table.plate_gap is not None and table.rated_voltage is None:
        place.note("air_temperature", f"{_AIR_TEMPERATURE:g} degC", "a box in the sun, common practice")
    return _AIR_TEMPERATURE


def read_leads(table: CapacitorTable, place: Place) -> _Leads:
    """The straps from the ring's ends to the capacitor, and how far these are apart."""
    if (table.lead_length is None) != (table.lead_width is None):
        missing = "width" if table.lead_width is None else "length"
        raise DesignError(f"capacitor.lead_{missing} is missing; a lead needs its length and its width")
    width = table.gap_width
    if table.lead_width is not None:
        if width is None:
            place.note("gap_width", f"{GAP_WIDTH * 1e3:g} mm", "what the solver's gap stands for")
        apart = width or GAP_WIDTH
        if table.lead_width > WIDEST_STRAP * apart:
            raise DesignError(
                f"capacitor.lead_width of {format_quantity(table.lead_width, 'mm')} makes plates of leads that are "
                f"{format_quantity(apart, 'mm')} apart; narrow them to {WIDEST_STRAP:g} times the gap_width or widen it"
            )
    return _Leads(gap_width=width, lead_length=table.lead_length, lead_width=table.lead_width)


def wired(one: Capacitor, table: CapacitorTable) -> Capacitor:
    """As connected, where the file states one section of several."""
    if table.sections is None:
        return one
    n = table.sections
    is_series = table.wired == "series" or table.kind in TWO_GAPS
    farads, volts, amperes = (1.0 / n, n, 1) if is_series else (n, 1, n)
    own_esr = one.variable.esr
    return replace(
        one,
        minimum=one.minimum * farads,
        maximum=one.maximum * farads,
        law=tuple((position, own * farads) for position, own in one.law),
        variable=replace(one.variable, esr=None if own_esr is None else own_esr / farads),
        rated_voltage=None if one.rated_voltage is None else one.rated_voltage * volts,
        rated_current=None if one.rated_current is None else one.rated_current * amperes,
        sections_in_series=n if is_series else 1,
    )
