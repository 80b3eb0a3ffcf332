# SPDX-License-Identifier: BSD-3-Clause
"""What the page on the program's layout names is there."""

import importlib
import re
from pathlib import Path

PAGE = Path("docs/explanation/architecture.md").read_text(encoding="utf-8")


def found(name: str) -> bool:
    """Whether `ringwright.NAME` is a module, or something in one."""
    parts = name.split(".")
    for count in range(len(parts), 0, -1):
        try:
            thing: object = importlib.import_module(".".join(["ringwright", *parts[:count]]))
        except ModuleNotFoundError:
            continue
        for part in parts[count:]:
            if not hasattr(thing, part):
                return False
            thing = getattr(thing, part)
        return True
    return False


def test_every_module_and_class_that_it_names_is_there():
    names = re.findall(r"`([a-z_]+(?:\.[A-Za-z_]+)+)`", PAGE)
    ours = {name for name in names if Path("src/ringwright", name.partition(".")[0]).is_dir()}
    assert len(ours) > 25
    assert [name for name in sorted(ours) if not found(name)] == []


def test_every_file_that_it_names_is_there():
    paths = set(re.findall(r"`([a-z_-]+/[a-z_/.]+)`", PAGE))
    missing = {p for p in paths if not any(Path(root, p).exists() for root in (".", "src/ringwright"))}
    assert paths
    assert missing == set()
