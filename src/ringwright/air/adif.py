# SPDX-License-Identifier: BSD-3-Clause
"""Logs in ADIF, the tagged form (.adi), read strictly: ADIF 3.1.7 (2026), section "ADI data format".

Every record is accounted for: one that is cut, or whose lengths do not fit its data, is a row with the reason and the
place. Unknown fields are passed over; comments between fields are too, as the specification says.
"""

import re
from collections.abc import Iterator, Mapping
from itertools import count

from ringwright.air.adif_fields import report_of
from ringwright.air.reports import ReadRow, ReadRows
from ringwright.errors import ReportFileError
from ringwright.units import shown

_TAG = re.compile(rb"<\s*([A-Za-z0-9_]+)\s*(?::\s*(\d{1,9})\s*(?::[^<>]{0,20})?)?>")
_END_OF_HEADER = re.compile(rb"<eoh>", re.IGNORECASE)
_END_OF_RECORD = re.compile(rb"<eor>", re.IGNORECASE)
_TAG_INSIDE = re.compile(r"<[A-Za-z0-9_]+(?::\d+)?>")
_SHOWN_TAG = 20


class _CutError(Exception):
    """Why a record cannot be read, and where it stops."""

    def __init__(self, at: int, reason: str) -> None:
        super().__init__(reason)
        self.at = at


def read_adif(content: bytes, *, source: str) -> ReadRows:
    """The records of a file, one by one.

    Raises
    ------
    ReportFileError
        If it holds no tag at all.
    """
    content = content.removeprefix(b"\xef\xbb\xbf")
    if not _TAG.search(content):
        raise ReportFileError(
            source, 1, "there is no ADIF field in it, as in <CALL:6>QX1ABC; export the log again"
        )
    header = _END_OF_HEADER.search(content)
    # The specification: a file that starts with a tag has no header.
    start = header.end() if header and not content.startswith(b"<") else 0
    if header and start == 0 and not _END_OF_RECORD.search(content, 0, header.start()):
        start = header.end()
    return _records(content, start)


def _records(content: bytes, start: int) -> Iterator[ReadRow]:
    line, counted = content.count(b"\n", 0, start) + 1, start
    for row in count(1):
        first = content.find(b"<", start)
        if first < 0:
            if content[start:].strip():
                line += content.count(b"\n", counted, start)
                yield ReadRow(row, line, f"byte {start}: the text after the last record holds no field")
            return
        line, counted = line + content.count(b"\n", counted, first), first
        try:
            found, start = _record(content, first)
            yield ReadRow(row, line, report_of(found))
        except _CutError as exc:
            end = _END_OF_RECORD.search(content, first)
            start = end.end() if end else len(content)
            where = line + content.count(b"\n", counted, exc.at)
            yield ReadRow(row, line, f"line {where}, byte {exc.at}: {exc}")
        if not content[start : start + 4096].strip() and not content[start:].strip():
            return


def _record(content: bytes, at: int) -> tuple[Mapping[str, str], int]:
    """Fields by name in capitals, and where the record ends."""
    found: dict[str, str] = {}
    while True:
        at = content.find(b"<", at)
        if at < 0:
            raise _CutError(len(content), "the record is cut off: its <EOR> is missing")
        tag = _TAG.match(content, at)
        if tag is None:
            raise _CutError(at, f"{_quoted(content, at)} is no field; write it as in <CALL:6>QX1ABC")
        name = tag[1].decode().upper()
        if name == "EOR":
            return found, tag.end()
        if tag[2] is None:
            raise _CutError(at, f"field {name} says no length")
        value, at = _value(content, tag.end(), length=int(tag[2]), name=name)
        if name in found:
            raise _CutError(at, f"field {name} stands twice in the record")
        found[name] = value


def _value(content: bytes, at: int, *, length: int, name: str) -> tuple[str, int]:
    data = content[at : at + length]
    if not data.isascii():
        # The length counts characters; where a program wrote more than ASCII, UTF-8 is the only reading that fits.
        data = content[at : at + 4 * length].decode("utf-8", errors="replace")[:length].encode()
    if len(data) < length:
        raise _CutError(
            at, f"field {name} announces {length} characters, {len(data)} are left: the file is cut off"
        )
    text, end = data.decode(errors="replace"), at + len(data)
    if _TAG_INSIDE.search(text):
        raise _CutError(
            at, f"field {name} announces {length} characters and so swallows the next field; correct it"
        )
    following = content[end : end + 1]
    if following not in {b"", b"<"} and not following.isspace():
        raise _CutError(
            at, f"field {name} announces {length} characters, but its data goes on; correct the length"
        )
    return text.strip(), end


def _quoted(content: bytes, at: int) -> str:
    return shown(content[at : at + _SHOWN_TAG].decode(errors="replace").split("\n")[0])
