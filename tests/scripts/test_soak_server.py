# SPDX-License-Identifier: BSD-3-Clause
"""What counts as left behind; `python -m scripts.soak_server` has thirty pages at a server for minutes."""

import pytest

from scripts.soak_server import MAY_GROW, left

THIRD = {"memory_bytes": 190_000_000, "open_files": 8, "threads": 7, "tasks": 3, "objects": 175_000}


def test_a_server_as_it_was_has_nothing_left():
    assert left(THIRD, THIRD) == []
    assert left(THIRD, THIRD | {"threads": 6, "memory_bytes": THIRD["memory_bytes"] + int(MAY_GROW)}) == []


@pytest.mark.parametrize(
    ("name", "more", "words"),
    [
        ("open_files", 1, "open_files: 9 after 8"),
        ("threads", 1, "threads: 8 after 7"),
        ("tasks", 2, "tasks: 5 after 3"),
        ("memory_bytes", 40_000_000, "memory grew by 40 MB"),
    ],
)
def test_whatever_is_there_still_is_told(name, more, words):
    assert left(THIRD, THIRD | {name: THIRD[name] + more}) == [words]
