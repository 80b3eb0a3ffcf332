# SPDX-License-Identifier: BSD-3-Clause
"""Compute and draw them: `python -m scripts.reproduce`."""

from scripts.page_tables import with_tables
from scripts.reproduce.pages import PAGES, PICTURES


def main() -> None:
    for path, tables in PAGES.items():
        page = with_tables(path.read_text(encoding="utf-8"), tables)
        path.write_text(page, encoding="utf-8", newline="\n")
        print(path)
    for path, draw in PICTURES.items():
        path.write_text(draw(), encoding="utf-8", newline="\n")
        print(path)


main()
