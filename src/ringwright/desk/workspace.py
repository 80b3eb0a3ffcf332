# SPDX-License-Identifier: BSD-3-Clause
"""A workspace: the folder that holds one antenna's designs, sweeps, sheets and records."""

from pathlib import Path

from ringwright.antenna.scenario import FIRST_RING, example_files, shipped_text
from ringwright.errors import StorageError, WorkspaceError

FOLDERS = ("designs", "sweeps", "sheets")


def write_workspace(folder: Path, *, example: str | None = None) -> Path:
    """Make a workspace with a commented first design, or with all of an example; return that design's path.

    The folder may exist, but only empty: nothing of anyone's is ever written over.
    """
    contents = {f"designs/{FIRST_RING}": shipped_text(FIRST_RING)}
    if example is not None:
        contents = example_files(example)
    try:
        empty = _make_empty(folder)
        if empty:
            _fill(folder, contents)
    except FileNotFoundError as exc:
        raise WorkspaceError(
            f"{folder}: the folder it should lie in does not exist; make that first or name another"
        ) from exc
    except (
        FileExistsError,
        NotADirectoryError,
        PermissionError,
        ValueError,
    ) as exc:  # ValueError: a NUL in the path
        raise WorkspaceError(
            f"{folder}: no workspace can be made there ({_reason(exc)}); name a new folder"
        ) from exc
    except OSError as exc:
        raise StorageError(
            f"{folder}: writing failed ({_reason(exc)}); make room on the disk and try again"
        ) from exc
    if not empty:
        raise WorkspaceError(f"{folder}: the folder is not empty; name a new or empty one")
    return folder / next(iter(contents))


def _reason(error: Exception) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


def _make_empty(folder: Path) -> bool:
    folder.mkdir(exist_ok=True)
    return not any(folder.iterdir())


def _fill(folder: Path, contents: dict[str, str]) -> None:
    for name in FOLDERS:
        (folder / name).mkdir()
    for path, text in contents.items():
        with (folder / path).open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
