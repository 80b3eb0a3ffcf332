# SPDX-License-Identifier: BSD-3-Clause
"""D. M. Pozar, Microwave Engineering, 4th ed., Wiley, 2012, example 1.2: skin depth of metals at 10 GHz."""

import pytest

from ringwright.physics.conductors import skin_depth


@pytest.mark.parametrize(
    ("conductivity", "expected"),
    [(3.816e7, 8.14e-7), (5.813e7, 6.60e-7), (4.098e7, 7.86e-7), (6.173e7, 6.40e-7)],
    ids=["aluminium", "copper", "gold", "silver"],
)
def test_example_1_2(conductivity, expected):
    # The book prints 3 digits and rounds its prefactor 5.033e-3 to 5.03e-3. Aluminium and gold from memory.
    assert skin_depth(10e9, conductivity) == pytest.approx(expected, rel=1.5e-3, abs=0)
