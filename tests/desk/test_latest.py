# SPDX-License-Identifier: BSD-3-Clause
"""Of the requests that wait only the newest is worked on, and nothing is lost or doubled on the way."""

import asyncio

from hypothesis import given
from hypothesis import strategies as st

from ringwright.desk.latest import LatestWins


def test_the_newest_of_many_that_wait_is_taken():
    async def scene():
        waiting: LatestWins[int] = LatestWins()
        for number in range(5):
            waiting.put(number)
        return await waiting.take(), waiting.dropped

    assert asyncio.run(scene()) == (4, 4)


def test_a_taker_waits_for_the_next_request():
    async def scene():
        waiting: LatestWins[str] = LatestWins()
        waiting.put("first")
        first = await waiting.take()
        taker = asyncio.create_task(waiting.take())
        await asyncio.sleep(0)
        assert not taker.done()
        waiting.put("second")
        return first, await taker

    assert asyncio.run(scene()) == ("first", "second")


@given(st.lists(st.booleans(), max_size=40))
def test_every_request_is_taken_or_dropped_and_the_order_stays(puts):
    """True puts the next number, False lets the taker run."""

    async def scene():
        waiting: LatestWins[int] = LatestWins()
        taken: list[int] = []

        async def take_for_ever():
            while True:
                taken.append(await waiting.take())

        taker = asyncio.create_task(take_for_ever())
        number = 0
        for is_put in [*puts, False]:
            if is_put:
                waiting.put(number)
                number += 1
            else:
                await asyncio.sleep(0)
                await asyncio.sleep(0)
        taker.cancel()
        return taken, waiting.dropped, number

    taken, dropped, number = asyncio.run(scene())
    assert taken == sorted(set(taken))
    assert len(taken) + dropped == number
    assert taken[-1:] == list(range(number))[-1:]
