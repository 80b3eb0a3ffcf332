# SPDX-License-Identifier: BSD-3-Clause
"""The search for a coupling on the live socket."""

from collections.abc import Iterator

from ringwright.choose.match import CouplingMatch
from ringwright.choose.match_document import match_document, trial_document
from ringwright.choose.trials import Trial
from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.matching import match_edits
from ringwright.web.live_job import Body, Followed
from ringwright.web.messages.match import MatchRequest


class FollowedMatch(Followed[CouplingMatch]):
    """A search that runs; each coupling it tries is told of."""

    def __init__(self, desk: Desk, request: MatchRequest) -> None:
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        self.job, self._told = desk.match(draft, request.vary).start(), 0

    def news(self, *, is_last: bool) -> Iterator[tuple[str, Body]]:
        """How many were tried, and the best of them."""
        progress, best = self.job.progress, self._best
        if best is not None and progress.done > self._told and not is_last:
            self._told = progress.done
            word = {"tried": self._told, "text": progress.doing, "best": trial_document(best)}
            yield "progress", word

    def found(self, result: CouplingMatch) -> Body:
        """The document, and the edits that take it over."""
        return {"match": match_document(result), "edits": match_edits(result)}

    def stopped(self) -> Body:
        """The best so far."""
        best = self._best
        return {"best": None if best is None else trial_document(best)}

    @property
    def _best(self) -> Trial | None:
        """The last finding of the search."""
        found = self.job.findings
        return found[-1] if found and isinstance(found[-1], Trial) else None
