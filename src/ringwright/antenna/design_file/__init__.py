# SPDX-License-Identifier: BSD-3-Clause
"""The design file: TOML with units in, a `Design` in SI out."""

from ringwright.antenna.design_file.calibration import (
    build_checksum,
    build_checksum_of,
    lay_over,
    load_calibrated,
    parse_calibration,
    read_calibration,
    text_checksum,
)
from ringwright.antenna.design_file.calibration_text import calibration_text
from ringwright.antenna.design_file.read import design_of, load_design, parse_design, read_tables, read_text

__all__ = [
    "build_checksum",
    "build_checksum_of",
    "calibration_text",
    "design_of",
    "lay_over",
    "load_calibrated",
    "load_design",
    "parse_calibration",
    "parse_design",
    "read_calibration",
    "read_tables",
    "read_text",
    "text_checksum",
]
