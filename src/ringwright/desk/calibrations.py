# SPDX-License-Identifier: BSD-3-Clause
"""Where layers of what was measured lie: `calibrations/` of the workspace, or beside a design file outside of one."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from ringwright.antenna.calibration import Calibration, calibrated
from ringwright.antenna.design import Design
from ringwright.antenna.design_file import (
    build_checksum_of,
    calibration_text,
    design_of,
    lay_over,
    parse_calibration,
    parse_design,
    read_calibration,
    read_tables,
    read_text,
)
from ringwright.antenna.prediction import Prediction
from ringwright.desk.design_folder import DESIGNS
from ringwright.desk.proving import Delivered, judge
from ringwright.desk.sweep_files import SweepFiles
from ringwright.disk import add_file
from ringwright.errors import CalibrationError, StorageError
from ringwright.proof.accepted import Accepted, Sweeps, accept_measured
from ringwright.records.sweep_files import checksum, safe_name
from ringwright.units import shown

CALIBRATIONS = "calibrations"
LONGEST_NAME = 50


def folder_of(design: Path) -> Path:
    """The folder for the layers of a design file."""
    folder = design.resolve().parent
    return (folder.parent if folder.name == DESIGNS else folder) / CALIBRATIONS


def named_path(design: Path, name: str) -> Path:
    """Where the layer `name` of a design file lies, or would.

    Raises
    ------
    CalibrationError
        If this is no name for a file on every system.
    """
    return _named_in(folder_of(design), name)


def _named_in(folder: Path, name: str) -> Path:
    if len(name) > LONGEST_NAME or safe_name(f"{name}.toml") != f"{name}.toml" or "." in name:
        raise CalibrationError(
            f"{shown(name)} cannot be a calibration's name; use up to {LONGEST_NAME} letters, digits, spaces and -_()+"
        )
    return folder / f"{name}.toml"


def found_path(design: Path, name_or_path: str) -> Path:
    """The layer's file: a path as it stands, if it looks like one, else a name among those of the design."""
    path = Path(name_or_path)
    if path.suffix == ".toml" or len(path.parts) > 1:
        return path
    named = named_path(design, name_or_path)
    if not named.is_file():
        known = sorted(each.stem for each in named.parent.glob("*.toml"))
        there = f"those of this design are: {', '.join(known)}" if known else "prove --accept NAME makes one"
        raise CalibrationError(f"{named}: there is no calibration of that name; {there}")
    return named


def load_with(path: Path, name_or_path: str | None) -> Design:
    """A design from its file, with a layer over it where one is named."""
    return with_layer(read_text(path), path, name_or_path)


def with_layer(text: str, path: Path, name_or_path: str | None) -> Design:
    """A design from the text of its file, with a layer over it where one is named."""
    if name_or_path is None:
        return parse_design(text, source=str(path))
    layer = found_path(path, name_or_path)
    return lay_over(text, read_calibration(layer), source=str(path), layer_source=str(layer))


class Calibrations:
    """The layers of a workspace. Every method may be called from any thread."""

    def __init__(self, workspace: Path) -> None:
        self._folder = workspace / CALIBRATIONS

    def known(self) -> list[Calibration]:
        """Those that can be read, the last accepted first; their names are those of their files."""
        found = []
        for path in sorted(self._folder.glob("*.toml")):
            with suppress(CalibrationError):
                found.append(replace(read_calibration(path), name=path.stem))
        return sorted(found, key=lambda layer: layer.accepted, reverse=True)

    def laid_over(self, design: Design, tables: Mapping[str, Any], name: str | None) -> Design:
        """The design with the layer `name` where there is such a one of this ring, else as it is."""
        path = None if name is None else self._folder / f"{name}.toml"
        if path is None or not path.is_file():
            return design
        layer = replace(read_calibration(path), name=path.stem)
        return calibrated(design, layer) if layer.build_sha256 == build_checksum_of(tables) else design

    def accept(
        self,
        text: str,
        delivered: Sequence[Delivered],
        *,
        name: str,
        folder: SweepFiles,
        known: Callable[[Design], Prediction],
    ) -> Accepted:
        """Sweeps of the ring that `text` describes, taken for the truth and written as the layer `name`."""
        path = _named_in(self._folder, name)
        check_free(path)
        design = design_of(read_tables(text))
        prediction = known(design)
        judged = judge(delivered, folder, design=design, prediction=prediction)
        comparisons = [each.comparison for each in judged if each.comparison is not None]
        if len(comparisons) < len(judged):
            problem = next(each.problem for each in judged if each.comparison is None)
            raise CalibrationError(f"nothing was accepted: {problem}")
        accepted = accept_measured(
            Sweeps.of(design, prediction, comparisons),
            text,
            name=name,
            accepted=datetime.now(UTC),
            checksums=[checksum(each.content) for each in judged],
        )
        write_layer(path, accepted.layer)
        return accepted


def check_free(path: Path) -> None:
    """That no layer lies there yet: none is ever written over."""
    if path.exists():
        raise _taken(path)


def _taken(path: Path) -> CalibrationError:
    return CalibrationError(
        f"{path}: there is a calibration of that name; choose another, or remove that first"
    )


def write_layer(path: Path, layer: Calibration) -> Path:
    """Write a layer whole or not at all; return its path.

    Raises
    ------
    CalibrationError
        If there is one already.
    StorageError
        If the disk refuses.
    """
    text = calibration_text(layer)
    parse_calibration(text, source=str(path))
    try:
        path.parent.mkdir(exist_ok=True)
        check_free(path)
        add_file(path, text.encode())
    except FileExistsError as exc:  # since it was looked for
        raise _taken(path) from exc
    except OSError as exc:
        raise StorageError(
            f"{path}: writing failed ({exc.strerror or exc}); make room or another folder"
        ) from exc
    return path
