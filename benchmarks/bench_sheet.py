# SPDX-License-Identifier: BSD-3-Clause
"""The sheet for the bench: of the demo's first design, predicted already, and from the command line, cold."""

import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design, shipped_text
from ringwright.sheet.build import find_build
from ringwright.sheet.build_sheet import build_sheet
from ringwright.sheet.measures import Measures


def bench_sheet() -> Callable[[], object]:
    """Mechanics, drawings, sheet and templates of the terrace octagon as a PDF."""
    design = shipped_design(TERRACE_OCTAGON)
    prediction = predict(design)

    def once() -> object:
        return build_sheet(find_build(design, prediction, measures=Measures()), paper="a4", templates=True)

    return once


def bench_cold_sheet() -> Callable[[], object]:
    """ringwright sheet, three bands over earth beside a railing, a new process each time."""
    folder = tempfile.TemporaryDirectory()
    path = Path(folder.name) / "ring.toml"
    path.write_text(shipped_text(TERRACE_OCTAGON), encoding="utf-8")
    program = Path(sys.executable).with_name("ringwright")

    def once() -> object:
        output = Path(folder.name) / "sheet.pdf"
        return subprocess.run([program, "sheet", path, "-o", output], check=True, capture_output=True)

    return once
