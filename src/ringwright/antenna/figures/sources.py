# SPDX-License-Identifier: BSD-3-Clause
"""Sources and limits that several figures share."""

SOLUTION = (
    "own full-wave solution of thin wires, docs/explanation/thin-wire.md, after R. F. Harrington, Field Computation by "
    "Moment Methods, Macmillan, 1968"
)
FLUX = "own derivation, docs/explanation/half-space.md, Where the power goes"
TUNING = "own derivation, docs/explanation/tuning.md"
ADDRESSES = "own bookkeeping by address, docs/explanation/thin-wire.md, Ports and losses"
TERMS = "IEEE Std 145, Definitions of Terms for Antennas"
POZAR = "D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012"
YAGHJIAN_BEST = (
    "A. D. Yaghjian, S. R. Best, Impedance, bandwidth, and Q of antennas, IEEE Trans. Antennas Propag. 53, 1298-1324, "
    "2005, doi 10.1109/TAP.2005.844443"
)
ROUND_WIRE = (
    "S. Ramo, J. R. Whinnery, T. Van Duzer, Fields and Waves in Communication Electronics, 3rd ed., Wiley, 1994, sec. "
    "4.5; tube: S. A. Schelkunoff, Bell Syst. Tech. J. 13, 532-579, 1934"
)

THIN_WIRE = (
    "1.8 to 54 MHz, conductors up to 0.04 of the ring's radius (crowding to the inner side is left out), wire up to "
    "0.47 wavelengths"
)
REAL_GAP = THIN_WIRE + "; a real gap of 20 to 40 mm agrees within 0.25 pF"
EXACT = "wherever its inputs hold"
