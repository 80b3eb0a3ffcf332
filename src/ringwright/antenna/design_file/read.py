# SPDX-License-Identifier: BSD-3-Clause
"""From a file or text to a `Design`. Whatever is wrong ends as one sentence in a `DesignError`."""

import stat
import tomllib
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from ringwright.antenna.design import CouplingKind, Design
from ringwright.antenna.design_file.convert import to_design
from ringwright.antenna.design_file.models import DesignTable
from ringwright.antenna.design_file.sentences import sentence
from ringwright.antenna.geometry import build_wires
from ringwright.errors import DesignError, DesignFileError, NotYetBuiltError

_LARGEST = 1_000_000  # bytes; a design is a page of text


def load_design(path: str | Path) -> Design:
    """Read a design file."""
    source = str(path)
    try:
        status = Path(path).stat()
        if stat.S_ISDIR(status.st_mode):
            raise DesignFileError(source, "is a folder; name a design file (.toml)")
        if not stat.S_ISREG(status.st_mode):
            raise DesignFileError(source, "is not a plain file; name a design file (.toml)")
        if status.st_size > _LARGEST:
            raise DesignFileError(source, f"has {status.st_size} bytes; a design file has at most {_LARGEST}")
        content = Path(path).read_bytes()
    except FileNotFoundError as exc:
        raise DesignFileError(
            source, "there is no such file; check the name or write one with `ringwright new`"
        ) from exc
    except (OSError, ValueError) as exc:  # ValueError: a path with a NUL in it
        raise DesignFileError(source, f"cannot be read ({getattr(exc, 'strerror', None) or exc})") from exc
    try:
        text = content.decode("utf-8-sig")  # some editors put a byte order mark first
    except UnicodeDecodeError as exc:
        raise DesignFileError(source, f"is not UTF-8 text (byte {exc.start}); save it as UTF-8") from exc
    return parse_design(text, source=source)


def parse_design(text: str, *, source: str) -> Design:
    """Read a design from the text of a file; `source` is what messages call it."""
    try:
        raw = _toml(text)
        _refuse_what_comes_later(raw, source)
        design = to_design(DesignTable.model_validate(raw))
        build_wires(design)
    except ValidationError as exc:
        raise DesignFileError(source, sentence(exc)) from exc
    except NotYetBuiltError:
        raise
    except DesignError as exc:
        raise DesignFileError(source, str(exc)) from exc
    return design


def _toml(text: str) -> dict[str, Any]:
    if len(text) > _LARGEST:
        raise DesignError(f"the text has {len(text)} characters; a design has at most {_LARGEST}")
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise DesignError(
            "the text is nested too deeply; a design has tables and lists of points only"
        ) from None
    except ValueError as exc:  # includes tomllib's own error, and integers beyond Python's limit of digits
        raise DesignError(
            f'this is not TOML: {str(exc)[:200].rstrip(".")}; text and quantities stand in quotes, as in power = "25 W"'
        ) from exc


def _refuse_what_comes_later(raw: dict[str, Any], source: str) -> None:
    """Said before anything else, since these kinds have keys of their own."""
    coupling = raw.get("coupling")
    kind = coupling.get("kind") if isinstance(coupling, dict) else None
    if kind in (CouplingKind.TAPPED.value, CouplingKind.TRANSFORMER.value):
        raise NotYetBuiltError(
            f'{source}: coupling.kind = "{kind}" comes with a later version; write kind = "loop" for now'
        )
