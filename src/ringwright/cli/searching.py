# SPDX-License-Identifier: BSD-3-Clause
"""The search for rings as the terminal meets it: progress, Ctrl-C, the answer, the designs written."""

import json
import re
from pathlib import Path

import click

from ringwright.choose.rings.candidate import name_of, text_of
from ringwright.choose.rings.document import search_document
from ringwright.choose.rings.finding import Advance
from ringwright.choose.rings.found import Found
from ringwright.cli.files import make_folder, write_text
from ringwright.cli.progress import LongWait
from ringwright.cli.search_report import search_report
from ringwright.cli.terminal import Terminal
from ringwright.desk.searching import SearchWay, load_brief, search
from ringwright.errors import WorkspaceError

DONE, NONE_PASSES = 0, 1


def show_search(
    path: Path,
    parts: Path | None,
    way: SearchWay,
    *,
    as_json: bool,
    write: Path | None,
    is_imperial: bool | None,
) -> int:
    """Print the rings worth building, in the brief's own units where none are named; the exit code."""
    brief = load_brief(path, parts)
    wait = LongWait()
    said = "nothing is solved yet"

    def tell(advance: Advance) -> None:
        nonlocal said
        said = advance.doing
        wait.tell(said)

    try:
        found = search(brief, way, tell)
    except KeyboardInterrupt:
        stays = "" if way.journal is None else "; what is solved stays: ask again to go on"
        click.echo(f"ringwright: stopped; {said}{stays}", err=True)
        raise click.Abort from None
    if write is not None:
        _write(found, write)
    if as_json:
        if found.nearest is not None:
            click.echo(f"ringwright: {brief.name}: no ring passes; {found.nearest.text}", err=True)
        click.echo(json.dumps(search_document(found), indent=2, allow_nan=False))
    else:
        terminal = Terminal.of_stdout()
        for line in search_report(
            found, terminal, is_imperial=brief.is_imperial if is_imperial is None else is_imperial
        ):
            terminal.say(line)
    return DONE if found.front else NONE_PASSES


def _write(found: Found, folder: Path) -> None:
    """Each ring of the front as a design file; a file that is there already and says something else stays."""
    make_folder(folder)
    texts = {}
    for number, each in enumerate(found.front, 1):
        slug = re.sub(r"[^a-z0-9]+", "-", name_of(found.brief, each.place).lower()).strip("-")
        path = folder / f"{number:02d}-{slug[:60].rstrip('-')}.toml"
        texts[path] = text_of(found.brief, each.place, each.coupling)
    for path, text in texts.items():
        if path.exists() and path.read_text("utf-8", errors="replace") != text:
            raise WorkspaceError(
                f"{path} is there already and is another design; choose another folder for --write"
            )
    for path, text in texts.items():
        write_text(path, text)
