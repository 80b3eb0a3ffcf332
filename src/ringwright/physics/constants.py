# SPDX-License-Identifier: BSD-3-Clause
"""Constants of the electromagnetic field in vacuum, in SI units.

``MU_0`` is the measured CODATA 2022 value [1]_, not the old exact 4 pi 1e-7 H/m; the two differ by 1.3e-10, which
no ring can show. The other two follow from it and the exact ``C_0``, so that ``C_0**2 * MU_0 * EPS_0 == 1`` holds
to rounding. They are written here because importing ``scipy.constants`` parses the full CODATA table.

References
----------
.. [1] P. J. Mohr, D. B. Newell, B. N. Taylor, E. Tiesinga, CODATA recommended values of the fundamental physical
       constants: 2022, Rev. Mod. Phys. 97, 025002, 2025 (values as shipped in ``scipy.constants``).
"""

from typing import Final

C_0: Final = 299_792_458.0
"""Speed of light in vacuum, exact by definition of the metre. [m/s]"""

MU_0: Final = 1.256_637_061_27e-6
"""Vacuum magnetic permeability. [H/m]"""

EPS_0: Final = 1.0 / (MU_0 * C_0**2)
"""Vacuum electric permittivity. [F/m]"""

ETA_0: Final = MU_0 * C_0
"""Impedance of free space; textbooks that write 120 pi read 0.069 % high. [ohm]"""
