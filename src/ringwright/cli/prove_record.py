# SPDX-License-Identifier: BSD-3-Clause
"""What `prove` keeps: where, with which labels, and what became of each sweep."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import click

from ringwright.cli.moments import moment
from ringwright.desk.design_folder import DESIGNS, DesignFolder
from ringwright.desk.drafts import opened
from ringwright.desk.record_keeping import Labels, Proved, keep_sweeps, readings_file
from ringwright.desk.workspace import FOLDERS
from ringwright.errors import WorkspaceError
from ringwright.proof.comparison import Comparison
from ringwright.proof.sweep import Sweep
from ringwright.records.records import FILE, Records
from ringwright.units import to_si

_STAYS = "what was written of it stays, also its build; a note says what has changed (record add)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeping:
    """The workspace that sweeps are kept in, None if they are not, and what the person says of them."""

    workspace: Path | None
    labels: Labels


def keeping(
    design: Path,
    *,
    record: bool | None,
    workspace: Path | None,
    build: str | None,
    temperature: str | None,
    note: str | None,
    measured_at: str | None,
) -> Keeping:
    """What the options ask for, refused before anything is computed if it cannot be.

    Sweeps of a design in a workspace are kept unless `record` is False. Whoever names a workspace, or says something of
    the sweeps, wants them kept.

    Raises
    ------
    WorkspaceError
        If sweeps are to be kept and there is no workspace.
    RecordEntryError, QuantityError
        If a label cannot be kept.
    """
    said = (build, temperature, note, measured_at)
    is_asked = bool(record) or workspace is not None or any(one is not None for one in said)
    if record is False and is_asked:
        raise WorkspaceError(
            "--no-record keeps nothing; leave it out, or what is said of the sweeps and where to keep them"
        )
    labels = Labels(
        build=build,
        temperature=None if temperature is None else to_si(temperature, "degC"),
        note=note or "",
        measured_at=None if measured_at is None else moment(measured_at),
    )
    if record is False:
        return Keeping(workspace=None, labels=labels)
    found = _workspace_of(design) if workspace is None else workspace
    if found is None and is_asked:
        raise WorkspaceError(
            f"{design} lies in no workspace, so there is no record to keep its sweeps in; name one with --workspace"
        )
    if found is not None and not ((found / DESIGNS).is_dir() or (found / FILE).is_file()):
        raise WorkspaceError(
            f"{found} is no workspace; name one, or make one with ringwright new {found.name or 'FOLDER'}"
        )
    return Keeping(workspace=found, labels=labels)


def proved_file(path: Path, content: bytes, comparison: Comparison) -> Proved:
    """A file that was proved; it was measured when it was last written."""
    at = datetime.fromtimestamp(path.stat().st_mtime).astimezone()
    return Proved(name=path.name, content=content, comparison=comparison, measured_at=at)


def proved_readings(sweep: Sweep, comparison: Comparison) -> Proved:
    """Typed readings, as the file that they become."""
    name, content = readings_file(sweep, comparison.band.band)
    return Proved(name=name, content=content, comparison=comparison)


def keep_proved(keeping: Keeping, design: str, proved: Sequence[Proved]) -> None:
    """Keep them, and say on standard error how many and where; one that cannot be kept is told of and left out."""
    if keeping.workspace is None:
        return
    with Records.open(keeping.workspace) as records:
        kept = keep_sweeps(records, proved, design=design, labels=keeping.labels)
    for one in kept:
        if one.problem is not None:
            click.echo(f"ringwright: {one.problem}", err=True)
    if not _is_of(keeping.workspace, design):
        name = opened("", design).title or "This design"
        click.echo(
            f"ringwright: {name} is no design of {keeping.workspace}; what is kept of it there stands among the sweeps "
            f"of another antenna",
            err=True,
        )
    count = sum(one.is_new and not one.is_known for one in kept)
    if count:
        words = f"{count} sweep{'s' if count > 1 else ''} recorded in {keeping.workspace}"
        click.echo(f"ringwright: {words}", err=True)
    for one in kept:
        if one.is_known and (one.is_new or keeping.labels.build is not None):
            click.echo(f"ringwright: {one.name} is sweep {one.number} already; {_STAYS}", err=True)


def _is_of(workspace: Path, design: str) -> bool:
    """Whether the workspace has a design of that name, or none to compare with."""
    folder = DesignFolder(workspace)
    texts = [text for name in folder.names() if (text := folder.read_if_there(name)) is not None]
    return not texts or opened("", design).title in {opened("", text).title for text in texts}


def _workspace_of(design: Path) -> Path | None:
    """The workspace that a design file lies in, as `new` makes it; None for a file anywhere else."""
    folder = design.resolve().parent
    is_one = folder.name == DESIGNS and all((folder.parent / name).is_dir() for name in FOLDERS)
    return folder.parent if is_one else None
