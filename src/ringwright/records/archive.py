# SPDX-License-Identifier: BSD-3-Clause
"""An exported record as one file, for a way that takes no folders: packed into a zip archive, and unpacked with care.

Nothing is taken from an archive's word: only plain names in the two folders of an export, no more bytes than stated
here, and what came out is read as any other export is.
"""

import lzma
import struct
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from ringwright.errors import RecordFileError
from ringwright.records.sweep_files import SWEEPS, safe_name

LARGEST_UNPACKED = 1_000_000_000
"""[bytes] of all files together: ten thousand long sweeps."""
MOST_FILES = 100_000
_PIECE = 1 << 20
# Besides the first, each is met where the module trusts a place, a length or a name that a damaged archive states.
# RuntimeError: encrypted, or packed in a way this Python does not know; OSError: a place before the file's beginning.
_BROKEN = (
    zipfile.BadZipFile, zlib.error, lzma.LZMAError, struct.error, EOFError, RuntimeError, ValueError, IndexError,
    OverflowError, OSError,
)  # fmt: skip
_LONGEST_WHY = 120
"""Characters of why: some of these errors quote as much as stands in the archive."""
_OTHER = "is no export of a record; choose the file that the page or a zip program made of one"


def pack(folder: Path, to: Path) -> None:
    """Put an exported folder into a new archive, under the folder's own name."""
    with zipfile.ZipFile(to, "x", compression=zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(folder.rglob("*")):
            if path.is_file():
                archive.write(path, PurePosixPath(folder.name, path.relative_to(folder).as_posix()))


def unpack(file: Path, to: Path) -> None:
    """Take an archive's files out into an empty folder, whether they lie in a folder there or not.

    Raises
    ------
    RecordFileError
        If it is no archive, is damaged, too large, or holds what no export holds.
    """
    try:
        archive = zipfile.ZipFile(file)
    except _BROKEN as exc:
        raise _damaged(exc) from exc
    with archive:
        places = _places(archive)
        (to / SWEEPS).mkdir()
        left = LARGEST_UNPACKED
        for member, place in places.items():
            left -= _copy(archive, member, to / place, most=left)


def _damaged(exc: Exception) -> RecordFileError:
    return RecordFileError(
        "the archive", None, f"cannot be unpacked ({str(exc)[:_LONGEST_WHY]}); export again"
    )


def _places(archive: zipfile.ZipFile) -> dict[zipfile.ZipInfo, PurePosixPath]:
    """Every file of the archive with its place in an export."""
    members = archive.infolist()
    if not all(PurePosixPath(member.filename).name for member in members):
        raise RecordFileError("the archive", None, _OTHER)
    files = [member for member in members if not member.is_dir()]
    if not files or len(files) > MOST_FILES:
        raise RecordFileError("the archive", None, _OTHER)
    paths = [PurePosixPath(member.filename) for member in files]
    tops = {path.parts[0] for path in paths}
    is_wrapped = len(tops) == 1 and tops != {SWEEPS} and all(len(path.parts) > 1 for path in paths)
    places = [PurePosixPath(*path.parts[1:]) if is_wrapped else path for path in paths]
    if not all(map(_is_plain, places)) or len(set(places)) < len(places):
        raise RecordFileError("the archive", None, _OTHER)
    return dict(zip(files, places, strict=True))


def _is_plain(place: PurePosixPath) -> bool:
    """Whether it is a file of the export or of its sweeps/, by a name that leads nowhere else."""
    *folders, name = place.parts
    return folders in ([], [SWEEPS]) and safe_name(name) == name


def _copy(archive: zipfile.ZipFile, member: zipfile.ZipInfo, to: Path, *, most: int) -> int:
    """Unpack one file; how many bytes it has."""
    size = 0
    with to.open("xb") as target:
        for piece in _pieces(archive, member):
            size += len(piece)
            if size > most:
                raise RecordFileError(
                    "the archive", None, f"is larger than {LARGEST_UNPACKED / 1e6:.0f} MB unpacked"
                )
            target.write(piece)
    return size


def _pieces(archive: zipfile.ZipFile, member: zipfile.ZipInfo) -> Iterator[bytes]:
    """A file's bytes as they come out; what fails here is the archive, not the disk that they go to."""
    try:
        with archive.open(member) as source:
            while piece := source.read(_PIECE):
                yield piece
    except _BROKEN as exc:
        raise _damaged(exc) from exc
