# SPDX-License-Identifier: BSD-3-Clause
"""Solutions of a search on the disk, a line each, written as they come: a search that was killed goes on from there.

They are kept by what they depend on, so that other weights, limits, parts or a larger grid find them again.
"""

import errno
import hashlib
import json
import os
import sys
from pathlib import Path
from typing import Any, Self

import numpy as np

from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.node import VERSION, Node
from ringwright.errors import StorageError

JOURNALS_KEPT = 12
"""In one folder; the ones longest unused go."""
_PARTS = ("ring", "coupling", "joints", "sky", "metal", "fields")


class SearchJournal:
    """The solutions in one file. Lines that are cut off, or that are of another version, count as not there."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._nodes = dict(_read(path))
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._file = path.open("ab", buffering=0)
            if self._file.tell() > 0:
                self._file.write(b"\n")  # after a line that was cut off
        except OSError as exc:
            raise _refused(path, exc) from exc

    @classmethod
    def of(cls, brief: Brief, folder: Path) -> Self:
        """The one of a brief's site and bands in a folder."""
        base = next(iter(brief.bases.values()))
        name = hashlib.sha256(repr((VERSION, base.site, base.targets)).encode()).hexdigest()[:16]
        _prune(folder, f"{name}.jsonl")
        return cls(folder / f"{name}.jsonl")

    def get(self, key: str) -> Node | None:
        """A solution from before."""
        return self._nodes.get(key)

    def put(self, key: str, node: Node) -> None:
        """Keep a solution; it is on the disk's side when this returns."""
        self._nodes[key] = node
        line = f"{json.dumps(_document(key, node), separators=(',', ':'), allow_nan=False)}\n".encode()
        try:
            if self._file.write(line) != len(line):
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        except OSError as exc:
            raise _refused(self.path, exc) from exc

    def close(self) -> None:
        """No more is kept."""
        self._file.close()


def journal_folder(workspace: Path | None) -> Path:
    """Where solutions are kept: in the workspace that a brief belongs to, else in the person's cache."""
    return _cache() / "searches" if workspace is None else workspace / "searches"


def _cache() -> Path:
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / "ringwright"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / "ringwright"
    return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "ringwright"


def _prune(folder: Path, own: str) -> None:
    try:
        files = sorted(folder.glob("*.jsonl"), key=lambda path: path.stat().st_mtime)
        for path in files[: -(JOURNALS_KEPT - 1)]:
            if path.name != own:
                path.unlink(missing_ok=True)
    except OSError:
        return  # somebody else's search looks after them, too


def _read(path: Path) -> dict[str, Node]:
    try:
        lines = path.read_bytes().split(b"\n")
    except FileNotFoundError:
        return {}
    except OSError as exc:
        raise _refused(path, exc) from exc
    return dict(found for line in lines if (found := _node(line)) is not None)


def _document(key: str, node: Node) -> dict[str, Any]:
    return {
        "v": VERSION,
        "key": key,
        "refusal": node.refusal,
        "outside": _written(np.stack([node.outside.real, node.outside.imag])),
        **{name: _written(getattr(node, name)) for name in _PARTS},
    }


def _written(values: Any) -> list[Any]:
    return [list(values.shape), [float(each) for each in values.ravel()]]


def _node(line: bytes) -> tuple[str, Node] | None:
    try:
        match json.loads(line):
            case {
                "v": version,
                "key": str(key),
                "outside": outside,
                "refusal": None | str() as refusal,
                **parts,
            } if version == VERSION:
                real, imaginary = _array(outside)
                arrays = {name: _array(parts[name]) for name in _PARTS}
                return key, Node(outside=real + 1j * imaginary, refusal=refusal, **arrays)
    except (ValueError, KeyError, TypeError, OverflowError, RecursionError):
        return None
    return None


def _array(written: Any) -> Any:
    shape, values = written
    return np.array(values, dtype=float).reshape(shape)


def _refused(path: Path, exc: OSError) -> StorageError:
    return StorageError(
        f"{path}: solutions cannot be kept there ({exc.strerror}); make room, or mend the folder"
    )
