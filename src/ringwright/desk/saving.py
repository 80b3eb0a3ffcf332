# SPDX-License-Identifier: BSD-3-Clause
"""Saving a draft so that nobody's edit is lost: written, merged with what others changed, or shown as a conflict."""

from dataclasses import dataclass

from ringwright.antenna.design_file import design_of, read_tables
from ringwright.desk.design_folder import DesignFolder, FileChangedMeanwhileError, etag_of
from ringwright.desk.edited_text import text_with_edits
from ringwright.desk.edits import Edits, changed_keys, flat, overlap
from ringwright.errors import DesignError, StorageError

TRIES = 5
"""How often a file may change under the writer's hand before it gives up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """Written as `text`; `is_merged` where another's change of other keys was kept beside ours."""

    name: str
    text: str
    is_merged: bool

    @property
    def etag(self) -> str:
        return etag_of(self.text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Nothing written: the file holds `theirs`, the draft would make it `yours`; `keys` are in dispute."""

    name: str
    theirs: str
    yours: str
    keys: tuple[str, ...]

    @property
    def etag(self) -> str:
        return etag_of(self.theirs)


def save(
    folder: DesignFolder, name: str, *, ancestor: str | None, edits: Edits | None, yours: str
) -> Saved | Conflict:
    """Save `yours`, a draft of the file's text `ancestor`; None: of no file of this name, so that it must be new.

    `edits` are what the draft changed, by key; None: the draft replaces the whole text.

    Raises
    ------
    DesignError
        If the draft makes no design.
    StorageError
        If it cannot be written.
    """
    design_of(read_tables(yours))
    for _ in range(TRIES):
        theirs = folder.read_if_there(name)
        outcome = _settle(name, ancestor=ancestor, theirs=theirs, edits=edits, yours=yours)
        if isinstance(outcome, Conflict) or outcome.text == theirs:
            return outcome
        try:
            folder.write(name, outcome.text, over=theirs)
        except FileChangedMeanwhileError:
            continue
        return outcome
    raise StorageError(f"{name}.toml keeps changing; nothing was written, try again")


def _settle(
    name: str, *, ancestor: str | None, theirs: str | None, edits: Edits | None, yours: str
) -> Saved | Conflict:
    """What to write, given what the file holds now."""
    if theirs is None or theirs in (ancestor, yours):
        return Saved(name=name, text=yours, is_merged=False)
    try:
        if ancestor is not None and edits is not None:
            return _merge(name, ancestor=ancestor, theirs=theirs, edits=edits, yours=yours)
        disputed = changed_keys(read_tables(theirs), read_tables(yours))
    except DesignError:  # the file cannot be read as it stands, or both changes together make no design
        disputed = set(edits or ())
    return Conflict(name=name, theirs=theirs, yours=yours, keys=tuple(sorted(disputed)))


def _merge(name: str, *, ancestor: str, theirs: str, edits: Edits, yours: str) -> Saved | Conflict:
    """The edits in their text, unless both changed the same key to different values."""
    there = read_tables(theirs)
    changed, values = changed_keys(read_tables(ancestor), there), dict(flat(there))
    disputed = [
        key
        for key, value in edits.items()
        if values.get(key) != value and any(overlap(key, other) for other in changed)
    ]
    if disputed:
        return Conflict(name=name, theirs=theirs, yours=yours, keys=tuple(sorted(disputed)))
    merged = text_with_edits(theirs, edits)
    design_of(read_tables(merged))
    return Saved(name=name, text=merged, is_merged=True)
