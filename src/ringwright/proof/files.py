# SPDX-License-Identifier: BSD-3-Clause
"""Sweep files from the disk: which reader takes which, never more read than a sweep can be."""

import re
from pathlib import Path

from ringwright.errors import SweepFileError
from ringwright.proof.columns import Columns
from ringwright.proof.file_text import LARGEST_FILE, too_large
from ringwright.proof.sweep import Sweep
from ringwright.proof.table_file import is_table, parse_table
from ringwright.proof.touchstone import parse_touchstone

_TOUCHSTONE = re.compile(r"\.(?:s\d+p|ts)$", re.IGNORECASE)


def load_sweep(path: str | Path, columns: Columns | None = None) -> Sweep:
    """The sweep of a file; `columns` tells what a table's columns are where their names do not.

    Raises
    ------
    SweepFileError
        If the file is absent or not a sweep.
    """
    return parse_sweep(read_content(path), source=str(path), columns=columns)


def read_content(path: str | Path) -> bytes:
    """A file's bytes, if they are no more than a sweep can have.

    Raises
    ------
    SweepFileError
        If the file cannot be read, or is too large.
    """
    source = str(path)
    try:
        if Path(path).is_dir():
            raise SweepFileError(source, None, "this is a folder; name the sweep files in it")
        size = Path(path).stat().st_size
        if size > LARGEST_FILE:
            raise too_large(source, size)
        return Path(path).read_bytes()
    except OSError as exc:
        why = (exc.strerror or type(exc).__name__).lower()
        raise SweepFileError(
            source, 1, f"the file cannot be read ({why}); check its name and folder"
        ) from exc


def parse_sweep(content: bytes, *, source: str, columns: Columns | None = None) -> Sweep:
    """The same from a file's bytes, as an upload delivers them; the name's ending tells the format."""
    if _TOUCHSTONE.search(source):
        touchstone = parse_touchstone(content, source=source)
        return touchstone.transmission() if touchstone.is_between_probes() else touchstone.reflection()
    if is_table(source):
        return parse_table(content, source=source, columns=columns or Columns())
    raise SweepFileError(
        source, 1, "the name does not end in .s1p, .s2p, .ts or .csv; rename the file after what is in it"
    )
