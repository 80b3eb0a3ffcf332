# SPDX-License-Identifier: BSD-3-Clause
"""A draft as a thing to make: its mechanics and drawings for a page, its sheet and templates for a printer."""

from ringwright.antenna.design import Design
from ringwright.desk.predictions import Predictions
from ringwright.sheet.build import Build, find_build
from ringwright.sheet.build_sheet import build_sheet, template_sheet
from ringwright.sheet.measures import Measures


def building(design: Design, *, is_imperial: bool, predictions: Predictions) -> Build:
    """The build of a design; the one last predicted costs no solution again."""
    return find_build(design, predictions.known(design), measures=Measures(is_imperial))


def printed(build: Build, *, paper: str, sheet: bool, templates: bool) -> bytes:
    """The sheet, the templates, or both, as a PDF."""
    if not sheet:
        return template_sheet(build, paper=paper)
    return build_sheet(build, paper=paper, templates=templates)
