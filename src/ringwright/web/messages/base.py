# SPDX-License-Identifier: BSD-3-Clause
"""What all messages share: no unknown keys, nothing guessed from another type, values a design file can hold."""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field
from typing_extensions import TypeAliasType

LONGEST_TEXT = 1_000_000  # characters; what the reader of design files accepts
_STEP = r"[a-z_][a-z0-9_]*(?:\[[1-9][0-9]{0,2}\])?"
KEY_PATTERN = rf"^{_STEP}(?:\.{_STEP}){{0,3}}$"
NAME_PATTERN = r"^[^\W_](?:[\w .()+-]{0,78}[\w()+-])?$"

Name = Annotated[
    str, Field(pattern=NAME_PATTERN, description="A design file's name in designs/, without `.toml`.")
]
CalibrationName = Annotated[
    str, Field(pattern=r"^[\w ()+-]{1,50}$", description="A layer's name in calibrations/, without `.toml`.")
]
Text = Annotated[str, Field(max_length=LONGEST_TEXT, description="TOML of a design file.")]
Etag = Annotated[
    str, Field(pattern=r"^[0-9a-f]{64}$", description="SHA-256 of a file's bytes; changes with its content.")
]
Key = Annotated[
    str,
    Field(
        pattern=KEY_PATTERN,
        description="A dotted key of the design file, such as `ring.perimeter`; a table of a list by its number in the "
        "file, from 1: `site.people[2].at`.",
    ),
]
Word = Annotated[str, Field(max_length=1000)]
Whole = Annotated[int, Field(ge=-(2**53), le=2**53)]
Number = Annotated[float, Field(allow_inf_nan=False)]
Scalar = bool | Whole | Number | Word
Value = TypeAliasType(
    "Value",
    Annotated[
        Scalar
        | Annotated[list[Scalar | Annotated[list[Scalar], Field(max_length=8)]], Field(max_length=1000)],
        Field(description="A value in the design file's own form: quantities are text with a unit."),
    ],
)
Edits = TypeAliasType(
    "Edits",
    Annotated[
        dict[Key, Value | None],
        Field(
            max_length=200,
            description="What the person changed: dotted key to a value, null to leave the key out of the file. "
            "Numbers past the last of a list make new tables, null for a table itself, `site.people[2]`, leaves it "
            "out, and no number changes before the text is saved.",
        ),
    ],
)


class Message(BaseModel):
    """Base of every message, in and out."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class Base(Message):
    """The text a draft starts from. All null: the built-in start design.

    With `name` and `etag` alone the server uses the file as it read it under that etag; `text` makes the draft
    independent of what the server remembers, and needs no file when `name` is null. `calibration` is the name of a
    layer of what was measured, laid over the draft as far as it is of that ring; whether it is, a prediction says.
    """

    name: Name | None = None
    etag: Etag | None = None
    text: Text | None = None
    calibration: CalibrationName | None = None


class Problem(Message):
    """Why something could not be done, as one sentence for the person.

    `key` is the dotted key the sentence is about, if it is about one. `code` is for programs: `design` (the values
    make no design), `stale` (the server no longer has the text under this etag: send it), `missing` (no such file),
    `refused` (name, size or form not allowed), `storage` (the disk or its permissions), `internal`.
    """

    code: str
    key: str | None
    text: str
