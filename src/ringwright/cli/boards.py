# SPDX-License-Identifier: BSD-3-Clause
"""The board's firmware, written for a person to copy."""

import json
from pathlib import Path

import click

from ringwright.cli.files import make_folder, write_text
from ringwright.tuner.firmware_files import SETTINGS, firmware


def write_board_files(folder: Path, *, copy: str, as_json: bool) -> None:
    """Write all files but settings that are there already, and tell which."""
    kept = (folder / SETTINGS).exists()
    texts = {place: text for place, text in firmware(copy).items() if place != SETTINGS or not kept}
    for place, text in texts.items():
        make_folder((folder / place).parent)
        write_text(folder / place, text)
    if as_json:
        document = {
            "schema": "ringwright.board-files/1",
            "folder": str(folder),
            "copy": copy,
            "files": sorted(texts),
            "settings_kept": kept,
        }
        click.echo(json.dumps(document))
        return
    click.echo(f"{folder}: {len(texts)} files, the firmware as copy {copy}")
    click.echo(f"{folder / SETTINGS}: {'kept as it was' if kept else 'to be edited: which pin is which'}")
    click.echo("Copy all of it to the top of the board's flash, then switch the board off and on.")
