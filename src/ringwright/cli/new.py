# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright new`: a workspace to start from."""

from pathlib import Path

import click


@click.command(
    epilog="""\b
Example:
  ringwright new terrace
  ringwright predict terrace/designs/first-ring.toml
"""
)
@click.argument("folder", type=click.Path(path_type=Path))
def new(folder: Path) -> None:
    """Make a workspace with a commented first design.

    FOLDER may exist, but only empty: nothing is ever written over.
    """
    from ringwright.desk.workspace import write_workspace

    design = write_workspace(folder)
    click.echo(f"{folder}: a workspace with designs/, sweeps/ and sheets/\n\nEdit the design, then:")
    click.echo(f"  ringwright predict {click.format_filename(design)}")
