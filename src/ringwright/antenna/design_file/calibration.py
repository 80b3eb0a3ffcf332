# SPDX-License-Identifier: BSD-3-Clause
"""The layer file: what measuring taught of a ring, as TOML beside its design file.

Every key is described in docs/reference/calibration-file.md.
"""

import hashlib
import json
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any

from pydantic import Field, PlainValidator, ValidationError
from pydantic_core import ErrorDetails

from ringwright.antenna.calibration import INPUTS, Calibration, SweepTaken, calibrated
from ringwright.antenna.design import Design
from ringwright.antenna.design_file.fields import nearest, number, quantity, read_format, words
from ringwright.antenna.design_file.models import Table
from ringwright.antenna.design_file.read import parse_design, read_tables, read_text
from ringwright.antenna.design_file.sentences import of_later_format
from ringwright.errors import CalibrationError, DesignError, DesignFileError, OutOfRangeError
from ringwright.units import shown

_DIGITS = frozenset("0123456789abcdef")
_STANDS_FOR = ("ring", "capacitor", "tolerance")
_OF_SITE = ("height", "turn", "earth", "conductivity", "permittivity", "metal")
"""What a layer holds for, whatever else of a design changes: its tables, and these keys of [site]."""


def _read_checksum(value: object) -> str:
    if isinstance(value, str) and len(value) == 64 and set(value) <= _DIGITS:
        return value
    raise ValueError(f"{shown(value)} is no SHA-256 checksum; it has 64 digits, 0 to 9 and a to f")


def _read_moment(value: object) -> datetime:
    if isinstance(value, datetime) and value.tzinfo is not None:
        return value
    raise ValueError(f"{shown(value)} is no moment; write date, time and zone, as in 2026-06-01T12:00:00Z")


_Checksum = Annotated[str, PlainValidator(_read_checksum, json_schema_input_type=str)]


class _DesignTable(Table):
    name: Annotated[str, words(longest=200)]
    text_sha256: _Checksum
    build_sha256: _Checksum


class _InputTable(Table):
    shift: Annotated[float, number(low=-20.0, high=20.0)]
    standard_deviation: Annotated[float, number(low=0.0, high=3.0)]


class _InputsTable(Table):
    capacitor_q: _InputTable | None = None
    joint_resistance: _InputTable | None = None
    earth_conductivity: _InputTable | None = None
    earth_permittivity: _InputTable | None = None


_Correlation = Annotated[float, number(low=-1.0, high=1.0)]


class _WithPermittivity(Table):
    earth_permittivity: _Correlation = 0.0


class _WithEarth(_WithPermittivity):
    earth_conductivity: _Correlation = 0.0


class _WithAll(_WithEarth):
    joint_resistance: _Correlation = 0.0


class _CorrelationTable(Table):
    """Each pair once, under the one that comes first in `INPUTS`."""

    capacitor_q: _WithAll = Field(default_factory=_WithAll)
    joint_resistance: _WithEarth = Field(default_factory=_WithEarth)
    earth_conductivity: _WithPermittivity = Field(default_factory=_WithPermittivity)


class _SweepTable(Table):
    file: Annotated[str, words(longest=200)]
    sha256: _Checksum
    frequency: Annotated[float, quantity("Hz", low="0.1 MHz", high="100 MHz")]
    q_unloaded: Annotated[float, number(above=0.0, high=1e6)]


class _CalibrationTable(Table):
    format: Annotated[int, PlainValidator(read_format, json_schema_input_type=int)]
    name: Annotated[str, words(longest=80)]
    accepted: Annotated[datetime, PlainValidator(_read_moment, json_schema_input_type=str)]
    design: _DesignTable
    inputs: _InputsTable
    correlation: _CorrelationTable = Field(default_factory=_CorrelationTable)
    sweeps: Annotated[list[_SweepTable], Field(min_length=1, max_length=1000)]


def load_calibrated(path: str | Path, calibration: str | Path) -> Design:
    """Read a design file and lay a layer file over it.

    Raises
    ------
    CalibrationError
        If the layer cannot be read, or was made of another ring.
    """
    text = read_text(path)
    return lay_over(text, read_calibration(calibration), source=str(path), layer_source=str(calibration))


