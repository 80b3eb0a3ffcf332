# SPDX-License-Identifier: BSD-3-Clause
"""The workspace's memory of what the columns of tables of reports mean, by their headings."""

from collections.abc import Sequence
from pathlib import Path

from ringwright.air.columns import Columns, remember
from ringwright.air.files import Delivered, is_table
from ringwright.air.table import headings
from ringwright.disk import replace_file
from ringwright.errors import StorageError, WorkspaceError

NAME = "report-columns.json"


class ReportColumns:
    """The file `report-columns.json` of a workspace; a person may read it, correct it, or delete it."""

    def __init__(self, workspace: Path) -> None:
        if not workspace.is_dir():
            raise WorkspaceError(f"{workspace}: there is no such folder; name a workspace that `new` made")
        self._path = workspace / NAME

    def text(self) -> str:
        """What is remembered; empty where nothing is."""
        try:
            return self._path.read_text(encoding="utf-8", errors="replace")
        except FileNotFoundError:
            return ""
        except OSError as exc:
            raise StorageError(
                f"{self._path}: reading failed ({exc.strerror}); delete it or set it right"
            ) from exc

    def keep(self, delivered: Sequence[Delivered], columns: Columns) -> None:
        """Remember the columns for every table among the files."""
        memory = self.text()
        for file in delivered:
            if is_table(file.name):
                memory = remember(memory, headings(file.content, source=file.name)[2], columns)
        try:
            replace_file(self._path, memory.encode())
        except OSError as exc:
            raise StorageError(
                f"{self._path}: writing failed ({exc.strerror}); make room and try again"
            ) from exc
