# SPDX-License-Identifier: BSD-3-Clause
"""How long to wait before a link is tried again: longer each time, up to a bound, and anew once it has worked."""

FIRST, MOST = 0.25, 4.0
"""Seconds: a plug that slips is back at once, one that is out costs a look every few seconds."""


class Backoff:
    """Waits of one link."""

    def __init__(self) -> None:
        self._next = FIRST

    def wait(self) -> float:
        """Seconds to wait now."""
        now, self._next = self._next, min(2.0 * self._next, MOST)
        return now

    def worked(self) -> None:
        """The link has carried something: the next break is a new one."""
        self._next = FIRST
