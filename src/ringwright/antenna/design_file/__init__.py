# SPDX-License-Identifier: BSD-3-Clause
"""The design file: TOML with units in, a `Design` in SI out."""

from ringwright.antenna.design_file.read import design_of, load_design, parse_design, read_tables, read_text

__all__ = ["design_of", "load_design", "parse_design", "read_tables", "read_text"]
