# SPDX-License-Identifier: BSD-3-Clause
"""Files that a verb writes where the person asked for them."""

from pathlib import Path

from ringwright.disk import replace_file
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
    write_bytes(path, text.encode())


def write_bytes(path: Path, content: bytes) -> None:
    """Write a file of bytes; errors as `write_text`, and then a file that was there is as it was."""
    try:
        if path.is_file() or not path.exists():
            replace_file(path, content)
        else:  # a terminal or a pipe is written to, and nothing takes its place
            path.write_bytes(content)
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError, PermissionError, ValueError) as exc:
        reason = exc.strerror if isinstance(exc, OSError) else exc  # ValueError: a NUL in the path
        raise WorkspaceError(f"{path}: cannot be written ({reason}); name another file") from exc
    except OSError as exc:
        raise StorageError(f"{path}: writing failed ({exc.strerror}); make room and try again") from exc


def make_folder(path: Path) -> None:
    """Make a folder for files, if there is none; errors as `write_text`."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except (FileExistsError, NotADirectoryError, PermissionError, ValueError) as exc:
        reason = exc.strerror if isinstance(exc, OSError) else exc
        raise WorkspaceError(f"{path}: cannot be made a folder ({reason}); name another one") from exc
    except OSError as exc:
        raise StorageError(
            f"{path}: making the folder failed ({exc.strerror}); make room and try again"
        ) from exc
