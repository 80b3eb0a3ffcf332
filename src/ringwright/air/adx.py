# SPDX-License-Identifier: BSD-3-Clause
"""Logs in ADIF, the XML form (.adx), read strictly: ADIF 3.1.7 (2026), section "ADX data format".

A document type is refused before anything in it is read, so that there are no entities to expand and no files to fetch.
A file that breaks off or is no XML from some place on keeps the records before it, and the broken one is a row.
"""

from itertools import count
from xml.parsers import expat

from ringwright.air.adif_fields import report_of
from ringwright.air.reports import ReadRow, ReadRows
from ringwright.errors import ReportFileError

_CHUNK = 1 << 20
_DEPTH_OF_RECORD, _DEPTH_OF_FIELD = 3, 4  # ADX > RECORDS > RECORD > CALL


class _DoctypeError(Exception):
    """The document has a type declaration."""


class _Records:
    """What expat calls; finished records lie in `done`."""

    def __init__(self, parser: expat.XMLParserType) -> None:
        self._parser = parser
        self._path: list[str] = []
        self._text: list[str] = []
        self._fields: dict[str, str] = {}
        self._rows, self._line, self._twice = count(1), 1, ""
        self.done: list[ReadRow] = []
        self.root: str | None = None
        parser.buffer_text = True
        parser.StartDoctypeDeclHandler = self._doctype
        parser.StartElementHandler, parser.EndElementHandler = self._start, self._end
        parser.CharacterDataHandler = self._text.append

    def broken(self, reason: str) -> None:
        """A row for what cannot be read."""
        line = self._line if len(self._path) >= _DEPTH_OF_RECORD else self._parser.CurrentLineNumber
        self.done.append(ReadRow(next(self._rows), line, reason))

    def _doctype(self, *_: object) -> None:
        raise _DoctypeError

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        if self.root is None:
            self.root = name.upper()
        self._path.append(
            attributes.get("FIELDNAME", name).upper() if name.upper() == "USERDEF" else name.upper()
        )
        if self._is_record():
            self._fields, self._twice, self._line = {}, "", self._parser.CurrentLineNumber
        self._text.clear()

    def _end(self, _: str) -> None:
        if len(self._path) == _DEPTH_OF_FIELD and self._path[1] == "RECORDS":
            name = self._path[-1]
            self._twice = name if name in self._fields and name != "APP" else self._twice
            self._fields[name] = "".join(self._text).strip()
        elif self._is_record():
            says = (
                f"field {self._twice} stands twice in the record" if self._twice else report_of(self._fields)
            )
            self.done.append(ReadRow(next(self._rows), self._line, says))
        self._path.pop()
        self._text.clear()

    def _is_record(self) -> bool:
        return len(self._path) == _DEPTH_OF_RECORD and self._path[1:] == ["RECORDS", "RECORD"]


def read_adx(content: bytes, *, source: str) -> ReadRows:
    """The records of a file, one by one.

    Raises
    ------
    ReportFileError
        If it is no ADX, or has a document type.
    """
    parser = expat.ParserCreate()
    records = _Records(parser)
    for start in range(0, max(len(content), 1), _CHUNK):
        chunk = content[start : start + _CHUNK]
        try:
            parser.Parse(chunk, start + _CHUNK >= len(content))
        except _DoctypeError:
            raise ReportFileError(
                source, parser.CurrentLineNumber, "the file has a document type, which ADX has not; delete it"
            ) from None
        except (LookupError, ValueError) as exc:  # what Python says of the XML declaration's encoding
            raise ReportFileError(
                source, 1, f"the file says that it is written in an unknown way ({exc}); save it as UTF-8"
            ) from exc
        except expat.ExpatError as exc:
            if records.root is None:
                raise ReportFileError(
                    source, exc.lineno, f"the file is no ADX ({exc}); export the log again"
                ) from exc
            records.broken(
                f"line {exc.lineno}, column {exc.offset}: the file cannot be read on from here ({exc})"
            )
            yield from records.done
            return
        if records.root not in {None, "ADX"}:
            raise ReportFileError(
                source, 1, f"its outermost element is {records.root}, not ADX; export the log again"
            )
        yield from records.done
        records.done.clear()
