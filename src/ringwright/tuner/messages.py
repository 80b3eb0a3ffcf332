# SPDX-License-Identifier: BSD-3-Clause
"""What host and board say to each other, as values; `messages_text` writes and reads the lines.

One JSON object a line, each with the protocol version, a sequence number of its sender and, as its last key, a check
sum (`line_check`). Any line may be lost, come twice, late or garbled:

- The host's numbers grow over its whole life and over its restarts (they begin at the milliseconds of the wall clock),
  so that of two lines the newer is known. A board obeys an order only if its number is above all it has seen; `stop` is
  obeyed whatever its number. A board that starts anew takes the first number it sees.
- Orders are levels: the host compares each status with what it wants and says again what is not so. Nothing is lost
  with a lost acknowledgement.
- A status with a number not above the last seen of the same boot is dropped.

| host to board, `do` | with | meaning |
| --- | --- | --- |
| hello | | answer with an acknowledgement and a status |
| heartbeat | | the host lives and wants what it said; the board stops itself 1.5 s after the last line |
| move | to, speed | go to this count of whole steps, from wherever it is; replaces an earlier goal without a rest |
| stop | | stand still at once, forget the goal |
| ends | low, high | never step below low or above high |
| limit | tuning_power_w | never step while the board's own reading of forward power is above this |
| position | is, sure | count from now on so that the present position is this; sure or not |
| reference | | seek the end stop at the low end and count from there; sure then |
| inhibit | on | open the contact that lets the transmitter transmit |
| settings | | tell what is known of drive and meter: the answer is followed by a line of settings |
| set | key, value | remember one setting from now on, over power cuts and updates |

The speed of a move is in steps per second, null for the drive's own; more than that is taken for it. A drive that turns
slowly past the dip without resting is read at many places, and its shaft stays wound as it was: a rotor that rests
sticks.

Board to host an acknowledgement, `{"v":2,"seq":m,"answers":n,"ok":true,"why":null,"newest":n,"crc":..}` (`newest`: the
greatest number seen, so that a host whose wall clock was set back can number above it), and with each reading a status.
In a status `at` is the count now, `over` the counts where the reading's averaging time began and ended (a drive may
turn meanwhile), `ms` the board's own clock at the end of the reading, from its start on, in milliseconds. The forward
and reflected power are means over that time. `boots` counts the board's starts.
"""

from dataclasses import dataclass
from enum import StrEnum

VERSION = 2
LONGEST_LINE = 1000
"""Characters; a longer line is none of ours."""
MOST_STEPS = 2**31 - 1
MOST_NUMBER = 2**53 - 1
"""Every program that reads JSON keeps whole numbers up to here."""
MOST_SPEED = 100_000
"""Steps per second that a message may name."""
MOST_POWER = 1e5
"""Forward or reflected power [W] that a message may name."""
LONGEST_WHY = 200

HEARTBEAT = 0.5
"""Seconds from one heartbeat to the next."""
BOARD_PATIENCE = 1.5
"""Seconds after the last heartbeat at which the board stops by itself."""
NO_HEARTBEAT = "no heartbeat"
"""Why a board does not move that has heard no heartbeat for too long."""
STALE = 0.5
"""Seconds after which a reading is too old to act on."""


@dataclass(frozen=True, slots=True)
class Hello:
    """Asks the board to say what it does."""


@dataclass(frozen=True, slots=True)
class Heartbeat:
    """The host lives."""


@dataclass(frozen=True, slots=True)
class Move:
    """Go to a count of steps, at most at a speed [steps/s]; None for the drive's own."""

    to: int
    speed: int | None = None


@dataclass(frozen=True, slots=True)
class Stop:
    """Stand still at once."""


@dataclass(frozen=True, slots=True)
class Ends:
    """Soft ends of the travel."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class Limit:
    """Forward power [W] above which the drive must not step."""

    tuning_power: float


@dataclass(frozen=True, slots=True)
class Position:
    """The present position is this count."""

    at: int
    is_sure: bool


@dataclass(frozen=True, slots=True)
class Reference:
    """Seek the end stop at the low end and count from there."""


@dataclass(frozen=True, slots=True)
class Inhibit:
    """Keep the transmitter from transmitting, or let it."""

    is_on: bool


@dataclass(frozen=True, slots=True)
class AskSettings:
    """Asks the board what it knows of its drive and meter."""


@dataclass(frozen=True, slots=True)
class SetSetting:
    """Remember one setting of drive or meter from now on; `board_settings` lists them."""

    key: str
    value: object


Order = (
    Hello | Heartbeat | Move | Stop | Ends | Limit | Position | Reference | Inhibit | AskSettings | SetSetting
)


@dataclass(frozen=True, slots=True)
class HostLine:
    """An order with its number."""

    seq: int
    order: Order


class StoppedBy(StrEnum):
    """What made a board stand still before its goal."""

    STOP = "stop"
    HEARTBEAT = "heartbeat"
    POWER = "power"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Acknowledgement:
    """The board's answer to one order; `why` says what kept it from obeying, `newest` the greatest number it saw."""

    seq: int
    answers: int
    is_done: bool
    why: str | None
    newest: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Status:
    """What the board does and reads. Counts in steps, powers in watts, temperature in degrees Celsius.

    `forward_mv`, `reflected_mv`: the detectors' voltages; `low_stop`, `high_stop`: whether an end stop's switch says
    that the travel ends here. None where there is no such thing.
    """

    seq: int
    at: int
    is_sure: bool
    is_moving: bool
    to: int | None
    over: tuple[int, int]
    forward_power: float
    reflected_power: float
    temperature_c: float | None
    noise_db: float | None
    is_inhibited: bool
    boots: int
    milliseconds: int
    ends: tuple[int, int] | None
    stopped_by: StoppedBy | None
    forward_mv: float | None = None
    reflected_mv: float | None = None
    low_stop: bool | None = None
    high_stop: bool | None = None


@dataclass(frozen=True, slots=True)
class BoardSettings:
    """What the board knows of its drive and meter, and which firmware it runs."""

    seq: int
    values: dict[str, object]


BoardLine = Acknowledgement | Status | BoardSettings
