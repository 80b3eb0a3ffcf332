# SPDX-License-Identifier: BSD-3-Clause
"""A workspace and its open record."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from ringwright.records.records import Records
from tests.records.recording import workspace_in


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    return workspace_in(tmp_path / "terrace")


@pytest.fixture
def records(workspace: Path) -> Iterator[Records]:
    with Records.open(workspace) as opened:
        yield opened
