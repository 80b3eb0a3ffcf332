# SPDX-License-Identifier: BSD-3-Clause
"""What a search found."""

from dataclasses import dataclass, field

from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.candidate import Candidate, Place
from ringwright.choose.rings.misses import Misses, Refused


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """Of an impossible brief the candidate that misses least, and by what: relaxing all of it makes it possible."""

    place: Place
    misses: Misses
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """`considered` candidates, of which `solved` were; `screened` were provably out before.

    `solutions`: full-wave solutions that carried them, of which `kept` were known from before; `verified` candidates
    solved for themselves. `passing`: how many are refused by nothing. `front` is best first, `weights` in the brief.
    """

    brief: Brief
    considered: int
    solved: int
    solutions: int
    kept: int
    verified: int
    passing: int
    front: tuple[Candidate, ...]
    refused: tuple[Refused, ...]
    nearest: Nearest | None = None
    candidates: tuple[Candidate, ...] = field(default=(), repr=False)

    @property
    def screened(self) -> int:
        return self.considered - self.solved

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from ringwright.choose.rings.found_html import found_html  # it describes this class

        return found_html(self)
