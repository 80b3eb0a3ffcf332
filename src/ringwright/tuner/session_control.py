# SPDX-License-Identifier: BSD-3-Clause
"""Who looks on and who holds control: one at a time, taken over on request; nobody needs it for STOP."""

from dataclasses import dataclass, field

PATIENCE = 3.0
"""Seconds without a sign from the page that holds control after which it counts as gone."""


@dataclass(slots=True)
class Control:
    """Viewers by their number, with the time of their last sign [s]."""

    seen: dict[int, float] = field(default_factory=dict)
    names: dict[int, str] = field(default_factory=dict)
    holder: int | None = None
    _last: int = 0

    def join(self, name: str, *, now: float) -> int:
        """One more looks on."""
        self._last += 1
        self.seen[self._last], self.names[self._last] = now, name
        return self._last

    def leave(self, viewer: int) -> None:
        """One looks on no more. One that held control still holds it until the patience is over: a page that is
        opened anew is no reason to stop."""
        if viewer != self.holder:
            self._forget(viewer)

    def sign(self, viewer: int, *, now: float) -> None:
        """A viewer is there."""
        if viewer in self.seen:
            self.seen[viewer] = now

    def take(self, viewer: int, *, now: float) -> None:
        """Control goes to a viewer, whoever has it."""
        if viewer in self.seen:
            self.holder = viewer
            self.sign(viewer, now=now)

    def may(self, viewer: int, *, now: float) -> bool:
        """Whether a viewer may ask for a move; control that nobody holds is taken by asking."""
        if self.holder is None:
            self.take(viewer, now=now)
        return self.holder == viewer

    def is_gone(self, *, now: float) -> bool:
        """Whether the holder has given no sign for too long."""
        return self.holder is not None and now - self.seen.get(self.holder, now) > PATIENCE

    def drop(self) -> None:
        """Nobody holds control; the one who did is forgotten."""
        gone, self.holder = self.holder, None
        if gone is not None:
            self._forget(gone)

    @property
    def holder_name(self) -> str | None:
        """Who holds control."""
        return None if self.holder is None else self.names.get(self.holder)

    def _forget(self, viewer: int) -> None:
        self.seen.pop(viewer, None)
        self.names.pop(viewer, None)
