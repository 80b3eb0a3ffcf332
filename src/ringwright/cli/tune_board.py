# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright tune board`: the firmware of the board at the mast, as files to copy."""

from pathlib import Path

import click


@click.command(
    epilog="""\b
Examples:
  ringwright tune board --out board
  ringwright tune board --out board --design designs/terrace.toml
  ringwright tune board --out board --copy b

The page on wiring the board tells how its files get there, and what is to be wired where."""
)
@click.option(
    "--out", type=click.Path(path_type=Path), required=True, metavar="FOLDER", help="Where the files go."
)
@click.option(
    "--design",
    type=click.Path(path_type=Path),
    metavar="DESIGN",
    help="Fill travel and speeds of the settings in from its [drive] and its capacitor's travel.",
)
@click.option(
    "--copy",
    type=click.Choice(["a", "b"]),
    default="a",
    show_default=True,
    help="Of the two copies on the board the one to write; for an update the one that is not in use.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON document.")
def board(*, out: Path, design: Path | None, copy: str, as_json: bool) -> None:
    """Write the board's firmware into a folder.

    A settings file that is in the folder already stays as it is. The board tries the copy written; if that does not
    prove itself in two starts, the other one is back.
    """
    from ringwright.cli.boards import write_board_files

    write_board_files(out, design=design, copy=copy, as_json=as_json)
