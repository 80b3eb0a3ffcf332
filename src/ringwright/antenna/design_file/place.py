# SPDX-License-Identifier: BSD-3-Clause
"""Which defaults a design used, each as "key = value (why)"."""

from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Self

from ringwright.antenna.design_file.models import Table


@dataclass(frozen=True, slots=True)
class Place:
    """A table's place in the file, and the notes on defaults that all places of one file share."""

    prefix: str = ""
    notes: list[str] = field(default_factory=list)

    def key(self, name: str) -> str:
        """The dotted path of a key in this table, as messages show it."""
        return f"{self.prefix}.{name}" if self.prefix else name

    def under(self, name: str) -> Self:
        """The place of a table in this table."""
        return type(self)(self.key(name), self.notes)

    def note(self, name: str, value: object, why: str) -> None:
        """Record one default as it would stand in the file."""
        self.notes.append(f"{self.key(name)} = {value} ({why})")

    def note_unset(self, table: Table, *, but: Collection[str] = ()) -> None:
        """Record every default with a reason that this table's keys fell back to, `but` those that play no part."""
        for name, info in type(table).model_fields.items():
            extra = info.json_schema_extra
            if name not in but and name not in table.model_fields_set and isinstance(extra, dict):
                self.note(name, info.default, str(extra["why"]))