def lay_over(text: str, layer: Calibration, *, source: str, layer_source: str) -> Design:
    """A design from its text with a layer over it; the sources are what messages call both."""
    design = parse_design(text, source=source)
    if layer.text_sha256 != text_checksum(text) and layer.build_sha256 != build_checksum(text):
        raise CalibrationError(
            f"{layer_source}: this calibration is of another ring than {source} now describes (ring, capacitor, earth, "
            "height, metal or tolerance read otherwise); sweep it again and accept that, or predict without"
        )
    return calibrated(design, layer)


def read_calibration(path: str | Path) -> Calibration:
    """Read a layer file."""
    try:
        return parse_calibration(read_text(path), source=str(path))
    except DesignFileError as exc:
        # What a design file cannot be, a layer file cannot be either; only its name differs.
        raise CalibrationError(str(exc).replace("a design file", "a calibration file")) from exc


def parse_calibration(text: str, *, source: str) -> Calibration:
    """Read a layer from the text of a file; `source` is what messages call it."""
    try:
        return _calibration_of(_CalibrationTable.model_validate(read_tables(text)))
    except ValidationError as exc:
        raise CalibrationError(f"{source}: {_sentence(exc)}") from exc
    except (DesignError, OutOfRangeError) as exc:
        raise CalibrationError(f"{source}: {exc}") from exc


def text_checksum(text: str) -> str:
    """SHA-256 of a design's text, as the record has it."""
    return hashlib.sha256(text.encode()).hexdigest()


def build_checksum(text: str) -> str:
    """SHA-256 of what a layer holds for: neither comments and order, nor bands, power, coupling or people."""
    return build_checksum_of(read_tables(text))


def build_checksum_of(tables: Mapping[str, Any]) -> str:
    """The same of a design file's tables."""
    site = tables.get("site", {})
    parts = {name: tables[name] for name in _STANDS_FOR if name in tables}
    parts["site"] = {name: site[name] for name in _OF_SITE if name in site}
    return hashlib.sha256(json.dumps(parts, sort_keys=True, default=str).encode()).hexdigest()


def _calibration_of(table: _CalibrationTable) -> Calibration:
    inputs = [
        getattr(table.inputs, name) or _InputTable(shift=0.0, standard_deviation=0.0) for name in INPUTS
    ]
    size = range(len(INPUTS))
    correlation = [[float(row == column) for column in size] for row in size]
    for row in size[:-1]:
        tied = getattr(table.correlation, INPUTS[row])
        for column in size[row + 1 :]:
            correlation[row][column] = correlation[column][row] = getattr(tied, INPUTS[column])
    return Calibration(
        name=table.name,
        accepted=table.accepted,
        design=table.design.name,
        text_sha256=table.design.text_sha256,
        build_sha256=table.design.build_sha256,
        shift=tuple(each.shift for each in inputs),
        spread=tuple(each.standard_deviation for each in inputs),
        correlation=tuple(tuple(row) for row in correlation),
        sweeps=tuple(
            SweepTaken(
                file=each.file, sha256=each.sha256, frequency=each.frequency, q_unloaded=each.q_unloaded
            )
            for each in table.sweeps
        ),
    )


def _sentence(error: ValidationError) -> str:
    """The first thing to put right, a misspelt key before a missing one."""
    details = error.errors(include_url=False)
    later = of_later_format(details)
    if later is not None:
        return _of_other(later)
    unknown = [item for item in details if item["type"] == "extra_forbidden"]
    return _of_unknown(unknown[0]) if unknown else _of_other(details[0])


def _of_unknown(item: ErrorDetails) -> str:
    *parents, key = (str(part) for part in item["loc"])
    close = nearest(key, (*_CalibrationTable.model_fields, *_InputTable.model_fields, *INPUTS))
    hint = f"did you mean {close}?" if close else "docs/reference/calibration-file.md has those that are"
    return f"{'.'.join([*parents, shown(key)])} is not a known key; {hint}"


def _of_other(item: ErrorDetails) -> str:
    path = ".".join(str(part + 1) if isinstance(part, int) else part for part in item["loc"])
    context: dict[str, Any] = item.get("ctx", {})
    match item["type"]:
        case "missing":
            return f"{path} is missing; accept the sweeps again, or put it back (docs/reference/calibration-file.md)"
        case "value_error":
            return f"{path}: {context['error']}"
        case _:
            return f"{path} = {shown(item['input'])} is not what belongs here (docs/reference/calibration-file.md)"
