# SPDX-License-Identifier: BSD-3-Clause
"""From a file or text to a `Design`. Whatever is wrong ends as one sentence in a `DesignError`."""

import re
import stat
import tomllib
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from ringwright.antenna.design import Design
from ringwright.antenna.design_file.convert import to_design
from ringwright.antenna.design_file.models import DesignTable
from ringwright.antenna.design_file.sentences import leading_key, refusal
from ringwright.antenna.geometry import build_wires
from ringwright.errors import DesignError, DesignFileError

OF_A_BRIEF = frozenset({"room", "limits", "weights", "grid"})
"""Tables that a brief may have and a design never has."""
_LARGEST = 1_000_000  # bytes; a design is a page of text
_PART = r"""(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*"""
# The TOML reader takes seconds over keys of thousands of parts; a design's longest has four.
_DEEP_KEY = re.compile(rf"(?<![\w-]){_PART}(?:{_PART}){{15}}", re.ASCII)


def load_design(path: str | Path) -> Design:
    """Read a design file."""
    return parse_design(read_text(path), source=str(path))


def read_text(path: str | Path, *, what: str = "design") -> str:
    """The text of a design file, whether it describes a design or not; `what` it is called in a refusal."""
    source = str(path)
    content = _bytes_of(Path(path), source, what)
    try:
        return content.decode("utf-8-sig")  # some editors put a byte order mark first
    except UnicodeDecodeError as exc:
        raise DesignFileError(source, f"is not UTF-8 text (byte {exc.start}); save it as UTF-8") from exc


def parse_design(text: str, *, source: str) -> Design:
    """Read a design from the text of a file; `source` is what messages call it."""
    try:
        return design_of(read_tables(text))
    except DesignError as exc:
        raise DesignFileError(source, str(exc), key=exc.key) from exc


def design_of(tables: dict[str, Any]) -> Design:
    """The design that a file's tables describe; a `DesignError` names its key."""
    if OF_A_BRIEF & tables.keys() and not tables.keys() & {"ring", "capacitor"}:
        raise DesignError("this is a brief, not a design; `ringwright search` finds rings for it")
    try:
        design = to_design(DesignTable.model_validate(tables))
        build_wires(design)
    except ValidationError as exc:
        raise refusal(exc) from exc
    except DesignError as exc:
        exc.key = exc.key or leading_key(str(exc))
        raise
    return design


def _bytes_of(path: Path, source: str, what: str) -> bytes:
    try:
        status = path.stat()
        if stat.S_ISREG(status.st_mode) and status.st_size <= _LARGEST:
            return path.read_bytes()
    except FileNotFoundError as exc:
        raise DesignFileError(source, "there is no such file; check its name and folder") from exc
    except (OSError, ValueError) as exc:  # ValueError: a NUL in the path
        reason = exc.strerror if isinstance(exc, OSError) and exc.strerror else str(exc)
        raise DesignFileError(source, f"cannot be read ({reason}); check its name and permissions") from exc
    if stat.S_ISDIR(status.st_mode):
        raise DesignFileError(source, f"is a folder; name a {what} file (.toml)")
    if not stat.S_ISREG(status.st_mode):
        raise DesignFileError(source, f"is not a plain file; name a {what} file (.toml)")
    raise DesignFileError(source, f"has {status.st_size} bytes; a {what} file has at most {_LARGEST}")


def read_tables(text: str) -> dict[str, Any]:
    """The tables of a design file's text, values as they stand there."""
    if len(text) > _LARGEST:
        raise DesignError(f"the text has {len(text)} characters; a design has at most {_LARGEST}")
    if _DEEP_KEY.search(text):
        raise DesignError("a key has more than 15 dots; a design's keys look like ring.conductor.diameter")
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise DesignError(
            "the text is nested too deeply; a design has tables and lists of points only"
        ) from None
    except tomllib.TOMLDecodeError as exc:
        raise DesignError(
            f'this is not TOML: {str(exc)[:200]}; text and quantities stand in quotes, as in power = "25 W"'
        ) from exc
    except ValueError as exc:  # Python's limit on the digits of a whole number
        raise DesignError("a whole number has thousands of digits; write a shorter one") from exc
