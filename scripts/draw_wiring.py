# SPDX-License-Identifier: BSD-3-Clause
"""The wiring of the board at the mast, drawn from the firmware's own pin settings."""

import itertools
import json
from collections.abc import Callable, Iterable
from importlib.resources import files

import numpy as np

from ringwright.antenna.charts.svg import ACCENT, FAINT, INK, circle, curve, element, group, line, page, text

WIDTH, HEIGHT = 1200.0, 800.0
BLUE = "#0072B2"
_IN, _OUT = 270.0, 830.0
"""Left and right wall of the box."""
_CHIP = (470.0, 95.0, 170.0, 505.0)
_LEFT_PINS = {"permit": 130.0, "forward": 265.0, "reflected": 305.0}
_RIGHT_PINS = {
    "step": 225.0,
    "direction": 255.0,
    "enable": 285.0,
    "low_stop": 400.0,
    "high_stop": 450.0,
    "thermistor": 520.0,
}

Corner = tuple[float, float]
Place = tuple[float, float, float, float]


def pins() -> dict[str, int]:
    """Numbers by use, as the firmware is shipped with them."""
    found = json.loads(files("ringwright.tuner.firmware").joinpath("settings.json").read_text("utf-8"))
    numbers: dict[str, int] = found["pins"]
    return numbers


def board_wiring() -> str:
    """The whole drawing."""
    words = (
        "Wiring of the board: the transmitter's key line through a contact, a directional coupler with two "
        "detectors, a microcontroller, a stepper driver, two end stop switches and a thermistor. Every lead that "
        "leaves the metal box passes a feed-through capacitor and a ferrite."
    )
    content = [
        element("desc", {}, words),
        *_zones(),
        *_indoors(),
        *_meter(),
        *_chip(),
        *_drive(),
        *_sensors(),
        *_supply(),
        *_legend(),
    ]
    return page(WIDTH, HEIGHT, "Wiring of the board at the mast", content=content)


def _zones() -> Iterable[str]:
    for x, width, words in ((15.0, 215.0, "INDOORS"), (855.0, 330.0, "AT THE RING")):
        yield _rectangle((x, 50.0, width, 640.0), stroke=FAINT, width=1.0, fill="none", dash="6 5")
        yield text(words, x + 10.0, 40.0, size=14.0, fill=FAINT)
    yield _rectangle((_IN, 50.0, _OUT - _IN, 640.0), width=2.5, fill="#f6f3ec")
    yield text("METAL BOX AT THE MAST'S FOOT, earthed", _IN + 5.0, 40.0, size=14.0)


def _part(place: Place, *lines: str) -> str:
    """A part as a box with words; the first line larger."""
    x, y, width, height = place
    top = y + height / 2.0 - 8.0 * (len(lines) - 1) + 4.0
    words = [
        text(each, x + width / 2.0, top + 16.0 * number, size=13.0 if number == 0 else 11.0, anchor="middle")
        for number, each in enumerate(lines)
    ]
    return group({}, [_rectangle(place), *words])


def _wire(*corners: Corner) -> str:
    """A lead; where it passes a wall of the box stands a filter."""
    return _run(corners, stroke=INK, width=1.4, door=_filter)


def _coax(*corners: Corner) -> str:
    """A coaxial line; where it passes a wall stands a connector."""
    return _run(corners, stroke=BLUE, width=3.0, door=_connector)


def _run(
    corners: tuple[Corner, ...], *, stroke: str, width: float, door: Callable[[float, float], str]
) -> str:
    x, y = np.array(corners).T
    drawn = [curve(x, y, stroke=stroke, width=width)]
    for (x1, y1), (x2, y2) in itertools.pairwise(corners):
        low, high = min(x1, x2), max(x1, x2)
        drawn += [door(wall, y1) for wall in (_IN, _OUT) if y1 == y2 and low < wall < high]
    return group({}, drawn)


def _filter(x: float, y: float) -> str:
    return circle(x, y, 6.0, stroke=ACCENT, width=1.5, fill="#ffffff")


