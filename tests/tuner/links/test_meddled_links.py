# SPDX-License-Identifier: BSD-3-Clause
"""Octets and orders of chance into the program's end: nothing breaks, nothing unsafe is done."""

import pytest

from scripts.meddle_links import meddle


@pytest.mark.parametrize("seed", range(500, 506))
def test_chance_on_the_line_breaks_nothing(seed):
    assert meddle(seed) == []
