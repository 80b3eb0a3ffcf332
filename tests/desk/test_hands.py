# SPDX-License-Identifier: BSD-3-Clause
"""Hands: the same results from one process, from several, and from a scheduler's workers."""

import operator
import socket
import sys
from typing import Any

import pytest

from ringwright.desk.hands import WORTH_SHARING, Hands, hands_here
from ringwright.errors import LinkError, MissingLibraryError

NEGATIVE: Any = operator.neg  # another process can import it
ITEMS = list(range(-20, 20))
WANTED = [(number, -item) for number, item in enumerate(ITEMS)]


def test_one_pair_of_hands_works_in_order_in_this_process():
    with Hands(1) as hands:
        assert list(hands(lambda x: -x, ITEMS)) == WANTED


def test_little_work_is_done_here_and_much_by_others():
    with Hands(2) as hands:
        here = dict(
            hands(lambda x: -x, ITEMS[: WORTH_SHARING - 1])
        )  # a lambda cannot be sent to another process
        assert here == dict(WANTED[: WORTH_SHARING - 1])
        assert sorted(hands(NEGATIVE, ITEMS)) == WANTED
        with pytest.raises(TypeError, match="bad operand"):
            list(hands(NEGATIVE, ["x"] * WORTH_SHARING))
        half: Any = hands(NEGATIVE, ITEMS)
        next(half)
        half.close()
    assert hands_here() >= 1


def test_a_schedulers_workers_do_the_same():
    distributed = pytest.importorskip("distributed")
    with (
        distributed.LocalCluster(
            n_workers=1,
            threads_per_worker=1,
            processes=False,
            protocol="tcp",
            host="127.0.0.1",
            dashboard_address=None,
        ) as cluster,
        Hands(scheduler=cluster.scheduler_address) as hands,
    ):
        assert sorted(hands(NEGATIVE, ITEMS)) == WANTED


def test_no_scheduler_is_one_sentence_at_once():
    pytest.importorskip("distributed")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        closed = f"tcp://127.0.0.1:{free.getsockname()[1]}"
        for address in (closed, "nonsense", "tcp://host:port"):
            with (
                pytest.raises(LinkError, match=f'no scheduler answers at "{address}"; start one'),
                Hands(scheduler=address),
            ):
                pass


def test_without_the_library_the_sentence_says_how_to_get_it(monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with (
        pytest.raises(MissingLibraryError, match=r"ringwright\[scheduler\]"),
        Hands(scheduler="tcp://127.0.0.1:1"),
    ):
        pass
