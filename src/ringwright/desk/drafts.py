# SPDX-License-Identifier: BSD-3-Clause
"""Drafts: a text and what the person changed of it, not saved; and texts as they were when they were opened."""

import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import Any

from ringwright.antenna.design import Design
from ringwright.antenna.design_file import design_of, read_tables
from ringwright.desk.design_folder import etag_of
from ringwright.desk.edits import Edits, Value, plain_values, with_edits
from ringwright.errors import DesignError

TEXTS_KEPT = 64


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """The text a draft starts from: a file as read under an etag, a text, or (all None) the built-in start.

    `calibration` is the name of a layer to be laid over the draft, as far as it is of that ring.
    """

    name: str | None = None
    etag: str | None = None
    text: str | None = None
    calibration: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A base and the edits of it."""

    base: Base = field(default_factory=Base)
    edits: Edits = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenDesign:
    """A text, what it sets by dotted key, and its design's own name; `problem` says why it makes no design."""

    name: str
    text: str
    values: dict[str, Value]
    title: str | None
    problem: DesignError | None

    @property
    def etag(self) -> str:
        return etag_of(self.text)


def opened(name: str, text: str) -> OpenDesign:
    """A text looked at as a design, whether it is one or not."""
    tables: dict[str, Any] = {}
    problem = None
    try:
        tables = read_tables(text)
        design_of(tables)
    except DesignError as exc:
        problem = exc
    title = tables.get("name")
    return OpenDesign(
        name=name,
        text=text,
        values=plain_values(tables),
        title=title if isinstance(title, str) else None,
        problem=problem,
    )


def drafted_design(text: str, edits: Edits) -> Design:
    """The design that a text with edits makes."""
    return design_of(with_edits(read_tables(text), edits))


class KeptTexts:
    """Texts by etag, the most recently used ones, so that a draft of an older text can still be predicted."""

    def __init__(self) -> None:
        self._texts: OrderedDict[str, str] = OrderedDict()
        self._lock = threading.Lock()

    def keep(self, text: str) -> None:
        with self._lock:
            self._texts[etag_of(text)] = text
            if len(self._texts) > TEXTS_KEPT:
                self._texts.popitem(last=False)

    def get(self, etag: str) -> str | None:
        with self._lock:
            if etag in self._texts:
                self._texts.move_to_end(etag)
            return self._texts.get(etag)
