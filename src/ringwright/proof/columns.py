# SPDX-License-Identifier: BSD-3-Clause
"""Which column of a table of a sweep means what: named by a person, and remembered by the table's headings."""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any

from ringwright.errors import SweepFileError
from ringwright.units import shown

FREQUENCY_UNITS: Mapping[str, float] = {"hz": 1.0, "khz": 1e3, "mhz": 1e6, "ghz": 1e9}


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Headings, or numbers counted from 1, of the columns that a person names; None where the heading tells.

    `frequency_unit` is Hz, kHz, MHz or GHz where no heading says it; `reference` [ohm] belongs to S11, return loss
    and SWR.
    """

    frequency: str | int | None = None
    frequency_unit: str | None = None
    resistance: str | int | None = None
    reactance: str | int | None = None
    real: str | int | None = None
    imaginary: str | int | None = None
    magnitude: str | int | None = None
    phase: str | int | None = None
    return_loss: str | int | None = None
    swr: str | int | None = None
    reference: float = 50.0

    @classmethod
    def of(cls, assignments: Sequence[str], *, source: str) -> "Columns":
        """From texts as "swr=3", "frequency=QRG", "frequency_unit=kHz".

        Raises
        ------
        SweepFileError
            If one names no quantity or no unit.
        """
        found: dict[str, Any] = {}
        for text in assignments:
            role, _, heading = (part.strip() for part in text.partition("="))
            is_unit = role == "frequency_unit"
            if role not in {*ROLES, "frequency_unit"} or not heading:
                raise SweepFileError(
                    source,
                    1,
                    f"{shown(text)} names no column; write one of {', '.join(ROLES)}, = and its heading or number",
                )
            if is_unit and heading.casefold() not in FREQUENCY_UNITS:
                raise SweepFileError(
                    source, 1, f"{shown(heading)} is no unit of frequency; it is Hz, kHz, MHz or GHz"
                )
            found[role] = int(heading) if heading.isdecimal() and not is_unit else heading
        return cls(**found)

    def assignments(self) -> list[str]:
        """The texts that `of` reads."""
        said = ((name, getattr(self, name)) for name in (*ROLES, "frequency_unit"))
        return [f"{name}={value}" for name, value in said if value is not None]


ROLES = tuple(field.name for field in fields(Columns) if field.name not in {"frequency_unit", "reference"})
"""What a column may be."""


def remembered(memory: str, head: Sequence[str], *, source: str) -> Columns | None:
    """The columns that were named for such headings before; `memory` is the text that `remember` wrote."""
    try:
        found = json.loads(memory or "{}").get(_fingerprint(head))
        return None if found is None else Columns.of(found, source=source)
    except (ValueError, AttributeError, TypeError):
        return None  # a memory that somebody edited into nonsense costs a question, not the sweep


def remember(memory: str, head: Sequence[str], columns: Columns) -> str:
    """The memory with these columns in it, as text to keep."""
    try:
        known = dict(json.loads(memory or "{}"))
    except (ValueError, TypeError):
        known = {}
    known[_fingerprint(head)] = columns.assignments()
    return json.dumps(known, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def _fingerprint(head: Sequence[str]) -> str:
    """What tells tables of one kind: their headings."""
    return "|".join(" ".join(re.findall(r"[^\W_]+", heading.casefold())) for heading in head)
