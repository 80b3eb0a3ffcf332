# SPDX-License-Identifier: BSD-3-Clause
"""The design file: TOML with units in, a `Design` in SI out."""

from ringwright.antenna.design_file.read import load_design, parse_design

__all__ = ["load_design", "parse_design"]
