# SPDX-License-Identifier: BSD-3-Clause
"""The lines of an exported record, one JSON object each, and how they are held to their form when they come back."""

from typing import Annotated, Any, Final, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from ringwright.air.report_bands import BAND_NAMES
from ringwright.errors import RecordEntryError
from ringwright.records.entries import (
    NoteKind,
    kept_label,
    kept_table_name,
    kept_temperature,
    kept_text,
    moment_of,
    moment_text,
)
from ringwright.records.sweep_files import safe_name
from ringwright.records.tuning import Outcome

EXPORT_SCHEMA: Final = "ringwright.records/1"
CONTENTS = "record.json"


def _moment(text: str) -> str:
    if moment_text(moment_of(text)) != text:
        raise RecordEntryError("a moment is written as in 2026-05-01T16:30:00Z")
    return text


def _plain_name(name: str) -> str:
    if safe_name(name) != name:
        raise RecordEntryError("is no plain file name")
    return name


def _kept(text: str) -> str:
    if kept_text(text, what="the text") != text:
        raise RecordEntryError("the text is not in the form in which texts are kept")
    return text


def _kept_label(label: str) -> str:
    if kept_label(label, what="name") != label:
        raise RecordEntryError("the name is not in the form in which names are kept")
    return label


def _kept_table_name(name: str) -> str:
    if kept_table_name(name) != name:
        raise RecordEntryError("the name is not in the form in which names are kept")
    return name


def _band(name: str) -> str:
    if name not in BAND_NAMES:
        raise RecordEntryError("is no band")
    return name


Checksum = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
Label = Annotated[str, AfterValidator(_kept_label)]
TableName = Annotated[str, AfterValidator(_kept_table_name)]
Moment = Annotated[str, AfterValidator(_moment)]
Text = Annotated[str, AfterValidator(_kept)]


class Line(BaseModel):
    """One line of a file."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, allow_inf_nan=False)


class DesignLine(Line):
    sha256: Checksum
    text: str


class SweepLine(Line):
    """`is_there` tells whether the original lies in the export's `sweeps/`; it was lost before if not."""

    sha256: Checksum
    file: Annotated[str, AfterValidator(_plain_name)]
    name_given: str
    size: Annotated[int, Field(ge=0, lt=2**63)]
    measured_at: Moment
    band: Label | None
    build: Label | None
    temperature_degc: Annotated[float, AfterValidator(kept_temperature)] | None
    note: Text
    is_there: bool


class ResultLine(Line):
    sweep: Checksum
    design: Checksum
    schema_name: Annotated[Literal["ringwright.record.result/1"], Field(alias="schema")]
    result: dict[str, Any]


class NoteLine(Line):
    at: Moment
    kind: Annotated[NoteKind, Field(strict=False)]
    text: Annotated[Text, Field(min_length=1)]


class PairLine(Line):
    position: Annotated[int, Field(gt=-(2**63), lt=2**63)]
    frequency_hz: Annotated[float, Field(gt=0)]
    spread_hz: Annotated[float, Field(gt=0)]
    temperature_degc: float | None
    at: Moment
    site: str


class TableLine(Line):
    """A tuning table: its pairs, and the site where the antenna stands."""

    name: TableName
    site: str
    pairs: list[PairLine]


class TuningLine(Line):
    """A tuning; `document` holds what was found and the trace."""

    at: Moment
    design: Checksum
    table: TableName
    band: Label | None
    frequency_hz: Annotated[float, Field(gt=0)]
    outcome: Annotated[Outcome, Field(strict=False)]
    schema_name: Annotated[Literal["ringwright.record.tuning/1"], Field(alias="schema")]
    document: dict[str, Any]


class ReportLine(Line):
    """A reception report; place, SNR and power null, names empty where they were not told."""

    at: Moment
    frequency: Annotated[float, Field(gt=0)]
    band: Annotated[str, AfterValidator(_band)]
    receiver: Annotated[str, Field(min_length=1, max_length=80)]
    latitude: Annotated[float, Field(ge=-90, le=90)] | None
    longitude: Annotated[float, Field(ge=-180, le=180)] | None
    uncertainty: Annotated[float, Field(ge=0)] | None
    snr: float | None
    power: Annotated[float, Field(gt=0)] | None
    mode: Annotated[str, Field(max_length=80)]
    antenna: Annotated[str, Field(max_length=80)]
    heard_me: Literal[0, 1]
    own_locator: Annotated[str, Field(max_length=16)]


class Contents(Line):
    """`record.json`: how many lines each file has, so that one that was cut short is noticed."""

    schema_name: Annotated[Literal["ringwright.records/1"], Field(alias="schema")]
    designs: int
    sweeps: int
    results: int
    notes: int
    tuning_tables: int = 0  # an export of before they were kept has none
    tunings: int = 0
    reports: int = 0