def _connector(x: float, y: float) -> str:
    return _rectangle((x - 7.0, y - 7.0, 14.0, 14.0), stroke=BLUE, width=2.0)


def _rectangle(
    place: Place, *, stroke: str = INK, width: float = 1.5, fill: str = "#ffffff", dash: str = ""
) -> str:
    x, y, wide, high = place
    shape: dict[str, str | float] = {"x": x, "y": y, "width": wide, "height": high, "fill": fill}
    dashed: dict[str, str | float] = {"stroke-dasharray": dash} if dash else {}
    return element("rect", {**shape, "stroke": stroke, "stroke-width": width, **dashed})


def _indoors() -> Iterable[str]:
    yield _wire((210.0, 110.0), (300.0, 110.0))
    yield _wire((210.0, 150.0), (300.0, 150.0))
    yield _part((30.0, 90.0, 180.0, 80.0), "transmitter", "key line opened = silent")
    yield _part((300.0, 95.0, 110.0, 70.0), "contact", "open at rest", "coil with diode")
    yield _wire((410.0, 130.0), (470.0, 130.0))
    yield text("transistor", 440.0, 144.0, size=10.0, anchor="middle")
    yield text("10 kΩ down", 440.0, 156.0, size=10.0, anchor="middle")
    yield _coax((120.0, 170.0), (120.0, 240.0), (300.0, 240.0))
    yield text("coax", 130.0, 232.0, size=11.0, fill=BLUE)


def _meter() -> Iterable[str]:
    yield _part((300.0, 215.0, 110.0, 115.0), "directional", "coupler with two", "diode detectors", "")
    yield _coax(
        (395.0, 330.0), (395.0, 395.0), (440.0, 395.0), (440.0, 650.0), (1115.0, 650.0), (1115.0, 586.0)
    )
    yield text("coax to the coupling loop, through a choke", 575.0, 642.0, size=11.0, fill=BLUE)
    for use in ("forward", "reflected"):
        y = _LEFT_PINS[use]
        yield _wire((410.0, y), (470.0, y))
        yield text(use, 440.0, y - 5.0, size=10.0, anchor="middle")
    for number, words in enumerate(("each: 1 kΩ in line,", "10 nF down, 1 MΩ up,", "diode to 3.3 V")):
        yield text(words, 290.0, 348.0 + 13.0 * number, size=10.0)


def _chip() -> Iterable[str]:
    x, y, width, _ = _CHIP
    yield _rectangle(_CHIP, width=1.8)
    yield text("microcontroller", x + width / 2.0, y + 18.0, size=13.0, anchor="middle")
    numbers = pins()
    for place, uses, anchor in ((x + 8.0, _LEFT_PINS, "start"), (x + width - 8.0, _RIGHT_PINS, "end")):
        for use, at in uses.items():
            words = f"{numbers[use]} {use}" if anchor == "start" else f"{use} {numbers[use]}"
            yield text(words, place, at + 4.0, size=12.0, anchor=anchor)
    yield text("5 V in", x + 8.0, 564.0, size=12.0)
    yield text("ground", x + 8.0, 590.0, size=12.0)
    yield text("USB", x + 8.0, 464.0, size=12.0)
    yield text("radio", x + width - 8.0, 590.0, size=12.0, anchor="end")
    yield _wire((470.0, 460.0), (210.0, 460.0))
    yield _part((30.0, 430.0, 180.0, 60.0), "computer", "USB for setting up, then radio")


