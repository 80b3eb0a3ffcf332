# SPDX-License-Identifier: BSD-3-Clause
"""Every error the program raises on purpose.

RingwrightError
 +-- OutOfRangeError (ValueError)      a number outside the range a formula or method is valid for
 +-- DesignError (ValueError)          a design that cannot be read or cannot be built
 |    +-- DesignFileError              the same, with the file it came from
 +-- CalibrationError (ValueError)     a layer of what was measured that cannot be made, read or laid over a design
 +-- QuantityError (ValueError)        a text that is not a quantity of the wanted dimension
 +-- WorkspaceError (ValueError)       a folder that cannot be the workspace asked for
 +-- StorageError (OSError)            a disk that is full or fails
 |    +-- RecordError                  a record that is damaged, locked, or of a newer program
 +-- RecordFileError (ValueError)      a folder of plain files that no record can be rebuilt from
 +-- RecordEntryError (ValueError)     something that the record cannot take as it is
 +-- NoSuchEntryError (LookupError)    a band, build or sweep that the record does not hold
 +-- NameRefusedError (ValueError)     a name that no design file in a workspace may have
 +-- NoSuchDesignError (LookupError)   a design file that the workspace does not hold
 +-- StaleDraftError (LookupError)     a draft of a text that is no longer known
 +-- ServerError (OSError)             an address, port or certificate that pages cannot be served with
 +-- SweepFileError (ValueError)       a sweep file that cannot be read
 +-- SweepFitError (ValueError)        a sweep that no resonance can be read from
 +-- TuningTableError (ValueError)     a tuning table, or a pair for it, that cannot be
 +-- ReportFileError (ValueError)      a file of reception reports that cannot be read
 +-- LocatorError (ValueError)         a text that is no locator, or a place that has none
 +-- ReportsError (ValueError)         reports that a question cannot be put to
 +-- LinkMessageError (ValueError)     a line from host or board that is none of ours
 |    +-- LinkVersionError (ValueError)  a line of another version of the protocol
 +-- LinkError (OSError)               a link to a board that cannot be opened
 +-- TunerBusyError (RuntimeError)     a drive that is connected already, or none that is
 +-- MissingLibraryError (ImportError) a library that only this one thing needs
"""


class RingwrightError(Exception):
    """Base of all errors that carry a sentence for the person at the bench."""


class OutOfRangeError(RingwrightError, ValueError):
    """A number is outside the range in which the formula or method is valid."""


class QuantityError(RingwrightError, ValueError):
    """A text does not read as a quantity of the wanted dimension."""


class DesignError(RingwrightError, ValueError):
    """A design cannot be read or cannot be built.

    `key` is the design file's dotted key that the sentence is about ("ring.points[3]"), None if it is about none.
    """

    def __init__(self, message: str, *, key: str | None = None) -> None:
        super().__init__(message)
        self.key = key


class DesignFileError(DesignError):
    """A design file cannot be read; the message starts with the file's name."""

    def __init__(self, source: str, reason: str, *, key: str | None = None) -> None:
        super().__init__(f"{source}: {reason}", key=key)
        self.source, self.reason = source, reason


class CalibrationError(RingwrightError, ValueError):
    """A layer of what was measured cannot be made, read, or laid over a design."""


class WorkspaceError(RingwrightError, ValueError):
    """A folder cannot be the workspace that was asked for."""


class StorageError(RingwrightError, OSError):
    """A disk is full or fails."""


class RecordError(StorageError):
    """The record of a workspace is damaged, locked, not to be written, or of a newer program."""


class RecordFileError(RingwrightError, ValueError):
    """A file of an exported record cannot be read; the message starts with its name and, if any, the line."""

    def __init__(self, source: str, line: int | None, reason: str) -> None:
        super().__init__(f"{source}{'' if line is None else f':{line}'}: {reason}")
        self.source, self.line, self.reason = source, line, reason


class RecordEntryError(RingwrightError, ValueError):
    """The record cannot take an entry as it is."""


class NoSuchEntryError(RingwrightError, LookupError):
    """The record holds no such band, build or sweep."""


class NameRefusedError(RingwrightError, ValueError):
    """A name is none that a design file in a workspace may have."""


class NoSuchDesignError(RingwrightError, LookupError):
    """The workspace holds no design file of that name."""


class StaleDraftError(RingwrightError, LookupError):
    """A draft starts from a text that is no longer known."""


class ServerError(RingwrightError, OSError):
    """Pages cannot be served at that address, port or with that certificate."""


class SweepFileError(RingwrightError, ValueError):
    """A sweep file cannot be read; the message starts with the file's name and the line, None: the whole of it."""

    def __init__(self, source: str, line: int | None, reason: str) -> None:
        super().__init__(f"{source}: {reason}" if line is None else f"{source}:{line}: {reason}")
        self.source, self.line, self.reason = source, line, reason


class SweepFitError(RingwrightError, ValueError):
    """A sweep does not show a resonance that could be measured; the message starts with the file's name."""

    def __init__(self, source: str, reason: str) -> None:
        super().__init__(f"{source}: {reason}")
        self.source, self.reason = source, reason


class TuningTableError(RingwrightError, ValueError):
    """A tuning table cannot be made, or cannot take a measured pair."""


class ReportFileError(RingwrightError, ValueError):
    """A file of reception reports cannot be read; the message starts with the file's name and the line."""

    def __init__(self, source: str, line: int, reason: str) -> None:
        super().__init__(f"{source}:{line}: {reason}")
        self.source, self.line, self.reason = source, line, reason


class LocatorError(RingwrightError, ValueError):
    """A text is no locator, or a place has none."""


class ReportsError(RingwrightError, ValueError):
    """A question cannot be put to these reports."""


class LinkMessageError(RingwrightError, ValueError):
    """A line of the link to a board is none of ours; the message names the field and what was there."""

    def __init__(self, field: str, reason: str, found: object) -> None:
        super().__init__(f"link: {field} {reason}, got {repr(found)[:60]}")
        self.field, self.reason = field, reason


class LinkVersionError(LinkMessageError):
    """A line of the link is of another version of the protocol: board or program is to be updated."""

    def __init__(self, found: int, spoken: int) -> None:
        super().__init__("v", f"must be {spoken}, the protocol version this program speaks", found)
        self.found, self.spoken = found, spoken


class LinkError(RingwrightError, OSError):
    """A link to a board cannot be opened or broke."""


class TunerBusyError(RingwrightError, RuntimeError):
    """A drive is connected already, or none is that could do what was asked."""


class MissingLibraryError(RingwrightError, ImportError):
    """An optional library is not installed, and this needs it."""
