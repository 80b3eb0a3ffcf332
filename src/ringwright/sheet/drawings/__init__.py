# SPDX-License-Identifier: BSD-3-Clause
"""Drawings of a design to scale, each a `Sketch` in millimetres of paper."""

from ringwright.sheet.drawings.all_drawings import drawings

__all__ = ["drawings"]
