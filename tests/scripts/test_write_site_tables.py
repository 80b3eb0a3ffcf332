# SPDX-License-Identifier: BSD-3-Clause
"""The tables on what a site does are what the program computes."""

from scripts.write_site_tables import PAGE, TABLES, rewritten


def test_tables_are_current():
    page = PAGE.read_text(encoding="utf-8")
    assert all(page.count(f"<!-- table {name} -->") == 1 for name in TABLES)
    assert page == rewritten(page), "run: python -m scripts.write_site_tables"


def test_a_stale_table_is_noticed():
    page = "<!-- table dipole -->\n| old |\n<!-- end -->\n"
    assert rewritten(page) != page
    assert rewritten(rewritten(page)) == rewritten(page)
