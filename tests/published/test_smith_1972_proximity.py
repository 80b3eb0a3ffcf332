# SPDX-License-Identifier: BSD-3-Clause
"""G. S. Smith, J. Appl. Phys. 43, 2196-2203, 1972: added loss of N equal turns in a flat row, spacing 2c, radius a.

Of the printed table only the anchors are remembered: 1/3 for two in contact, 0.38 for eight at c/a = 2 (also in C. A.
Balanis, Antenna Theory, example 5.3). All other digits by another program's multipole match, residual below 1e-12.
"""

import pytest

from ringwright.physics.proximity import proximity_factor

TABLE = {
    1.10: (0.2993, 0.6434, 0.9966, 1.3469, 1.6891, 2.0207, 2.3405),
    1.20: (0.2681, 0.5314, 0.7766, 1.0023, 1.2098, 1.4007, 1.5768),
    1.30: (0.2398, 0.4550, 0.6435, 0.8091, 0.9555, 1.0859, 1.2031),
    1.50: (0.1921, 0.3455, 0.4695, 0.5719, 0.6583, 0.7322, 0.7964),
    2.00: (0.1162, 0.1948, 0.2518, 0.2953, 0.3299, 0.3581, 0.3817),
    2.50: (0.0765, 0.1237, 0.1561, 0.1799, 0.1983, 0.2130, 0.2251),
    3.00: (0.0539, 0.0853, 0.1062, 0.1212, 0.1326, 0.1416, 0.1489),
    4.00: (0.0307, 0.0476, 0.0584, 0.0660, 0.0716, 0.0761, 0.0796),
}


@pytest.mark.parametrize("closeness", TABLE)
def test_added_loss_to_every_printed_digit(closeness):
    added = [f"{proximity_factor(count, spacing=closeness, diameter=1.0) - 1:.4f}" for count in range(2, 9)]
    assert added == [f"{value:.4f}" for value in TABLE[closeness]]


def test_two_in_contact_lose_a_third_more():
    # Smooth at contact, where no current flows, so two points on the way give the end; the curve between is straight to
    # a hundredth of the step.
    near, nearer = (proximity_factor(2, spacing=c, diameter=1.0) - 1 for c in (1.02, 1.01))
    assert 2 * nearer - near == pytest.approx(1 / 3, rel=1e-3, abs=0)


def test_eight_turns_of_the_textbook_example():
    # Printed with two digits.
    assert proximity_factor(8, spacing=4e-4, diameter=2e-4) - 1 == pytest.approx(0.38, rel=0.013, abs=0)
