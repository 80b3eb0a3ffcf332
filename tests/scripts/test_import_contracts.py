# SPDX-License-Identifier: BSD-3-Clause
"""The two import rules on small graphs made by hand, with the linter's own graph type."""

from typing import Any

import grimp
import pytest
from importlinter import Contract

from scripts.import_contracts import Doors, ImportsOnly

ALLOWED: dict[str, Any] = {"package": "ring.physics", "allowed": ["numpy", "ring.errors"]}
DOOR: dict[str, Any] = {"libraries": ["serial"], "packages": ["ring.tuner"]}


def is_kept(contract: type[Contract], options: dict[str, Any], importer: str, imported: str) -> bool:
    graph = grimp.ImportGraph()
    graph.add_import(importer=importer, imported=imported)
    return contract("rule", {}, options).check(graph, verbose=False).kept


@pytest.mark.parametrize(
    ("importer", "imported", "kept"),
    [
        ("ring.physics.wire", "numpy", True),
        ("ring.physics.wire", "ring.physics", True),
        ("ring.physics.wire", "ring.errors", True),
        ("ring.physics.wire", "ring", False),
        ("ring.physics.wire", "numpylike", False),
        ("ring.physics", "time", False),
        ("ring.physicsless", "time", True),
    ],
)
def test_a_package_imports_what_its_list_allows_and_nothing_else(importer, imported, kept):
    assert is_kept(ImportsOnly, ALLOWED, importer, imported) is kept


@pytest.mark.parametrize(
    ("importer", "imported", "kept"),
    [
        ("ring.tuner.links", "serial", True),
        ("ring.web", "serial", False),
        ("ring.tunerless", "serial", False),
        ("ring.web", "serialise", True),
    ],
)
def test_a_library_is_imported_behind_its_door_only(importer, imported, kept):
    assert is_kept(Doors, DOOR, importer, imported) is kept
