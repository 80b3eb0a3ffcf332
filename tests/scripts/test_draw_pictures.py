# SPDX-License-Identifier: BSD-3-Clause
"""The documentation's pictures are of predictions as they are."""

import xml.etree.ElementTree as ET

import pytest

from scripts.draw_pictures import PAGES


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_the_picture_is_current(path):
    drawn = PAGES[path]()
    ET.fromstring(drawn)
    assert path.read_text(encoding="utf-8") == drawn, "run: python -m scripts.draw_pictures"
