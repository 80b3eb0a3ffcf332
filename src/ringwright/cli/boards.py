# SPDX-License-Identifier: BSD-3-Clause
"""The board's firmware, written for a person to copy."""

import json
from pathlib import Path

import click

from ringwright.antenna.design_file import parse_design, read_text
from ringwright.cli.files import make_folder, write_text
from ringwright.tuner.drive_settings import drive_settings
from ringwright.tuner.firmware_files import SETTINGS, firmware


def write_board_files(folder: Path, *, design: Path | None, copy: str, as_json: bool) -> None:
    """Write all files but settings that are there already, and tell which."""
    known = None
    if design is not None:
        known = drive_settings(parse_design(read_text(design), source=str(design)))
    kept = (folder / SETTINGS).exists()
    texts = {place: text for place, text in firmware(copy, known).items() if place != SETTINGS or not kept}
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
            "drive": known,
        }
        click.echo(json.dumps(document))
        return
    click.echo(f"{folder}: {len(texts)} files, the firmware as copy {copy}")
    click.echo(f"{folder / SETTINGS}: {'kept as it was' if kept else 'to be edited: which pin is which'}")
    if known is not None:
        told = ", ".join(f"{key} {value}" for key, value in known.items())
        click.echo(
            f"{'by the design it would be' if kept else 'filled in from the design'}: {told} (microsteps)"
        )
    click.echo("Copy all of it to the top of the board's flash, then switch the board off and on.")
