# SPDX-License-Identifier: BSD-3-Clause
"""A server for each test, and one that tests share that leave it as it was."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from ringwright.desk.desk import Desk
from tests.web.running import Running, running_server


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    with running_server(Desk(tmp_path)) as running:
        yield running


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running_server(Desk(tmp_path_factory.mktemp("shared"))) as running:
        yield running
