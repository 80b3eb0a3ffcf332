# SPDX-License-Identifier: BSD-3-Clause
"""Bodies of the HTTP API below `/api/v1`."""

from typing import Annotated, Literal

from pydantic import Field

from ringwright.web.messages.base import Base, Edits, Message, Problem, Text, Value

Values = Annotated[
    dict[str, Value],
    Field(
        description="Every key the text sets, dotted, in the design file's own form; tables of lists by their number "
        "from 1, `site.people[2].at`."
    ),
]


class Health(Message):
    status: Literal["ok"]
    api: Literal[1]
    version: str
    instance: str
    workspace: str


class DesignEntry(Message):
    """A design file in the workspace. `title` is the design's own name; it and `etag` are null where the file's text
    cannot be read, and `problem` says why it makes no design, if it makes none."""

    name: str
    etag: str | None
    title: str | None
    problem: Problem | None


class DesignList(Message):
    """The design files; `newest` was written last of those that make a design, null where none does."""

    workspace: str
    designs: list[DesignEntry]
    newest: str | None


class DesignText(Message):
    """A design file as it stands; `problem` says why it makes no design, if it makes none."""

    name: str
    etag: str
    text: str
    values: Values
    problem: Problem | None


class Slider(Message):
    """A number the person may drag: from `low` to `high` in `unit`, in steps that follow `digits` after the point.

    `unit` is null for a bare number. The values are what is handy, not what is allowed.
    """

    key: str
    label: str
    unit: str | None
    low: float
    high: float
    digits: int
    is_logarithmic: bool


class Choice(Message):
    """A key with a fixed set of words; `is_multiple` where its value is a list of them."""

    key: str
    label: str
    options: list[str]
    is_multiple: bool


class StartDraft(Message):
    """The built-in design a page starts from, and the controls a page may offer for any design."""

    name: str
    text: str
    etag: str
    values: Values
    sliders: list[Slider]
    choices: list[Choice]


class SaveRequest(Message):
    """Save a draft under the name in the address.

    `edits` are written into the text the draft is based on, comments kept; or `text` replaces all of it. With
    `base.name` equal to the name, the file is changed: if it is no longer the one under `base.etag`, edits of other
    keys than were changed there are merged, else nothing is written and the answer is a conflict. With any other
    `base.name`, or none, the file is new and must not exist yet.
    """

    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    text: Text | None = None


class Saved(Message):
    """Written. `is_merged`: somebody else's change of other keys was kept beside yours."""

    outcome: Literal["saved"]
    name: str
    etag: str
    text: str
    is_merged: bool


class Conflict(Message):
    """Nothing was written. `theirs` is the file as it stands now, `yours` your draft; `keys` are those in dispute."""

    outcome: Literal["conflict"]
    name: str
    etag: str
    theirs: str
    yours: str
    keys: list[str]


class FigureEntry(Message):
    """A figure of the table of figures: what it is, where it comes from, how far it holds.

    `key` is the dotted path below a band of the prediction document. Shown is the value times `factor` in
    `shown_unit`, with `digits` significant digits (after the point for dBi and deg). `inputs` are keys of other
    figures, or keys and tables of the design file. `limit` is the length of one turn in wavelengths up to which a
    closed form holds.
    """

    key: str
    label: str
    unit: str
    shown_unit: str
    factor: float
    digits: int
    definition: str
    formula: str
    inputs: list[str]
    source: str
    validity: str
    limit: float | None


class FigureTable(Message):
    figures: list[FigureEntry]
