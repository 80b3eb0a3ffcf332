# SPDX-License-Identifier: BSD-3-Clause
"""Refuse in tracked text what holds on one machine only: `python -m scripts.check_words`.

Hosts of package registries (a mirror may serve another place) and absolute paths of somebody's machine.
"""

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

# One letter of each word stands in brackets, so that this file does not refuse itself.
_REFUSED = {
    "host of a package registry": re.compile(
        r"\b(?:py[p]i|np[m]js|de[b]ian)\.(?:org|com|net|io)\b|\bpython[h]osted\b", re.IGNORECASE
    ),
    "path of one machine": re.compile(r"(?<![\w.])/(?:(?:wor[k]|roo[t])/|tm[p]/\w|hom[e]/\w|User[s]/\w)"),
}


def tracked_texts(root: Path) -> Iterator[tuple[str, str]]:
    """Name and content of each tracked file that is text."""
    listing = subprocess.run(["git", "ls-files", "-z"], cwd=root, capture_output=True, check=True, text=True)
    for name in filter(None, listing.stdout.split("\0")):
        path = root / name
        if path.is_file():
            content = path.read_bytes()
            if b"\0" not in content:
                yield name, content.decode("utf-8", errors="replace")


def complaints(name: str, text: str) -> Iterator[str]:
    for number, line in enumerate(text.splitlines(), start=1):
        for what, pattern in _REFUSED.items():
            for match in pattern.finditer(line):
                yield f"{name}:{number}: {what}: {match[0]}"


def main() -> int:
    texts = list(tracked_texts(Path.cwd()))
    found = [line for name, text in texts for line in complaints(name, text)]
    for line in found:
        print(line)
    print(f"words: {len(texts)} files, {len(found)} complaints")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
