# SPDX-License-Identifier: BSD-3-Clause
"""The few SVG elements our charts are made of. Text is always escaped; nothing outside the file is referred to."""

from collections.abc import Iterable, Mapping
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from ringwright.physics.graph import FloatArray

INK, FAINT, PAPER, ACCENT = "#1b1b1b", "#8a8a8a", "#ffffff", "#D55E00"
FONT = "font-family='ui-sans-serif, system-ui, sans-serif'"

Attributes = Mapping[str, str | float]


def element(name: str, attributes: Attributes, *content: str) -> str:
    """One element; content is markup already, numbers are written short."""
    written = "".join(f" {key}={quoteattr(_short(value))}" for key, value in attributes.items())
    return f"<{name}{written}>{''.join(content)}</{name}>" if content else f"<{name}{written}/>"


def group(attributes: Attributes, content: Iterable[str]) -> str:
    return element("g", attributes, "\n", "\n".join(content), "\n")


def text(
    words: str, x: float, y: float, *, size: float = 12.0, anchor: str = "start", fill: str = INK
) -> str:
    return element(
        "text", {"x": x, "y": y, "font-size": size, "text-anchor": anchor, "fill": fill}, escape(words)
    )


def line(
    x1: float, y1: float, x2: float, *, y2: float, stroke: str = FAINT, dash: str = "", width: float = 0.6
) -> str:
    shape: Attributes = {"x1": x1, "y1": y1, "x2": x2, "y2": y2, "stroke": stroke, "stroke-width": width}
    return element("line", {**shape, **_dashed(dash)})


def circle(
    x: float, y: float, radius: float, *, stroke: str = FAINT, width: float = 0.6, fill: str = "none"
) -> str:
    shape: Attributes = {"cx": x, "cy": y, "r": radius, "stroke": stroke, "stroke-width": width, "fill": fill}
    return element("circle", shape)


def curve(x: FloatArray, y: FloatArray, *, stroke: str = INK, dash: str = "", width: float = 1.8) -> str:
    """A polyline through the points."""
    points = " ".join(f"{a:.2f},{b:.2f}" for a, b in zip(x, y, strict=True))
    shape: Attributes = {"points": points, "fill": "none", "stroke": stroke, "stroke-width": width}
    return element("polyline", {**shape, "stroke-linejoin": "round", **_dashed(dash)})


def page(width: float, height: float, title: str, *, content: Iterable[str]) -> str:
    """A whole file: paper, title for those who hear the page, content."""
    size = f"width='{_short(width)}' height='{_short(height)}' viewBox='0 0 {_short(width)} {_short(height)}'"
    paper = element("rect", {"width": width, "height": height, "fill": PAPER})
    body = "\n".join((element("title", {}, escape(title)), paper, *content))
    return f"<svg xmlns='http://www.w3.org/2000/svg' {size} {FONT} role='img'>\n{body}\n</svg>\n"


def ticks(low: float, high: float, *, about: int) -> FloatArray:
    """Round numbers from `low` to `high`, about so many."""
    step = 10.0 ** np.floor(np.log10((high - low) / about))
    for factor in (1.0, 2.0, 5.0, 10.0):
        if (high - low) / (step * factor) <= about:
            step *= factor
            break
    return np.asarray(np.arange(np.ceil(low / step), np.floor(high / step + 1e-9) + 1.0) * step)


def _dashed(dash: str) -> Attributes:
    return {"stroke-dasharray": dash} if dash else {}


def _short(value: str | float) -> str:
    return value if isinstance(value, str) else f"{value:.2f}".rstrip("0").rstrip(".")
