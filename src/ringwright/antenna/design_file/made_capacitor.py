# SPDX-License-Identifier: BSD-3-Clause
"""From the table [capacitor.made] to what [capacitor] would state had somebody measured it.

What moves becomes minimum and maximum; what does not becomes the fixed capacitor beside the variable one.
"""

from collections.abc import Sequence
from typing import Any

from ringwright.antenna.capacitor_rating import stands
from ringwright.antenna.design import Capacitor, Target
from ringwright.antenna.design_file.made_dimensions import check_dimensions, given, read_cable, read_sheet
from ringwright.antenna.design_file.models import CapacitorTable, MadeTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.made_capacitor import (
    Insulation,
    MadeCapacitor,
    made_discs,
    made_plates,
    made_stub,
    made_tubes,
)
from ringwright.errors import DesignError
from ringwright.units import format_quantity

_KIND = {"plates": "plate", "discs": "plate", "tubes": "trombone"}
_JOINTS_Q = 1000.0  # joints and contacts of what is made with care; common practice, no source
_HOW = {
    "plates": "area over gap, and the field beyond the edges",
    "discs": "area over gap, and the field beyond the rim",
    "tubes": "the overlap of the tubes, and the field at its ends",
    "coax stub": "an open line, at the highest frequency asked for, where it has most",
    "board": "area over thickness, and the field beyond the copper",
}


def write_out(
    table: CapacitorTable, targets: Sequence[Target], place: Place
) -> tuple[CapacitorTable, str | None]:
    """The table with what its dimensions give written into it, and in a few words what was made; None if nothing."""
    if table.made is None:
        return table, None
    highest = max(target.high for target in targets)
    made = _make(table.made, highest, place.under("made"))
    _refuse_twice(table, made)
    keys = _of_fixed(table, made) if made.is_fixed else _of_variable(table, made)
    for key, (_, shown) in keys.items():
        place.note(key, shown, _reason(key, table.made))
    written = {key: value for key, (value, _) in keys.items()}
    if not made.is_fixed and "kind" not in table.model_fields_set:
        written["kind"] = _KIND[table.made.kind]
        place.note("kind", written["kind"], "the kind that is made")
    return table.model_copy(update=written), _in_words(table.made.kind, made, sections=table.sections)


def _make(table: MadeTable, highest: float, place: Place) -> MadeCapacitor:
    check_dimensions(table, highest=highest, place=place)
    if table.kind == "coax stub":
        cable, insulation = read_cable(table, place)
        return made_stub(given(table.length), cable, frequency=highest, insulation=insulation)
    sheet = read_sheet(table, place)
    if table.kind == "tubes":
        return made_tubes(
            given(table.inner_diameter),
            given(table.bore),
            overlap=given(table.overlap),
            least_overlap=table.least_overlap,
            sleeve=sheet,
        )
    if table.kind == "discs":
        return made_discs(
            given(table.diameter), gap=given(table.gap), greatest_gap=table.greatest_gap, sheet=sheet
        )
    if table.kind == "plates" and table.plates is None:
        place.note("plates", 2, "a pair unless more are stated")
    return made_plates(
        given(table.width),
        given(table.length),
        gap=given(table.gap or table.thickness),
        plates=table.plates or 2,
        least_overlap=table.least_overlap,
        greatest_gap=table.greatest_gap,
        sheet=sheet,
    )


def _refuse_twice(table: CapacitorTable, made: MadeCapacitor) -> None:
    """What a table states that its dimensions give."""
    twice = ["fixed"] if made.is_fixed else ["minimum", "maximum"]
    for key in twice + (["law", "table"] if made.law else []):
        if key in table.model_fields_set:
            raise DesignError(f"capacitor.{key} and capacitor.made both say it; leave one of them out")
    if made.is_fixed and (table.minimum is None or table.maximum is None):
        raise DesignError(
            "capacitor.made does not move, so it cannot tune; add capacitor.minimum and capacitor.maximum of the "
            "variable capacitor beside it"
        )
    if made.law and table.travel is None:
        raise DesignError(
            'capacitor.travel is missing; what parts follows a curve along it, as in travel = "10 turns"'
        )


