# SPDX-License-Identifier: BSD-3-Clause
"""Rules of thumb: tables and figure are what the program computes."""

import xml.etree.ElementTree as ET

from scripts.write_rule_tables import PAGE, PICTURE, TABLES, picture, rewritten


def test_tables_are_current():
    page = PAGE.read_text(encoding="utf-8")
    assert all(page.count(f"<!-- table {name} -->") == 1 for name in TABLES)
    assert page == rewritten(page), "run: python -m scripts.write_rule_tables"


def test_the_figure_is_current():
    drawn = picture()
    ET.fromstring(drawn)
    assert PICTURE.read_text(encoding="utf-8") == drawn, "run: python -m scripts.write_rule_tables"
