# SPDX-License-Identifier: BSD-3-Clause
"""Write who else's work the program stands on, under which licence: `python -m scripts.write_licences`.

The page comes from the metadata of the pinned Python packages, from the web client's lock and from what stands beside
fonts and coastlines; below its mark all is written anew. What the built client brings along has its licence's text in
`licences.txt`, which is served beside it and travels in the wheel; those texts are read where the client's packages
are installed (web-client/build.sh).
"""

import json
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import metadata, requires
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from scripts.write_reference import rewritten

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs/reference/licences.md"
MARK = "<!-- From here on written by `python -m scripts.write_licences`. -->"
CLIENT = ROOT / "web-client"
TEXTS = CLIENT / "public/licences.txt"
BUILT_TEXTS = ROOT / "src/ringwright/web/static/licences.txt"
BESIDE = ("src/ringwright/sheet/fonts/OFL.txt", "src/ringwright/air/coastlines/NOTICE.txt")
"""Licences that stand beside what they are of."""

_CLASSIFIER = "License :: OSI Approved :: "
_ADDRESSES = ("homepage", "home", "source", "source code", "repository")


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """A package with its licence as its own metadata states it."""

    name: str
    version: str
    licence: str
    address: str


def python_packages() -> list[Work]:
    """What the program runs on, all that those packages need included."""
    waiting, found = ["ringwright"], dict[str, Work]()
    while waiting:
        for text in requires(waiting.pop()) or []:
            needed = Requirement(text)
            name = canonicalize_name(needed.name)
            if name not in found and (needed.marker is None or needed.marker.evaluate({"extra": ""})):
                found[name] = _python_package(name)
                waiting.append(name)
    return [found[name] for name in sorted(found)]


def client_packages() -> list[Work]:
    """What is built into the web client: all that is no tool."""
    packages = json.loads((CLIENT / "package-lock.json").read_text(encoding="utf-8"))["packages"]
    return [
        Work(
            name=place.removeprefix("node_modules/"),
            version=package["version"],
            licence=package["license"],
            address="",  # the lock has none
        )
        for place, package in sorted(packages.items())
        if place and not package.get("dev")
    ]


def page() -> str:
    """What stands below the mark."""
    parts = [
        "## Built into the web client, and in the wheel\n",
        *_table(client_packages()),
        "\n## Fonts and coastlines, in the wheel\n",
        "| what | licence | text |\n| --- | --- | --- |",
        "| the sheet's fonts, cut from Source Serif 4 and renamed | OFL-1.1 | `ringwright/sheet/fonts/OFL.txt` |",
        "| the pages' font, Source Serif 4 | OFL-1.1 | `ringwright/web/static/licences.txt` |",
        "| coastlines, Natural Earth by world-atlas | public domain, ISC | `ringwright/air/coastlines/NOTICE.txt` |",
        "\n## Python packages, installed beside the wheel\n",
        *_table(python_packages()),
    ]
    return "\n".join(parts)


def texts() -> str:
    """The licences' texts of what is built into the client, from where its packages are installed."""
    return "\n\n".join(_texts()) + "\n"


def heading(work: Work) -> str:
    """The line above a licence's text."""
    return f"{work.name} {work.version} ({work.licence})"


def _texts() -> Iterator[str]:
    yield "What the pages bring along, each under its own licence:"
    for work in client_packages():
        text = (CLIENT / "node_modules" / work.name / "LICENSE").read_text(encoding="utf-8")
        rule = "=" * len(heading(work))
        yield f"{rule}\n{heading(work)}\n{rule}\n\n{text.strip()}"


def _python_package(name: str) -> Work:
    about = metadata(name)

    def said(key: str) -> str | None:
        # Readers of metadata that packages put in the place of Python's own have no [] for what is not there.
        return about[key] if key in about else None  # noqa: SIM401 -- the protocol has no get

    pairs = (line.split(", ", 1) for line in about.get_all("Project-URL") or [])
    addresses = {what.lower(): address for what, address in pairs}
    stated = [
        kind.removeprefix(_CLASSIFIER) for kind in about.get_all("Classifier") or [] if _CLASSIFIER in kind
    ]
    text = said("License")
    short = text if text and "\n" not in text else None
    licence = said("License-Expression") or ", ".join(stated) or short
    if licence is None:
        raise ValueError(f"{name} states no licence")
    known = [addresses[key] for key in _ADDRESSES if key in addresses]
    return Work(
        name=name,
        version=about["Version"],
        licence=licence,
        address=[*known, said("Home-page") or ""][0],
    )


def _table(works: list[Work]) -> Iterator[str]:
    yield "| package | version | licence, as it states it |\n| --- | --- | --- |"
    for work in works:
        name = f"[{work.name}]({work.address})" if work.address else work.name
        yield f"| {name} | {work.version} | {work.licence} |"


def main() -> int:
    PAGE.write_text(
        rewritten(PAGE.read_text(encoding="utf-8"), page(), mark=MARK), encoding="utf-8", newline="\n"
    )
    print(PAGE.relative_to(ROOT))
    if not (CLIENT / "node_modules").is_dir():
        print(f"{TEXTS.relative_to(ROOT)} stays as it is: run web-client/build.sh first", file=sys.stderr)
        return 0
    for path in (TEXTS, BUILT_TEXTS):
        path.write_text(texts(), encoding="utf-8", newline="\n")
        print(path.relative_to(ROOT))
    return 0


if __name__ == "__main__":
    sys.exit(main())
