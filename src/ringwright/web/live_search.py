# SPDX-License-Identifier: BSD-3-Clause
"""The search for rings on the live socket."""

from collections.abc import Iterator
from typing import Any

from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.document import candidate_document, search_document
from ringwright.choose.rings.finding import Advance
from ringwright.choose.rings.found import Found
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.jobs import Job
from ringwright.web.live_job import Body, Followed
from ringwright.web.messages.search import SearchRequest


class FollowedSearch(Followed[Found]):
    """A search that runs; the best so far goes with each word of it."""

    def __init__(self, desk: Desk, request: SearchRequest) -> None:
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        asked = request.brief.model_dump(exclude_none=True)
        self._brief, job = desk.search(draft, asked, from_file=request.from_file)
        self.job, self._told = job.start(), ""

    def news(self, *, is_last: bool) -> Iterator[tuple[str, Body]]:
        """How far it is."""
        progress = self.job.progress
        if progress.doing != self._told and not is_last:
            self._told = progress.doing
            yield (
                "progress",
                {"done": progress.done, "total": progress.total or 1, "text": self._told} | self.stopped(),
            )

    def found(self, result: Found) -> Body:
        """The document."""
        return {"search": search_body(result)}

    def stopped(self) -> Body:
        """The best so far."""
        return {"best": _best(self._brief, self.job)}


def search_body(found: Found) -> dict[str, Any]:
    """The document, each ring with its shape in a word of its own."""
    document = search_document(found)
    shapes = [found.brief.shapes[each.place[0]] for each in found.front]
    document["front"] = [
        ring | {"shape": shape} for ring, shape in zip(document["front"], shapes, strict=True)
    ]
    return document


def _best(brief: Brief, job: Job[Found]) -> list[dict[str, Any]]:
    """The best so far, the last finding that has any."""
    for found in reversed(job.findings):
        if isinstance(found, Advance) and found.best:
            return [
                candidate_document(brief, each) | {"shape": brief.shapes[each.place[0]]}
                for each in found.best
            ]
    return []
