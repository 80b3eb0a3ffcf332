# SPDX-License-Identifier: BSD-3-Clause
"""The site on the live socket: its picture in parts, each sent as it comes, the newest request only.

The first part follows the hand and starts at once. The slow ones wait until the hand rests, and while a prediction of
the same page is under way, so that they never delay a slider's answer; they stop as soon as a newer request is there.
"""

import asyncio
import logging
from collections.abc import Awaitable, Callable, Iterator

from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.latest import LatestWins
from ringwright.errors import RingwrightError
from ringwright.web.encode import own_fault, problem_of, to_text
from ringwright.web.encode_site import part_body, view_of
from ringwright.web.messages.site import SiteRequest

HAND_RESTS = 0.2
"""Seconds without a newer request: longer than a moving hand leaves between two."""

_log = logging.getLogger(__name__)


class SiteLine:
    """The site requests of one socket. `at_rest` is set while no prediction is wanted there."""

    def __init__(self, desk: Desk, send: Callable[[str], Awaitable[None]], at_rest: asyncio.Event) -> None:
        self._desk, self._send, self._at_rest = desk, send, at_rest
        self.requests: LatestWins[SiteRequest] = LatestWins()

    async def run(self) -> None:
        """Answer until cancelled."""
        while True:
            texts = part_texts(self._desk, await self.requests.take())
            patience = HAND_RESTS
            while (text := await asyncio.to_thread(next, texts, None)) is not None:
                await self._send(text)
                await self._at_rest.wait()
                if await self.requests.arrives_within(patience):
                    break
                patience = 0.0


def part_texts(desk: Desk, request: SiteRequest) -> Iterator[str]:
    """The messages that answer a request: every part, or why there is none."""
    draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
    try:
        for part in desk.site(draft, view_of(request.view)):
            yield to_text({"seq": request.seq} | part_body(part))
        return
    except RingwrightError as exc:
        problem = problem_of(exc)
    except Exception:  # noqa: BLE001 -- logged; a closed line would be opened again with the same draft
        _log.exception("a site could not be drawn")
        problem = own_fault()
    yield to_text({"type": "site_problem", "seq": request.seq} | problem.model_dump())
