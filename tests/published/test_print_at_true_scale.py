# SPDX-License-Identifier: BSD-3-Clause
"""Templates measured off the printed page: rendered by poppler's pdftoppm at 300 dots per inch, an independent reader.

An inch is 25.4 mm (international yard and pound agreement, 1959), so that a dot is 25.4/300 = 0.0847 mm.
"""

import subprocess

import numpy as np
import pytest

from ringwright.antenna.design_file import parse_design
from ringwright.antenna.predict import predict
from ringwright.sheet.build import find_build
from ringwright.sheet.build_sheet import template_sheet
from ringwright.sheet.measures import Measures

DOT = 25.4 / 300.0  # mm
INK, LINES = 90, 150  # grey levels: full lines are darker than 90, dashed ones than 150, the frame is lighter
DESIGN = """
format = 1
name = "Scale"
bands = ["40m"]
[ring]
perimeter = "3.2 m"
[coupling]
diameter = "200 mm"
[coupling.conductor]
diameter = "6 mm"
[capacitor]
minimum = "15 pF"
maximum = "300 pF"
[build]
box_width = "250 mm"
box_height = "200 mm"
box_depth = "150 mm"
"""

pytestmark = pytest.mark.needs("pdftoppm")


@pytest.fixture(scope="module", params=["a4", "letter"])
def pages(request, tmp_path_factory):
    """Grey levels of every page, by the paper."""
    folder = tmp_path_factory.mktemp(request.param)
    design = parse_design(DESIGN, source="a.toml")
    build = find_build(design, predict(design), measures=Measures())
    (folder / "a.pdf").write_bytes(template_sheet(build, paper=request.param))
    subprocess.run(["pdftoppm", "-r", "300", "-gray", folder / "a.pdf", folder / "p"], check=True)
    return [grey(path.read_bytes()) for path in sorted(folder.glob("p-*.pgm"))]


def grey(content):
    kind, size, most, rest = content.split(b"\n", 3)
    assert (kind, most) == (b"P5", b"255")
    width, height = map(int, size.split())
    return np.frombuffer(rest, dtype=np.uint8).reshape(height, width)


def test_the_bar_is_100_mm(pages):
    for page in pages:
        strip = page[-int(21.5 / DOT) :, : int(125.0 / DOT)]  # where the bar lies, above the lower margin
        dark = strip < LINES
        row = int(np.argmax(dark.sum(axis=1)))
        columns = np.flatnonzero(dark[row])
        runs = np.split(columns, np.flatnonzero(np.diff(columns) > 1) + 1)
        longest = max(runs, key=len)
        # The stroke is 0.3 mm wide at the ends' ticks: 0.25 mm belongs to both of them together.
        assert (longest[-1] - longest[0] + 1) * DOT == pytest.approx(100.25, abs=0.15, rel=0)


def test_a_wall_of_200_mm_is_200_mm(pages):
    page = pages[-1]
    inner = page[int(26.0 / DOT) : -int(24.0 / DOT), int(12.0 / DOT) : -int(12.0 / DOT)]
    rows, columns = (np.flatnonzero((inner < LINES).any(axis=axis)) for axis in (1, 0))
    # Between the middles of lines of 0.25 mm.
    assert (rows[-1] - rows[0] + 1) * DOT - 0.25 == pytest.approx(200.0, abs=0.2, rel=0)
    assert (columns[-1] - columns[0] + 1) * DOT - 0.25 == pytest.approx(150.0, abs=0.2, rel=0)


def loop_page(pages):
    """The coupling loop's first tile: four pages from the end come its two, spacer and wall."""
    return pages[-4]


def test_the_coupling_loop_is_round_and_200_mm_across(pages):
    page = loop_page(pages)
    left, top = int(10.5 / DOT), int(24.0 / DOT)
    inner = page[top : -int(24.0 / DOT), left : -int(26.0 / DOT)]
    dark = inner < INK
    rows = np.flatnonzero(dark.any(axis=1))
    first = dark[rows].argmax(axis=1)
    # The outer edge, from the left, but for the words and crosses in the middle of the loop.
    edge = np.stack([first, rows], axis=1)[first < first.min() + 90.0 / DOT] * DOT
    x, y = edge.T
    system = np.stack([x, y, np.ones_like(x)], axis=1)
    a, b, c = np.linalg.lstsq(system, -(x**2 + y**2), rcond=None)[0]
    radius = float(np.sqrt(a**2 / 4.0 + b**2 / 4.0 - c))
    residual = np.hypot(x + a / 2.0, y + b / 2.0) - radius
    # Axis at 100 mm, edge 3 mm outside it, and half its stroke of 0.3 mm: 206.3 mm across.
    assert 2.0 * radius == pytest.approx(206.3, abs=0.2, rel=0)
    assert np.sqrt(np.mean(residual**2)) < DOT