def _drive() -> Iterable[str]:
    x = _CHIP[0] + _CHIP[2]
    for use in ("step", "direction", "enable"):
        yield _wire((x, _RIGHT_PINS[use]), (698.0, _RIGHT_PINS[use]))
    yield text("10 kΩ up", 672.0, 300.0, size=10.0, anchor="middle")
    for number in range(4):
        y = 225.0 + 20.0 * number
        yield _wire((800.0, y), (880.0, y))
    yield text("A+", 808.0, 221.0, size=9.0)
    yield text("A−", 808.0, 241.0, size=9.0)
    yield text("B+", 808.0, 261.0, size=9.0)
    yield text("B−", 808.0, 281.0, size=9.0)
    yield _part((698.0, 200.0, 102.0, 110.0), "stepper driver", "1/8 step", "12 V for the", "motor, 220 µF")
    yield _part((880.0, 210.0, 90.0, 90.0), "stepper", "and gear")
    yield _rectangle((970.0, 248.0, 90.0, 14.0), stroke=ACCENT, width=2.5)
    for words, y in (("insulated shaft", 232.0), ("no metal inside", 282.0)):
        yield text(words, 1015.0, y, size=11.0, anchor="middle", fill=ACCENT)
    yield _part((1060.0, 195.0, 110.0, 120.0), "capacitor", "KILOVOLTS", "at the gap")
    yield circle(1115.0, 470.0, 118.0 / 2.0, stroke=INK, width=5.0)
    yield line(1115.0, 315.0, 1115.0, y2=411.0, stroke=INK, width=5.0)
    yield text("ring", 1115.0, 474.0, size=13.0, anchor="middle")
    yield circle(1115.0, 560.0, 26.0, stroke=BLUE, width=3.0)


def _sensors() -> Iterable[str]:
    x = _CHIP[0] + _CHIP[2]
    for use, words in (("low_stop", "low end stop"), ("high_stop", "high end stop")):
        y = _RIGHT_PINS[use]
        yield _wire((x, y), (885.0, y))
        yield _part((885.0, y - 19.0, 150.0, 38.0), words, "opens at the end")
        yield from _return(y)
    y = _RIGHT_PINS["thermistor"]
    yield _wire((x, y), (885.0, y))
    yield text("10 kΩ up to 3.3 V", 725.0, y - 6.0, size=10.0, anchor="middle")
    for number, words in enumerate(("1 kΩ in line, 10 nF", "to ground: all three")):
        yield text(words, 674.0, 418.0 + 12.0 * number, size=10.0)
    yield _part((885.0, y - 19.0, 150.0, 38.0), "thermistor 10 kΩ", "opposite the gap")
    yield from _return(y)


def _return(y: float) -> Iterable[str]:
    """The return lead of a sensor at height `y`, through the wall to the ground inside the box."""
    below = y + 15.0
    yield _wire((885.0, below), (795.0, below), (795.0, below + 6.0))
    yield line(786.0, below + 6.0, 804.0, y2=below + 6.0, stroke=INK, width=1.5)


def _supply() -> Iterable[str]:
    yield _part((30.0, 540.0, 180.0, 60.0), "12 V supply, 3 A", "isolated; fuse 3.15 A at its plus")
    yield _wire((210.0, 560.0), (300.0, 560.0))
    yield _part((300.0, 530.0, 110.0, 60.0), "12 V to 5 V", "fuse 1 A before it")
    yield _wire((410.0, 560.0), (470.0, 560.0))
    yield _wire(
        (755.0, 310.0), (755.0, 350.0), (665.0, 350.0), (665.0, 612.0), (284.0, 612.0), (284.0, 560.0)
    )
    yield text("12 V, fuse 2 A", 676.0, 345.0, size=10.0)
    yield circle(284.0, 560.0, 2.5, stroke=INK, fill=INK)
    yield _wire((550.0, 600.0), (550.0, 690.0))
    for number in range(3):
        half = 16.0 - 5.0 * number
        yield line(
            550.0 - half, 696.0 + 6.0 * number, 550.0 + half, y2=696.0 + 6.0 * number, stroke=INK, width=1.8
        )


def _legend() -> Iterable[str]:
    yield circle(35.0, 735.0, 6.0, stroke=ACCENT, width=1.5)
    rows = (
        "a lead through the wall: feed-through capacitor of 1 nF, then 8 turns of lead and return on a ferrite ring",
        "All grounds meet at one point of the box's wall, where the earth lead begins.",
        "Pin numbers as the firmware is shipped; settings.json changes them. Touch nothing while there is power.",
    )
    for number, words in enumerate(rows):
        yield text(words, 50.0 if number == 0 else 29.0, 739.0 + 19.0 * number, size=12.0)
