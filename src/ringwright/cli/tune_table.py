# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright tune table` and `tune history`: what was learnt and what was done."""

from pathlib import Path

import click

_WORKSPACE = click.argument("workspace", type=click.Path(path_type=Path))
_NAME = click.argument("name")
_JSON = click.option("--json", "as_json", is_flag=True, help="One JSON document.")


@click.group(
    epilog="""\b
Examples:
  ringwright tune table list terrace
  ringwright tune table print terrace "terrace, simulated"
  ringwright tune table edit terrace "terrace, simulated" --remove 3"""
)
def table() -> None:
    """Tuning tables of a workspace: list, print, edit, export."""


@table.command(
    "list",
    epilog="""\b
Example:
  ringwright tune table list terrace
""",
)
@_WORKSPACE
@_JSON
def list_(workspace: Path, *, as_json: bool) -> None:
    """Which tables there are, and where the antenna stands."""
    from ringwright.cli.tuning_tables import list_tables

    list_tables(workspace, as_json=as_json)


@table.command(
    "print",
    epilog="""\b
Examples:
  ringwright tune table print terrace "terrace, simulated"
  ringwright tune table print terrace "terrace, simulated" --json""",
)
@_WORKSPACE
@_NAME
@_JSON
def print_(workspace: Path, name: str, *, as_json: bool) -> None:
    """The pairs of a table, to be read or put on paper."""
    from ringwright.cli.tuning_tables import print_table

    print_table(workspace, name, as_json=as_json)


@table.command(
    epilog="""\b
Examples:
  ringwright tune table edit terrace "terrace, simulated" --remove 3
  ringwright tune table edit terrace "terrace, simulated" --site "garden"
  ringwright tune table edit terrace "terrace, simulated" --from pairs.csv"""
)
@_WORKSPACE
@_NAME
@click.option("--remove", type=click.IntRange(min=1), help="Leave the pair of this number out.")
@click.option("--site", help="The antenna stands there now; one tuning moves the table with it.")
@click.option(
    "--from", "source", type=click.Path(path_type=Path), help="Its pairs are those of this file, as exported."
)
@_JSON
@click.pass_context
def edit(
    context: click.Context,
    workspace: Path,
    name: str,
    *,
    remove: int | None,
    site: str | None,
    source: Path | None,
    as_json: bool,
) -> None:
    """Change a table: leave a pair out, move it to another site, take pairs from a file."""
    if sum(each is not None for each in (remove, site, source)) != 1:
        raise click.UsageError("give one of --remove, --site and --from", context)
    from ringwright.cli.tuning_tables import edit_table

    edit_table(workspace, name, remove=remove, site=site, source=source, as_json=as_json)


@table.command(
    epilog="""\b
Example:
  ringwright tune table export terrace "terrace, simulated" pairs.csv
"""
)
@_WORKSPACE
@_NAME
@click.argument("file", type=click.Path(path_type=Path))
def export(workspace: Path, name: str, file: Path) -> None:
    """Write a table as comma-separated values, which edit --from reads again."""
    from ringwright.cli.tuning_tables import export_table

    export_table(workspace, name, file=file)


@click.command(
    epilog="""\b
Examples:
  ringwright tune history terrace
  ringwright tune history terrace --band 40m --json"""
)
@_WORKSPACE
@click.option("--band", help="Only the tunings of this band.")
@_JSON
def history(workspace: Path, *, band: str | None, as_json: bool) -> None:
    """The tunings of a workspace in the order in which they happened, as JSON with their traces."""
    from ringwright.cli.tuning_tables import show_history

    show_history(workspace, band=band, as_json=as_json)
