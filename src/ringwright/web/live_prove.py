# SPDX-License-Identifier: BSD-3-Clause
"""The proof on the live socket: each sweep at once, then the suspects."""

from collections.abc import Iterator

from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.jobs import Progress
from ringwright.desk.proving import judged_by
from ringwright.proof.document import proof_document
from ringwright.proof.proving import Proof
from ringwright.web.encode_proof import delivered, judged_bodies
from ringwright.web.live_job import Body, Followed
from ringwright.web.messages.proof import ProveRequest


class FollowedProof(Followed[Proof | None]):
    """A proof that runs."""

    def __init__(self, desk: Desk, request: ProveRequest) -> None:
        draft = Draft(base=Base(**request.base.model_dump()), edits=request.edits)
        self._sweeps, self._has_judged, self._told = request.sweeps, False, Progress()
        self.job = desk.prove(draft, [delivered(sent) for sent in request.sweeps]).start()

    def news(self, *, is_last: bool) -> Iterator[tuple[str, Body]]:
        """The sweeps as soon as each is judged, also where that is the end of it; then how far the suspects are."""
        judged, progress = judged_by(self.job), self.job.progress
        if judged is not None and not self._has_judged:
            self._has_judged = True
            yield "sweeps", {"sweeps": judged_bodies(self._sweeps, judged)}
        if progress != self._told and not is_last:
            self._told = progress
            yield "progress", {"done": progress.done, "total": progress.total, "text": progress.doing}

    def found(self, result: Proof | None) -> Body:
        """The document; null where no sweep could be used."""
        return {"proof": None if result is None else proof_document(result)}

    def stopped(self) -> Body:
        """Nothing: what was told of single sweeps holds."""
        return {}