def _of_variable(table: CapacitorTable, made: MadeCapacitor) -> dict[str, tuple[Any, str]]:
    keys: dict[str, tuple[Any, str]] = {
        "minimum": (made.least, _picofarads(made.least)),
        "maximum": (made.greatest, _picofarads(made.greatest)),
    }
    if table.stray_within is None:
        off = made.uncertainty * made.least
        keys["stray_within"] = (off, format_quantity(off, "pF", digits=2))
    if made.law:
        assert table.travel is not None
        rows = [[share * table.travel[0], f"{farads * 1e12:.9g} pF"] for share, farads in made.law]
        keys["table"] = (rows, f"{len(rows)} rows")
    keys |= _loss(table, made.insulation, part="variable")
    if table.rated_voltage is None and table.plate_gap is None:
        in_air, solid = _stands_in_air(made.insulation), made.insulation.rated_voltage
        if solid is not None and (in_air is None or solid < in_air):
            keys["rated_voltage"] = (solid, format_quantity(solid, "kV", digits=3))
        else:
            gap = made.insulation.plate_gap
            assert gap is not None
            keys["plate_gap"] = (gap, format_quantity(gap, "mm", digits=4))
    return keys


def _of_fixed(table: CapacitorTable, made: MadeCapacitor) -> dict[str, tuple[Any, str]]:
    keys: dict[str, tuple[Any, str]] = {"fixed": (made.least, _picofarads(made.least))}
    keys |= _loss(table, made.insulation, part="fixed")
    known = [
        volts
        for volts in (made.insulation.rated_voltage, _stands_in_air(made.insulation))
        if volts is not None
    ]
    if known and table.fixed_rated_voltage is None:
        keys["fixed_rated_voltage"] = (min(known), format_quantity(min(known), "kV", digits=3))
    return keys


def _loss(table: CapacitorTable, insulation: Insulation, *, part: str) -> dict[str, tuple[Any, str]]:
    """Q of the part, unless the file states it or that of the whole; moving metal in air has that of its kind."""
    stated = ("q", "esr", f"{part}_q", f"{part}_esr")
    if any(getattr(table, key) is not None for key in stated):
        return {}
    if part == "variable" and insulation.loss_tangent == 0.0:
        return {}
    q = 1.0 / (1.0 / _JOINTS_Q + insulation.loss_tangent)
    return {f"{part}_q": (q, f"{q:.3g}")}


def _stands_in_air(insulation: Insulation) -> float | None:
    """Peak volts that the air in it stands at sea level, allowances taken off."""
    if insulation.plate_gap is None:
        return None
    bare = Capacitor(kind="plate", minimum=0.0, maximum=0.0, plate_gap=insulation.plate_gap)
    return stands(bare, altitude=0.0)[0]


def _reason(key: str, table: MadeTable) -> str:
    if key.endswith("_q"):
        return f"{_JOINTS_Q:g} for its joints, common practice, and the loss of the insulation or cable"
    if key == "plate_gap":
        return "of plain plates in air with the same greatest field"
    if key.endswith("rated_voltage"):
        return "an estimate for clean, smooth metal, allowances taken off; test yours"
    if key == "stray_within":
        return "how far the computed minimum may be off; measure yours"
    return f"capacitor.made: {_HOW[table.kind]}; docs/explanation/made-capacitors.md"


def _in_words(kind: str, made: MadeCapacitor, *, sections: int | None) -> str:
    farads = _picofarads(made.least)
    if not made.is_fixed:
        farads += f" to {_picofarads(made.greatest)}"
    if sections is not None and not made.is_fixed:
        farads += f" in each of {sections} sections"
    return f"{kind}, {farads}: {_HOW[kind]}"


def _picofarads(farads: float) -> str:
    return format_quantity(farads, "pF", digits=4)
