# SPDX-License-Identifier: BSD-3-Clause
"""Tables of a page that are computed: each stands between `<!-- table NAME -->` and `<!-- end -->`."""

import re
from collections.abc import Callable, Iterator, Mapping

Table = Callable[[], Iterator[list[str]]]
_TABLE = re.compile(r"(<!-- table (\S+) -->\n).*?(<!-- end -->)", re.DOTALL)


def with_tables(page: str, tables: Mapping[str, Table]) -> str:
    """The page with its tables as the program has them now; a table's first row is its head."""

    def table(match: re.Match[str]) -> str:
        head, *rows = tables[match[2]]()
        lines = [head, ["---"] * len(head), *rows]
        return match[1] + "".join(f"| {' | '.join(line)} |\n" for line in lines) + match[3]

    return _TABLE.sub(table, page)
