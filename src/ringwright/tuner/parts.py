# SPDX-License-Identifier: BSD-3-Clause
"""What a session is put together from; `compose` picks the parts."""

from dataclasses import dataclass
from typing import Protocol

from ringwright.antenna.design import Design
from ringwright.tuner.brain import Ring
from ringwright.tuner.clock import Clock
from ringwright.tuner.device import Link
from ringwright.tuner.table_law import Law
from ringwright.tuner.twin_link import TwinLink


class JournalFile(Protocol):
    """Where the position is written down."""

    def read(self) -> bytes:
        """All of it."""
        ...

    def append(self, line: bytes) -> None:
        """One line more, safely there when this returns; raises StorageError."""
        ...

    def close(self) -> None:
        """Give it back."""
        ...


class JournalInMemory:
    """A twin's, which lives no longer than the twin; of its lines only the last tells anything."""

    def __init__(self) -> None:
        self._line = b""

    def read(self) -> bytes:
        return self._line

    def append(self, line: bytes) -> None:
        self._line = line

    def close(self) -> None:
        pass


class Surroundings(Protocol):
    """The operator and the transmitter, as far as the program can reach them."""

    def invited(self, power: float) -> None:
        """This power [W] may be used."""
        ...

    def called_up(self) -> None:
        """Stop transmitting."""
        ...

    def set_frequency(self, frequency: float) -> None:
        """What will be transmitted on [Hz]."""
        ...


class PersonAtTheKey:
    """Who is told everything in words, and reached in no other way."""

    def invited(self, power: float) -> None:
        pass

    def called_up(self) -> None:
        pass

    def set_frequency(self, frequency: float) -> None:
        pass


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """A tuner's parts. `twin`: the simulated drive, None where there is a real one."""

    link: Link
    clock: Clock
    journal: JournalFile
    surroundings: Surroundings
    ring: Ring
    law: Law
    design: Design
    twin: TwinLink | None = None
