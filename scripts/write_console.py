# SPDX-License-Identifier: BSD-3-Clause
"""Run the console blocks of a page and write down what is printed: `python -m scripts.write_console [PAGE...]`.

A block ```console holds commands, each on a line that starts with `$ ringwright`, and below each what it printed;
`| grep WORD` may follow a command. All blocks of a page run in order in one new folder, in 80 columns without colour.
Output that ends in a line `...` is cut there: as many lines are kept as stood before it. Between blocks, an invisible
comment changes a file as the reader was told to:

    <!-- edit OLD_FILE to NEW_FILE: OLD_TEXT -> NEW_TEXT -->

A block below the invisible comment `<!-- file NAME -->` is written into the folder under that name.
"""

import os
import re
import shlex
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

LESSON = Path("docs/tutorials/brief-to-report.md")
PAGES = (
    LESSON,
    Path("README.md"),
    Path("docs/tutorials/first-ring.md"),
    Path("docs/how-to/compare-antennas.md"),
    Path("docs/how-to/build.md"),
    Path("docs/how-to/choose.md"),
    Path("docs/how-to/coupling-loop.md"),
    Path("docs/how-to/keep-the-record.md"),
    Path("docs/how-to/tune.md"),
)
PROGRAM = Path(sys.executable).with_name("ringwright")

_PART = re.compile(
    r"^```console\n(?P<block>.*?)^```$|^<!-- edit (?P<old>\S+) to (?P<new>\S+): (?P<before>.*?) -> (?P<after>.*?) -->$"
    r"|^<!-- file (?P<file>\S+) -->\n```\w+\n(?P<text>.*?)^```$",
    re.MULTILINE | re.DOTALL,
)
_CUT = "..."


def rewritten(page: str) -> str:
    """A page with the output of its commands as it is now."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)

        def renewed(part: re.Match[str]) -> str:
            if part["block"] is not None:
                return f"```console\n{_block(part['block'], folder)}```"
            if part["file"] is not None:
                (folder / part["file"]).write_text(part["text"], encoding="utf-8")
            else:
                _edit(part, folder)
            return part[0]

        return _PART.sub(renewed, page)


def _block(block: str, folder: Path) -> str:
    return "".join(f"$ {command}\n{_output(command, before, folder)}" for command, before in _commands(block))


def _commands(block: str) -> Iterator[tuple[str, list[str]]]:
    """Each command with the lines that stood below it."""
    for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
        command, *lines = part.splitlines()
        yield command, lines


def _output(command: str, before: list[str], folder: Path) -> str:
    run, _, word = command.partition(" | grep ")
    program, *arguments = shlex.split(run)
    if program != "ringwright":
        raise ValueError(f"only the program itself is run, not {command!r}")
    done = subprocess.run(
        [PROGRAM, *arguments],
        cwd=folder,
        env=os.environ | {"COLUMNS": "80", "NO_COLOR": "1", "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    lines = [line for line in (done.stdout + done.stderr).splitlines() if word in line]
    if before and before[-1] == _CUT:
        lines = [*lines[: len(before) - 1], _CUT]
    return "".join(f"{line.rstrip()}\n" for line in lines)


def _edit(part: re.Match[str], folder: Path) -> None:
    text = (folder / part["old"]).read_text(encoding="utf-8")
    if text.count(part["before"]) != 1:
        raise ValueError(f"{part['before']!r} stands {text.count(part['before'])} times in {part['old']}")
    (folder / part["new"]).write_text(text.replace(part["before"], part["after"]), encoding="utf-8")


def main() -> None:
    for path in [Path(name) for name in sys.argv[1:]] or PAGES:
        path.write_text(rewritten(path.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")
        print(path)


if __name__ == "__main__":
    main()
