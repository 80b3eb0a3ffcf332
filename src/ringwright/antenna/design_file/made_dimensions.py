# SPDX-License-Identifier: BSD-3-Clause
"""Of the table [capacitor.made]: which dimensions belong to which kind, whether they fit, and its insulation."""

from ringwright.antenna.design_file.models import MadeTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.dielectrics import CABLES, DIELECTRICS, Cable, Dielectric
from ringwright.antenna.made_capacitor import Sheet, insulation_loss
from ringwright.errors import DesignError
from ringwright.physics.constants import C_0
from ringwright.units import format_quantity

_NEEDED = {
    "plates": {"width": "100 mm", "length": "100 mm", "gap": "5 mm"},
    "discs": {"diameter": "80 mm", "gap": "5 mm"},
    "tubes": {"inner_diameter": "22 mm", "bore": "26 mm", "overlap": "300 mm"},
    "coax stub": {"length": "500 mm"},
    "board": {"width": "40 mm", "length": "60 mm", "thickness": "1.6 mm"},
}
_ALLOWED = {
    "plates": ("plates", "least_overlap", "greatest_gap", "dielectric", "thickness"),
    "discs": ("greatest_gap", "dielectric", "thickness"),
    "tubes": ("least_overlap", "dielectric", "thickness"),
    "coax stub": ("cable", "impedance", "velocity_factor", "loss_per_100m", "loss_at", "dielectric"),
    "board": ("dielectric",),
}
_USUAL = {"coax stub": "polyethylene", "board": "glass epoxy"}
_OF_CABLE = {"impedance": "50 ohm", "velocity_factor": "0.66", "loss_per_100m": "2 dB", "loss_at": "10 MHz"}
_HALF = "half the smaller side"
_LONGEST_STUB = 1.0 / 8.0  # wavelengths on it; there its capacitance is 27 % above that of its length


def check_dimensions(table: MadeTable, *, highest: float, place: Place) -> None:
    """Refuse what does not belong to the kind, is missing, or does not fit; `highest` [Hz] is the highest tuned to."""
    needed = _NEEDED[table.kind]
    for key in sorted(table.model_fields_set - {"kind"}):
        if key not in needed and key not in _ALLOWED[table.kind]:
            raise DesignError(f'{place.key(key)} does not belong to kind = "{table.kind}"; leave it out')
    for key, example in needed.items():
        if getattr(table, key) is None:
            raise DesignError(
                f'{place.key(key)} is missing; kind = "{table.kind}" needs it, as in {key} = "{example}"'
            )
    if table.thickness is not None and table.dielectric is None and table.kind != "board":
        raise DesignError(f"{place.key('dielectric')} is missing; say what the {_mm(table.thickness)} are of")
    if table.kind in ("plates", "discs"):
        _check_flat(table, place)
    elif table.kind == "tubes":
        _check_tubes(table, place)
    elif table.kind == "coax stub":
        _check_stub(table, highest, place)
    else:
        _hold_below(place.key("thickness"), table.thickness, _smaller_side(table) / 2.0, what=_HALF)


def read_sheet(table: MadeTable, place: Place) -> Sheet | None:
    """Insulation between the metal; without a thickness it fills what is there."""
    name = table.dielectric
    if name is None and table.kind in _USUAL:
        name = _USUAL[table.kind]
        place.note("dielectric", name, DIELECTRICS[name].source)
    if name is None:
        return None
    thickness = table.thickness
    if thickness is None:
        thickness = _space(table)
        place.note("thickness", _mm(thickness), "fills the gap; air in it would have to be stated")
    return Sheet(dielectric=DIELECTRICS[name], thickness=thickness)


def read_cable(table: MadeTable, place: Place) -> tuple[Cable, Dielectric]:
    """The cable, by name or by its data, and its insulation."""
    insulation = table.dielectric or _USUAL[table.kind]
    if table.dielectric is None:
        place.note("dielectric", insulation, DIELECTRICS[insulation].source)
    if table.cable is not None:
        for key in _OF_CABLE:
            if getattr(table, key) is not None:
                raise DesignError(
                    f"{place.key(key)} and {place.key('cable')} are both given; leave one of them out"
                )
        cable = CABLES[table.cable]
    else:
        cable = _stated_cable(table, place)
    of_insulation = insulation_loss(cable, DIELECTRICS[insulation])
    if cable.loss <= of_insulation:
        raise DesignError(
            f"{place.key('loss_per_100m')} of {cable.loss * 100.0:.3g} dB is less than the {insulation} alone loses, "
            f"{of_insulation * 100.0:.3g} dB at {cable.loss_frequency / 1e6:.4g} MHz; correct it or the dielectric"
        )
    return cable, DIELECTRICS[insulation]


