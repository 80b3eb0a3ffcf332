# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright new`: a workspace to start from."""

from pathlib import Path

import click


@click.command(
    epilog="""\b
Examples:
  ringwright new terrace
  ringwright predict terrace/designs/first-ring.toml
  ringwright new lesson --example terrace
"""
)
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--example",
    type=click.Choice(["terrace"]),
    help="Not a first design, but a whole antenna to follow: brief, design, and the sweeps and reports of a ring that "
    "was never built. They are simulated.",
)
def new(folder: Path, example: str | None) -> None:
    """Make a workspace with a commented first design.

    FOLDER may exist, but only empty: nothing is ever written over.
    """
    from ringwright.desk.workspace import write_workspace

    design = write_workspace(folder, example=example)
    click.echo(f"{folder}: a workspace with designs/, sweeps/ and sheets/\n")
    if example is not None:
        click.echo("Its sweeps and reports are simulated; SIMULATED.txt says how. Then:")
    else:
        click.echo("Edit the design, then:")
    click.echo(f"  ringwright predict {click.format_filename(design)}")
