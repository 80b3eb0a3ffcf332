# SPDX-License-Identifier: BSD-3-Clause
"""The sweep to expect on a band: SWR over frequency, to hold the measured one against."""

from ringwright.antenna.charts.svg import ticks
from ringwright.antenna.charts.trace import name_of, trace
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.prediction import BandPrediction
from ringwright.sheet.sketch import COPPER, FAINT, INK, QUIET, THIN, Sketch

WIDTH, HEIGHT = 86.0, 62.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 9.0, 3.0, 11.0, 12.0
_HIGHEST = 6.0


def sweep_view(band: BandPrediction) -> Sketch:
    """Across the dip; frequency counts from the tuned one."""
    sketch = Sketch(WIDTH, HEIGHT, title=f"Expected SWR, {name_of(band)}")
    one = trace(band, label="", number=0)
    reach = float(abs(one.offset).max())

    def place(offset: float, swr: float) -> tuple[float, float]:
        x = _LEFT + (offset / reach / 2.0 + 0.5) * (WIDTH - _LEFT - _RIGHT)
        y = _TOP + (_HIGHEST - swr) / (_HIGHEST - 1.0) * (HEIGHT - _TOP - _BOTTOM)
        return x, y

    for swr in range(1, int(_HIGHEST) + 1):
        a, b = place(-reach, swr), place(reach, swr)
        sketch.line([a, b], ink=COPPER if swr == 2 else FAINT, width=THIN)
        sketch.text(str(swr), (a[0] - 1.5, a[1] + 0.9), anchor="end", ink=QUIET)
    for offset in ticks(-reach, reach, about=5):
        x, y = place(offset, 1.0)
        sketch.line([(x, y), (x, y + 1.2)], ink=QUIET, width=THIN)
        sketch.text(f"{offset / 1e3:+g}" if offset else "0", (x, y + 4.6), ink=QUIET)
    seen = one.swr <= _HIGHEST
    if seen.any():
        sketch.line(
            [place(o, s) for o, s in zip(one.offset[seen], one.swr[seen], strict=True)], ink=INK, width=0.5
        )
    sketch.text(name_of(band), (_LEFT, 4.0), size=3.2, anchor="start", bold=True)
    best = f"best SWR {FIGURES['match.swr_min'].text(band.match.swr_min)}"
    width = FIGURES["bandwidth_swr2_hz"].text(band.bandwidth_swr2)
    sketch.text(f"{best}; below 2 for {width}", (_LEFT, 8.4), anchor="start")
    sketch.text("kHz from the tuned frequency", (WIDTH - _RIGHT, HEIGHT - 1.5), anchor="end", ink=QUIET)
    sketch.text("SWR", (_LEFT + 1.0, _TOP + 2.6), anchor="start", ink=QUIET)
    return sketch
