# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright record`: what happened to an antenna, written down, compared, kept."""

from pathlib import Path

import click

_WORKSPACE = click.argument("workspace", type=click.Path(path_type=Path))
_JSON = click.option("--json", "as_json", is_flag=True, help="One JSON document.")
_KINDS = ("weather", "rain", "repair", "joint", "box", "other")


@click.group(
    epilog="""\b
Examples:
  ringwright record add terrace "joint 5 remade" --kind joint
  ringwright record list terrace
  ringwright record trend terrace 40m"""
)
def record() -> None:
    """What happened to an antenna: note, list, compare, keep.

    A record is the file records.sqlite of a workspace. Sweeps come into it when they are proved there; the files as
    delivered lie in sweeps/.
    """


@record.command(
    epilog="""\b
Examples:
  ringwright record add terrace "joint 5 remade, silver solder" --kind joint
  ringwright record add terrace "shower" --kind rain --at "2026-05-01 18:30"
"""
)
@_WORKSPACE
@click.argument("text")
@click.option(
    "--kind",
    type=click.Choice(_KINDS),
    default="other",
    show_default=True,
    help="What it is about; other is a plain note, also of the site. After a repair or a joint trends start anew; "
    "rain counts for a day.",
)
@click.option("--at", help='When, as in "2026-05-01 18:30" in local time; now if left out.')
@_JSON
def add(workspace: Path, text: str, *, kind: str, at: str | None, as_json: bool) -> None:
    """Write down what happened: weather, rain, a repair, a joint remade, the box opened."""
    from ringwright.cli.recording import add_note

    add_note(workspace, text, kind=kind, at=at, as_json=as_json)


@record.command(
    "list",
    epilog="""\b
Examples:
  ringwright record list terrace
  ringwright record list terrace --band 40m --json""",
)
@_WORKSPACE
@click.option("--band", help="Only the sweeps of this band.")
@_JSON
def list_(workspace: Path, *, band: str | None, as_json: bool) -> None:
    """Sweeps and notes in the order in which they happened."""
    from ringwright.cli.recording import show_list

    show_list(workspace, band=band, as_json=as_json)


@record.command(
    epilog="""\b
Examples:
  ringwright record compare terrace "as built" "joint 5 remade"
  ringwright record compare terrace 3 7 --json"""
)
@_WORKSPACE
@click.argument("before")
@click.argument("after")
@_JSON
def compare(workspace: Path, before: str, after: str, *, as_json: bool) -> None:
    """By what factor Q changed from one build to another, band by band.

    BEFORE and AFTER are the names of two builds, or the numbers of two sweeps in the list.
    """
    from ringwright.cli.recording import show_comparison

    show_comparison(workspace, before, after=after, as_json=as_json)


@record.command(
    epilog="""\b
Examples:
  ringwright record trend terrace 40m
  ringwright record trend terrace 40m --json"""
)
@_WORKSPACE
@click.argument("band")
@_JSON
def trend(workspace: Path, band: str, *, as_json: bool) -> None:
    """Q and frequency on a band against time, temperature and rain.

    Counted from the last repair or joint; says when joints or box want a look.
    """
    from ringwright.cli.recording import show_trend

    show_trend(workspace, band, as_json=as_json)


@record.command(
    epilog="""\b
Example:
  ringwright record export terrace terrace-record
"""
)
@_WORKSPACE
@click.argument("folder", type=click.Path(path_type=Path))
@_JSON
def export(workspace: Path, folder: Path, *, as_json: bool) -> None:
    """Everything as plain files in a new folder.

    JSON lines, tables for a spreadsheet, and the sweep files as they were delivered.
    """
    from ringwright.cli.recording import export_to

    export_to(workspace, folder, as_json=as_json)


@record.command(
    "import",
    epilog="""\b
Example:
  ringwright new terrace-again
  ringwright record import terrace-again terrace-record
""",
)
@_WORKSPACE
@click.argument("folder", type=click.Path(path_type=Path))
@_JSON
def import_(workspace: Path, folder: Path, *, as_json: bool) -> None:
    """Rebuild a record from an exported folder.

    What the record has already stays as it is; if anything in the folder is damaged nothing is taken.
    """
    from ringwright.cli.recording import import_from

    import_from(workspace, folder, as_json=as_json)
