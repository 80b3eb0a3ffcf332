# SPDX-License-Identifier: BSD-3-Clause
"""Write the generated part of reference pages: `python -m scripts.write_reference`.

What people wrote stands above the mark in each page and stays. The glossary of figures comes from the table of figures,
the command line from the program's own help.
"""

from collections.abc import Callable, Iterator
from pathlib import Path

import click
from click.testing import CliRunner

from ringwright.antenna.figures import FIGURES, Figure
from ringwright.cli.program import program

REFERENCE = Path("docs/reference")
MARK = "<!-- From here on written by `python -m scripts.write_reference`. -->"
_WIDTH = 80

_GROUPS = {
    "": "The band as a whole",
    "tuning": "Tuned state",
    "resistance_ohm": "Resistances, referred to the current through the gap",
    "watts_pct": "Where every watt goes",
    "match": "Match at the coupling loop",
    "pattern": "Pattern",
    "limits": "Limits",
    "capacitor": "Capacitor",
    "drive": "Drive",
    "cross_check": "Cross-check by closed forms",
}


def figures() -> str:
    """Each figure with what the table says of it."""
    parts = []
    for group, heading in _GROUPS.items():
        parts.append(f"## {heading}\n")
        parts += [_entry(figure) for key, figure in FIGURES.items() if key.rpartition(".")[0] == group]
    return "\n".join(parts)


def commands() -> str:
    """Each verb with its own help."""
    return "\n".join(_helps(program, ("ringwright",)))


def _entry(figure: Figure) -> str:
    unit = figure.scale.unit or "words or yes and no"
    shown = figure.scale.shown_unit
    rows = {
        "Means": figure.definition,
        "Unit": unit if shown in ("", figure.scale.unit) else f"{unit}, shown in {shown}",
        "Formula": f"`{figure.formula}`",
        "From": ", ".join(f"`{name}`" for name in figure.inputs),
        "Source": figure.source,
        "Holds": figure.validity,
    }
    if figure.limit is not None:
        rows["Limit"] = f"{figure.limit:g} wavelengths of perimeter; beyond, `--explain` marks it"
    listed = "\n".join(f"- *{word}:* {text}" for word, text in rows.items())
    return f"### `{figure.key}`\n\n{figure.label[0].upper()}{figure.label[1:]}.\n\n{listed}\n"


def _helps(command: click.Command, path: tuple[str, ...]) -> Iterator[str]:
    shown = CliRunner().invoke(program, [*path[1:], "--help"], prog_name=path[0], terminal_width=_WIDTH)
    yield f"## `{' '.join(path)}`\n\n```\n{shown.output.rstrip()}\n```\n"
    if isinstance(command, click.Group):
        for name in sorted(command.commands):
            yield from _helps(command.commands[name], (*path, name))


PAGES: dict[Path, Callable[[], str]] = {
    REFERENCE / "figures.md": figures,
    REFERENCE / "command-line.md": commands,
}


def rewritten(page: str, generated: str, *, mark: str = MARK) -> str:
    """A page with what stands below the mark replaced."""
    head, found, _ = page.partition(mark)
    if not found:
        raise ValueError(f"the page has no line {mark}")
    return f"{head}{mark}\n\n{generated.rstrip()}\n"


def main() -> None:
    for path, generate in PAGES.items():
        path.write_text(
            rewritten(path.read_text(encoding="utf-8"), generate()), encoding="utf-8", newline="\n"
        )
        print(path)


if __name__ == "__main__":
    main()
