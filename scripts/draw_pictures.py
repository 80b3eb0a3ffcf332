# SPDX-License-Identifier: BSD-3-Clause
"""Draw the documentation's pictures from real predictions: `python -m scripts.draw_pictures`."""

from pathlib import Path

from ringwright.antenna.charts.ring_drawing import ring_drawing
from ringwright.antenna.charts.svg import element, group, page, text
from ringwright.antenna.charts.watt_bars import ROW, watt_bars
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from scripts.draw_wiring import board_wiring

PICTURES = Path("docs/pictures")
_WIDTH, _HEIGHT, _LEFT = 900.0, 380.0, 350.0


def terrace_octagon() -> str:
    """The scenario's octagon over its terrace: where the current flows and where every watt goes."""
    prediction = predict(shipped_design(TERRACE_OCTAGON))
    bands = prediction.bands
    bars = group(
        {"transform": f"translate({_LEFT + 30:g},110)"}, [watt_bars(bands, width=_WIDTH - _LEFT - 60.0)]
    )
    words = (
        "An octagon of 22 mm water tube over average earth, 25 W",
        f"Left: the current on {bands[-1].band}. Below: where every watt goes",
    )
    heads = [text(line, _LEFT + 30.0, 40.0 + 20.0 * number, size=14.0) for number, line in enumerate(words)]
    height = max(_HEIGHT, 110.0 + len(bands) * ROW + 30.0)
    drawing = ring_drawing(bands[-1], width=_LEFT, height=height)
    described = element(
        "desc", {}, "A ring beside a door, its current as a ribbon, and a watt bar for each band."
    )
    return page(_WIDTH, height, prediction.design, content=[described, drawing, *heads, bars])


PAGES = {
    PICTURES / "terrace-octagon.svg": terrace_octagon,
    PICTURES / "board-wiring.svg": board_wiring,
}


def main() -> None:
    PICTURES.mkdir(exist_ok=True)
    for path, draw in PAGES.items():
        path.write_text(draw(), encoding="utf-8", newline="\n")
        print(path)


if __name__ == "__main__":
    main()