def _stated_cable(table: MadeTable, place: Place) -> Cable:
    for key, example in _OF_CABLE.items():
        if getattr(table, key) is None:
            quoted = example if key == "velocity_factor" else f'"{example}"'
            names = " or ".join(f'"{name}"' for name in CABLES)
            raise DesignError(
                f"{place.key(key)} is missing; give cable = {names}, or all of the cable's data, as in {key} = {quoted}"
            )
    return Cable(
        impedance=given(table.impedance),
        velocity_factor=given(table.velocity_factor),
        loss=given(table.loss_per_100m) / 100.0,
        loss_frequency=given(table.loss_at),
    )


def given(value: float | None) -> float:
    """A value that `check_dimensions` has seen is there."""
    assert value is not None
    return value


def _check_flat(table: MadeTable, place: Place) -> None:
    gap, half = given(table.gap), _smaller_side(table) / 2.0
    _hold_below(place.key("gap"), gap, half, what=_HALF)
    _hold_below(place.key("thickness"), table.thickness, gap, what="the gap")
    if table.greatest_gap is not None:
        _hold_below(place.key("greatest_gap"), table.greatest_gap, half, what=_HALF)
        _hold_below(place.key("gap"), gap, table.greatest_gap * 0.999, what="the greatest_gap")
        if table.plates is not None and table.plates > 2:
            raise DesignError(
                f"{place.key('greatest_gap')}: a stack does not part; state least_overlap instead"
            )
    if table.least_overlap is not None:
        _check_drawn_apart(table, table.least_overlap, place)


def _check_drawn_apart(table: MadeTable, least: float, place: Place) -> None:
    key, gap = place.key("least_overlap"), given(table.gap)
    if table.greatest_gap is not None:
        raise DesignError(
            f"{key} and greatest_gap are both given; plates are drawn apart or parted, leave one of them out"
        )
    _hold_below(key, least, given(table.length) - 4.0 * gap, what="the length less four gaps")
    if least < 2.0 * gap:
        raise DesignError(
            f"{key} of {_mm(least)} must be at least twice the gap, {_mm(2.0 * gap)}; further out the plates only see "
            "each other's edges"
        )


def _check_tubes(table: MadeTable, place: Place) -> None:
    bore = given(table.bore)
    _hold_below(place.key("inner_diameter"), table.inner_diameter, bore * 0.999, what="the outer tube's bore")
    space = _space(table)
    _hold_below(place.key("thickness"), table.thickness, space, what="the space between the tubes")
    for key in ("overlap", "least_overlap"):
        length = getattr(table, key)
        if length is not None and length < space:
            raise DesignError(
                f"{place.key(key)} of {_mm(length)} must be at least the space between the tubes, {_mm(space)}"
            )
    _hold_below(
        place.key("least_overlap"), table.least_overlap, given(table.overlap) * 0.99, what="the overlap"
    )


def _check_stub(table: MadeTable, highest: float, place: Place) -> None:
    velocity = table.velocity_factor or (CABLES[table.cable].velocity_factor if table.cable else 1.0)
    longest = _LONGEST_STUB * velocity * C_0 / highest
    what = f"an eighth of a wave on it at {highest / 1e6:.4g} MHz"
    _hold_below(place.key("length"), table.length, longest, what=what)


def _hold_below(key: str, value: float | None, limit: float, *, what: str) -> None:
    if value is not None and value > limit * (1.0 + 1e-12):
        raise DesignError(f"{key} of {_mm(value)} must be less than {what}, {_mm(limit)}; make it smaller")


def _smaller_side(table: MadeTable) -> float:
    return min(side for side in (table.width, table.length, table.diameter) if side is not None)


def _space(table: MadeTable) -> float:
    """Between the metal [m]."""
    if table.kind == "tubes":
        return (given(table.bore) - given(table.inner_diameter)) / 2.0
    return given(table.gap)


def _mm(metres: float) -> str:
    return format_quantity(metres, "mm", digits=4)
