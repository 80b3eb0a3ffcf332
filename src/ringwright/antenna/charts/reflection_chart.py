# SPDX-License-Identifier: BSD-3-Clause
"""The reflection chart: circles of constant resistance and reactance in the plane of the reflection coefficient.

With z = r + jx, the impedance over the feedline's, the reflection (z - 1)/(z + 1) of constant r lies on a circle about
r/(1 + r) with radius 1/(1 + r), that of constant x on one about 1 + j/x with radius 1/|x| (D. M. Pozar, Microwave
Engineering, 4th ed., Wiley, 2012, sec. 2.4).
"""

from collections.abc import Iterator, Sequence

import numpy as np

from ringwright.antenna.charts.svg import ACCENT, FAINT, circle, curve, element, group, line, text
from ringwright.antenna.charts.trace import Trace

SIZE = 250.0
_RADIUS = 100.0
_CENTRE = 116.0
_STEPS = (0.2, 0.5, 1.0, 2.0, 5.0)
_SWR_2 = 1.0 / 3.0  # reflection at SWR 2


def reflection_chart(traces: Sequence[Trace], *, name: str) -> str:
    """All traces of one band; the scale is in ohms of their feedline. `name` is unique in the file."""
    return group({}, _content(traces, name))


def at(reflection: complex) -> tuple[float, float]:
    """Place of a reflection coefficient on the chart."""
    return _CENTRE + _RADIUS * reflection.real, _CENTRE - _RADIUS * reflection.imag


def _content(traces: Sequence[Trace], name: str) -> Iterator[str]:
    rim = element("circle", {"cx": _CENTRE, "cy": _CENTRE, "r": _RADIUS})
    yield element("clipPath", {"id": name}, rim)
    yield group({"clip-path": f"url(#{name})"}, _grid())
    yield circle(_CENTRE, _CENTRE, _RADIUS, width=1.0)
    yield from _labels(traces[0].reference)
    yield circle(_CENTRE, _CENTRE, _RADIUS * _SWR_2, stroke=ACCENT, width=1.0)
    for one in traces:
        places = np.array([at(complex(s)) for s in one.reflection])
        yield curve(places[:, 0], places[:, 1], stroke=one.stroke, dash=one.dash)
        tuned = at(complex(one.band.point.tuned.reflection(np.array([one.band.match.frequency]))[0]))
        yield circle(*tuned, 3.0, stroke=one.stroke, fill=one.stroke)


def _grid() -> Iterator[str]:
    yield line(_CENTRE - _RADIUS, _CENTRE, _CENTRE + _RADIUS, y2=_CENTRE)
    for r in _STEPS:
        x, y = at(complex(r / (1.0 + r)))
        yield circle(x, y, _RADIUS / (1.0 + r))
    for reactance in _STEPS:
        for side in (reactance, -reactance):
            x, y = at(1.0 + 1j / side)
            yield circle(x, y, _RADIUS / reactance)


def _labels(reference: float) -> Iterator[str]:
    for step in _STEPS:
        x, y = at(complex((step - 1.0) / (step + 1.0)))
        yield text(f"{step * reference:g}", x + 2.0, y - 3.0, size=9.0, fill=FAINT)
        for side, sign in ((1.0, "+"), (-1.0, "-")):
            rim = (1j * step * side - 1.0) / (1j * step * side + 1.0)
            x, y = at(rim * 1.09)
            yield text(f"{sign}j{step * reference:g}", x, y + 3.0, size=9.0, anchor="middle", fill=FAINT)
    x, y = at(-1.0)
    yield text("0", x - 4.0, y + 3.0, size=9.0, anchor="end", fill=FAINT)
    yield text("ohm; SWR 2 inside the circle", _CENTRE, SIZE - 1.0, size=9.0, anchor="middle", fill=FAINT)
