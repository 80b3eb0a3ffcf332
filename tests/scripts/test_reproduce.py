# SPDX-License-Identifier: BSD-3-Clause
"""The reproductions are what the program computes, table by table and picture by picture."""

import xml.etree.ElementTree as ET

import pytest

from scripts.page_tables import with_tables
from scripts.reproduce.pages import PAGES, PICTURES

RUN = "run: python -m scripts.reproduce"


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_tables_are_current(path):
    page = path.read_text(encoding="utf-8")
    assert all(page.count(f"<!-- table {name} -->") == 1 for name in PAGES[path])
    assert page == with_tables(page, PAGES[path]), RUN


@pytest.mark.parametrize("path", PICTURES, ids=lambda path: path.stem)
def test_the_picture_is_current(path):
    drawn = PICTURES[path]()
    ET.fromstring(drawn)
    assert path.read_text(encoding="utf-8") == drawn, RUN


def test_every_picture_stands_on_a_page():
    pages = "".join(path.read_text(encoding="utf-8") for path in PAGES)
    assert all(f"(../pictures/{path.name})" in pages for path in PICTURES)
