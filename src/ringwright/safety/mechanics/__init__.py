# SPDX-License-Identifier: BSD-3-Clause
"""A ring as a thing: what it weighs, how it is cut and bent, how it stands, how it warms, how far its volts reach."""

from ringwright.safety.mechanics.mechanics import Mechanics, find_mechanics

__all__ = ["Mechanics", "find_mechanics"]
