# SPDX-License-Identifier: BSD-3-Clause
"""The sweep files that lie in a workspace's `sweeps/`: listed and read by name, never altered, never outside it."""

import re
from collections.abc import Iterator
from pathlib import Path

from ringwright.desk.design_folder import Stamp
from ringwright.desk.sweep_columns import SweepColumns
from ringwright.errors import NameRefusedError, StorageError, SweepFileError
from ringwright.proof.file_text import LARGEST_FILE, too_large
from ringwright.records.sweep_files import SWEEPS, safe_name
from ringwright.units import shown

_SWEEP = re.compile(r"\.(?:s\d+p|ts|csv|tsv|txt|dat)$", re.IGNORECASE)
"""Endings that a reader of sweeps takes; a note or a picture beside them is nobody's sweep."""


class SweepFiles:
    """`sweeps/` of a workspace, which need not be there yet; `columns` are what its tables' columns mean."""

    def __init__(self, workspace: Path) -> None:
        self._folder = workspace.resolve() / SWEEPS
        self.columns = SweepColumns(workspace)

    def stamps(self) -> dict[str, Stamp]:
        """Every sweep file's stamp by name, in order; odd names and files that lead elsewhere are left out."""
        found = {}
        for path in self._listed():
            try:
                status = self._path(path.name).stat()
            except (NameRefusedError, OSError):
                continue
            found[path.name] = Stamp(status.st_mtime_ns, status.st_size, status.st_ino)
        return found

    def read(self, name: str) -> bytes:
        """The bytes of a file.

        Raises
        ------
        NameRefusedError
            If the name is none of a file there.
        SweepFileError
            If the file is gone, cannot be read or is too large for a sweep.
        """
        path = self._path(name)
        try:
            size = path.stat().st_size
            if size > LARGEST_FILE:
                raise too_large(name, size)
            return path.read_bytes()
        except OSError as exc:
            why = (exc.strerror or type(exc).__name__).lower()
            raise SweepFileError(
                name, 1, f"the file cannot be read from {SWEEPS} ({why}); put it there again or take it off"
            ) from exc

    def _listed(self) -> Iterator[Path]:
        if not self._folder.is_dir():
            return
        try:
            yield from sorted(path for path in self._folder.iterdir() if _SWEEP.search(path.name))
        except OSError as exc:
            raise StorageError(f"{SWEEPS}: cannot be listed ({exc.strerror or exc})") from exc

    def _path(self, name: str) -> Path:
        """Where a file of this name lies, inside the folder for certain and no folder itself."""
        path = (self._folder / name).resolve() if safe_name(name) == name else None
        if path is None or not path.is_relative_to(self._folder) or path.is_dir():
            raise NameRefusedError(
                f"{shown(name)} is no sweep file of this workspace; put the file itself into {SWEEPS}"
            )
        return path
