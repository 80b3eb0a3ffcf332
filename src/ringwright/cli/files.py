# SPDX-License-Identifier: BSD-3-Clause
"""Files that a verb writes where the person asked for them."""

from pathlib import Path

from ringwright.errors import StorageError, WorkspaceError


def write_text(path: Path, text: str) -> None:
    """Write a text file.

    Raises
    ------
    WorkspaceError
        If the path cannot be written to.
    StorageError
        If the disk is full or fails.
    """
    try:
        path.write_text(text, encoding="utf-8", newline="\n")
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError, PermissionError, ValueError) as exc:
        reason = exc.strerror if isinstance(exc, OSError) else exc  # ValueError: a NUL in the path
        raise WorkspaceError(f"{path}: cannot be written ({reason}); name another file") from exc
    except OSError as exc:
        raise StorageError(f"{path}: writing failed ({exc.strerror}); make room and try again") from exc
