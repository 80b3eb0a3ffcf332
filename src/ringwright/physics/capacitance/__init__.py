# SPDX-License-Identifier: BSD-3-Clause
"""Capacitors made at the bench, from their dimensions."""

from ringwright.physics.capacitance.plates import disc_capacitance, meshed_capacitance, plate_capacitance
from ringwright.physics.capacitance.stub import cable_capacitance, open_stub_impedance
from ringwright.physics.capacitance.tubes import tube_capacitance, tube_equivalent_gaps

__all__ = [
    "cable_capacitance",
    "disc_capacitance",
    "meshed_capacitance",
    "open_stub_impedance",
    "plate_capacitance",
    "tube_capacitance",
    "tube_equivalent_gaps",
]
