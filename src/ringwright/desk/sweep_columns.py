# SPDX-License-Identifier: BSD-3-Clause
"""The workspace's memory of what the columns of tables of sweeps mean, by their headings."""

from contextlib import suppress
from pathlib import Path

from ringwright.disk import replace_file
from ringwright.errors import SweepFileError
from ringwright.proof.columns import Columns, remember, remembered
from ringwright.proof.files import parse_sweep
from ringwright.proof.sweep import Sweep
from ringwright.proof.table_file import headings, is_table

NAME = "sweep-columns.json"


class SweepColumns:
    """The file `sweep-columns.json` of a workspace; a person may read it, correct it, or delete it.

    It is a convenience: where it cannot be read or written, sweeps are read all the same.
    """

    def __init__(self, workspace: Path) -> None:
        self._path = workspace / NAME

    def read(self, content: bytes, *, source: str, named: Columns | None) -> Sweep:
        """The sweep of a file's bytes: its columns as `named` now, else as the last time, else as headings tell.

        Raises
        ------
        SweepFileError
            If it is not a sweep.
        """
        head = headings_of(content, source=source)
        known = named or (remembered(self._text(), head, source=source) if head else None)
        sweep = parse_sweep(content, source=source, columns=known)
        if named is not None and head:
            self._keep(remember(self._text(), head, named))
        return sweep

    def _text(self) -> str:
        try:
            return self._path.read_text(encoding="utf-8", errors="replace")
        except OSError:
            return ""

    def _keep(self, memory: str) -> None:
        with suppress(OSError):
            replace_file(self._path, memory.encode())


def headings_of(content: bytes, *, source: str) -> list[str]:
    """The headings of a table; none of a file that is no table, or has none."""
    try:
        return headings(content, source) if is_table(source) else []
    except SweepFileError:
        return []
