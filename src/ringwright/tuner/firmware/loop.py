# SPDX-License-Identifier: BSD-3-Clause
"""One turn of the board: what came in, the pulses due, a reading when its time is over.

`hardware` is the pins or their simulation, `links` carry lines, `clock` tells milliseconds that only grow.
"""

GAP_MS = 20
"""Pulses later than this are not made up for."""
STATE_EVERY_MS = 10_000


class Loop:
    """Ties a board to its hardware and links."""

    def __init__(self, board, hardware, *, links, clock, reading_ms: int) -> None:
        self._board, self._hardware, self._links, self._clock = board, hardware, links, clock
        self._reading_ms = reading_ms
        self._read_at = clock.ms() + reading_ms
        self._told_at = 0
        self._told: tuple[object, ...] | None = None
        self._switches = (None, None)
        self.orders = 0

    def turn(self) -> None:
        """Once round; the caller waits a millisecond or until something comes."""
        board, hardware, links = self._board, self._hardware, self._links
        ms = self._clock.ms()
        hardware.feed()
        self._see_switches(ms)
        pulses = board.tick(ms)
        if pulses:
            hardware.step(pulses, board.pace(ms), look=self._meets_end if board.seeking else None)
        board.settle()
        for link in links:
            link.turn(ms, may_wait=not board.moving)
            for line in link.received():
                self._say(board.receive(line, ms))
                self.orders += 1
        hardware.show(board.moving, board.inhibit)
        hardware.sample()
        if ms >= self._read_at:
            self._read_at = max(self._read_at + self._reading_ms, ms)
            self._read(ms)

    def _meets_end(self) -> bool:
        """Whether the end stop sought is met: looked at after each pulse, so that the count is right to the step."""
        self._see_switches(self._clock.ms())
        return not self._board.seeking

    def _see_switches(self, ms: int) -> None:
        low, high = self._hardware.switches()
        if low is not None and low != self._switches[0]:
            self._board.low_switch(ms, low)
        if high is not None and high != self._switches[1]:
            self._board.high_switch(ms, high)
        self._switches = (low, high)

    def _read(self, ms: int) -> None:
        board = self._board
        forward, reflected, temperature = self._hardware.reading()
        lines = board.read_detectors(ms, forward, reflected, temperature_c=temperature)
        self._say(lines)
        state = (board.moving, board.sure, board.inhibit, board.stopped_by)
        if lines and (state != self._told or ms >= self._told_at + STATE_EVERY_MS):
            self._told, self._told_at = state, ms
            for link in self._links:
                link.keep(lines[-1])

    def _say(self, lines: list[str]) -> None:
        for line in lines:
            for link in self._links:
                link.say(line)


class GrowingClock:
    """Milliseconds that only grow, of a counter that begins anew now and then."""

    def __init__(self, ticks_ms, ticks_diff) -> None:
        self._ticks_ms, self._ticks_diff = ticks_ms, ticks_diff
        self._last = ticks_ms()
        self._ms = 0

    def ms(self) -> int:
        """Since the start; to be asked more often than once a day."""
        now = self._ticks_ms()
        self._ms += max(0, self._ticks_diff(now, self._last))
        self._last = now
        return self._ms
