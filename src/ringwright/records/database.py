# SPDX-License-Identifier: BSD-3-Clause
"""The SQLite file of a record: opened with care, brought up to date, written in whole transactions only.

What SQLite complains of becomes one sentence here. A process that is killed at any instant leaves the file as it was
before the transaction or as it is after it: write-ahead log, `synchronous=FULL`.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from ringwright.errors import RecordError
from ringwright.records.migrations import APPLICATION, MIGRATIONS

PATIENCE = 5.0
"""Seconds to wait while another program writes."""
OLDEST_SQLITE = (3, 37)
"""The first that holds a table to its types (STRICT)."""

_SETTINGS = ("foreign_keys = ON", "synchronous = FULL", "trusted_schema = OFF", "temp_store = MEMORY")
_LOCKED = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_PROTOCOL}
_FULL = {sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_NOLFS}
_CLOSED = {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH}
_DAMAGED = "is damaged ({}); move it away and rebuild it from an export (ringwright record import)"


class Database:
    """One connection to the file of a record. Not for more than one thread; a second one may open its own."""

    def __init__(self, path: Path) -> None:
        if sqlite3.sqlite_version_info < OLDEST_SQLITE:
            raise RecordError(
                f"records need SQLite {'.'.join(map(str, OLDEST_SQLITE))} or newer, this Python has "
                f"{sqlite3.sqlite_version}; install a newer Python"
            )
        self.path = path
        with self._in_words():
            self._link = sqlite3.connect(
                f"{path.resolve().as_uri()}?mode=rwc", uri=True, timeout=PATIENCE, isolation_level=None
            )
            try:
                self._prepare()
            except BaseException:
                self._link.close()
                raise

    def close(self) -> None:
        self._link.close()

    def rows(self, statement: str, *values: object) -> list[tuple[Any, ...]]:
        """All rows that a question brings."""
        with self._in_words():
            return self._link.execute(statement, values).fetchall()

    def write(self, statement: str, *values: object) -> int:
        """Change something, inside `writing()`; the number of rows changed."""
        assert self._link.in_transaction
        with self._in_words():
            return self._link.execute(statement, values).rowcount

    @contextmanager
    def writing(self) -> Iterator[None]:
        """All that is written inside is kept together or not at all."""
        with self._transaction("IMMEDIATE"):
            yield

    @contextmanager
    def reading(self) -> Iterator[None]:
        """All that is read inside is of one moment."""
        if self._link.in_transaction:
            yield
            return
        with self._transaction("DEFERRED"):
            yield

    @contextmanager
    def _transaction(self, kind: str) -> Iterator[None]:
        with self._in_words():
            self._link.execute(f"BEGIN {kind}")
        try:
            yield
            with self._in_words():
                self._link.execute("COMMIT")
        finally:
            if self._link.in_transaction:
                self._link.execute("ROLLBACK")

    def _prepare(self) -> None:
        """Look before anything is touched: another program's file, or a newer one's, stays as it is."""
        for setting in _SETTINGS:
            self._link.execute(f"PRAGMA {setting}")
        with self.reading():  # another thread may be making the very file: what is seen is of one moment
            version = self._version_found()
        self._link.execute("PRAGMA journal_mode = WAL")
        if 0 < version < len(MIGRATIONS):
            self.copy(self.path.with_name(f"{self.path.name}.version-{version}"))
        while self._number("user_version") < len(MIGRATIONS):
            self._migrate()

    def _version_found(self) -> int:
        """The version of the file as it was found, 0 where it is new and empty."""
        version, application = self._number("user_version"), self._number("application_id")
        if application == APPLICATION and version > len(MIGRATIONS):
            raise self._error(
                f"was written by a newer program (its version {version}, here {len(MIGRATIONS)}); update this one"
            )
        there = _schema(self._link)
        if there or version or application:
            if application != APPLICATION:
                raise self._error("is a database, but not a record of this program; move it away")
            self._check(version, there)
        return version

    def _check(self, version: int, there: set[tuple[str, str]]) -> None:
        problem = self._link.execute("PRAGMA quick_check(1)").fetchone()[0]
        if problem != "ok":
            raise self._error(_DAMAGED.format(problem.replace("\n", " ")))
        missing = _schema_of_version(version) - there
        if missing:
            raise self._error(_DAMAGED.format(f"{min(missing)[0]} is missing or altered"))

    def _migrate(self) -> None:
        """The next step, unless another process has just taken it."""
        with self.writing():
            version = self._number("user_version")
            if version < len(MIGRATIONS):
                for statement in MIGRATIONS[version]:
                    self._link.execute(statement)
                self._link.execute(f"PRAGMA application_id = {APPLICATION}")
                self._link.execute(f"PRAGMA user_version = {version + 1}")

    def copy(self, to: Path) -> None:
        """The file as it is now, beside it or anywhere; before a step, what a wrong one would cost."""
        copy = sqlite3.connect(to)
        try:
            self._link.backup(copy)
        finally:
            copy.close()

    def _number(self, setting: str) -> int:
        return int(self._link.execute(f"PRAGMA {setting}").fetchone()[0])

    def _error(self, what: str) -> RecordError:
        return RecordError(f"{self.path} {what}")

    @contextmanager
    def _in_words(self) -> Iterator[None]:
        """Whatever SQLite complains of, as a sentence that says what to do."""
        try:
            yield
        except sqlite3.DatabaseError as exc:
            code = getattr(exc, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF  # the rest is detail
            if code in _LOCKED:
                raise self._error("is being written by another program; try again when that is done") from exc
            if code in _FULL:
                raise self._error(f"cannot be written ({exc}); make room on the disk and try again") from exc
            if code in _CLOSED:
                raise self._error(
                    f"cannot be opened for writing ({exc}); check the folder's permissions"
                ) from exc
            if code in {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB}:
                raise self._error(_DAMAGED.format(exc)) from exc
            raise


def _schema(link: sqlite3.Connection) -> set[tuple[str, str]]:
    """Tables and indices with the statements that made them; those SQLite makes by itself have none."""
    return set(link.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL"))


def _schema_of_version(version: int) -> set[tuple[str, str]]:
    link = sqlite3.connect(":memory:")
    try:
        for step in MIGRATIONS[:version]:
            for statement in step:
                link.execute(statement)
        return _schema(link)
    finally:
        link.close()
