# SPDX-License-Identifier: BSD-3-Clause
"""One broker for a module."""

from collections.abc import Iterator

import pytest

from tests.tuner.links.far_ends import Broker


@pytest.fixture(scope="module")
def broker(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Broker]:
    made = Broker(tmp_path_factory.mktemp("broker"))
    made.start()
    yield made
    made.kill()
