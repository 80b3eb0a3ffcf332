# SPDX-License-Identifier: BSD-3-Clause
"""Messages of the WebSocket `/api/v1/tune`: one JSON object each, told apart by `type`. Positions are in steps.

STOP needs no control and no connected page of its own: `tune_stop` here, or `POST /api/v1/tune/stop`.
"""

from typing import Annotated, Literal

from pydantic import Field, RootModel

from ringwright.web.messages.base import Base, Edits, Message, Problem

Hertz = Annotated[float, Field(ge=1e5, le=1e8, allow_inf_nan=False)]


class TuneHello(Message):
    """First message of a page: what others see as its name.

    `key` is that of the `drive` it was told of last: a page whose line was cut is then the same viewer as before.
    """

    type: Literal["tune_hello"]
    key: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")] | None = None
    name: Annotated[str, Field(min_length=1, max_length=30, pattern=r"^[\w .()+-]+$")]


class TuneConnect(Message):
    """Connect the simulated drive of a draft; with `is_example` that of the terrace octagon that ships with us.

    With `is_real` the drive at the far end of the line that the server was started with.
    """

    type: Literal["tune_connect"]
    is_real: bool = False
    is_example: bool = False
    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)


class TuneLetGo(Message):
    """Stop the drive and let it go. Needs control, if another holds it."""

    type: Literal["tune_let_go"]


class TuneSign(Message):
    """The page is there. One that holds control says so every second, or the drive is stopped."""

    type: Literal["tune_sign"]


class TuneStop(Message):
    """STOP. A level: holds until `release` is asked for."""

    type: Literal["tune_stop"]


class TuneTake(Message):
    """Take control over."""

    type: Literal["tune_take"]


class TuneGo(Message):
    """Go to a frequency: `tune` with a carrier of low power, `place` where the table has it, `listen` for noise."""

    type: Literal["tune_go"]
    how: Literal["tune", "place", "listen"]
    frequency_hz: Hertz


class TuneNudge(Message):
    """A nudge button is down: said again every 0.2 s, or the drive stands still. 0: it was let go.

    The drive goes by `change_hz`, and as far again every 0.5 s while the button is down; what was begun is ended.
    """

    type: Literal["tune_nudge"]
    change_hz: Annotated[float, Field(ge=-1e6, le=1e6, allow_inf_nan=False)]


class TuneRise(Message):
    """Take a tuned ring to a power, step by step."""

    type: Literal["tune_rise"]
    power_w: Annotated[float, Field(gt=0, le=1e4, allow_inf_nan=False)]


class TuneDo(Message):
    """Anything else that is asked of the drive."""

    type: Literal["tune_do"]
    what: Literal["release", "clear_lock", "follow", "leave", "loudest", "reference"]


class TunePull(Message):
    """Pull the simulated cable, or put it in again."""

    type: Literal["tune_pull"]
    is_pulled: bool


class TuneTable(Message):
    """Edit the table: leave a pair out by its number from 1, or say that the antenna stands on another site now."""

    type: Literal["tune_table"]
    remove: Annotated[int, Field(ge=1, le=500)] | None = None
    site: Annotated[str, Field(min_length=1, max_length=40)] | None = None


class TuneCommission(Message):
    """Bring the drive up: begin the next step, `again` a step and all after it; answer; leave. Needs control."""

    type: Literal["tune_commission"]
    what: Literal["begin", "again", "answer", "leave"]
    step: Literal["board", "direction", "ends", "play", "meter", "table"] | None = None
    answer: Annotated[str, Field(max_length=40)] | None = None


class TuneAsked(
    RootModel[
        Annotated[
            TuneHello
            | TuneConnect
            | TuneLetGo
            | TuneSign
            | TuneStop
            | TuneTake
            | TuneGo
            | TuneNudge
            | TuneRise
            | TuneDo
            | TunePull
            | TuneTable
            | TuneCommission,
            Field(discriminator="type"),
        ]
    ]
):
    """Everything a page may send."""


class TuneCautions(Message):
    """In words, where the danger is."""

    never_touch: str
    stop_is_no_switch: str
    authority: str


class TuneBand(Message):
    """A band as the table has it now."""

    name: str
    low_hz: float
    high_hz: float
    at_steps: float
    from_steps: float
    to_steps: float
    limit_w: float


class TunePair(Message):
    """A measured pair of the table."""

    number: int
    position_steps: int
    frequency_hz: float
    temperature_degc: float | None
    at: str
    site: str


class TuneDrive(Message):
    """The drive that is connected, with its table. `viewer` is this page's number, `key` what proves that it is."""

    type: Literal["drive"]
    viewer: int
    key: str
    design: str
    is_simulated: bool
    line: str | None
    is_pulled: bool
    last_steps: int
    bands: list[TuneBand]
    site: str
    sites: list[str]
    pairs: list[TunePair]
    cautions: TuneCautions


class TuneNoDrive(Message):
    """No drive is connected. `line`: where the real one is, as the server was started; null without one."""

    type: Literal["no_drive"]
    line: str | None
    cautions: TuneCautions


class TuneState(Message):
    """How things stand, ten times a second; `swr` is null where there is none or all comes back.

    `proved`: no dip since the end stop was elsewhere than the table had it. `way_s`: seconds to where the drive goes.
    """

    type: Literal["state"]
    at_s: float
    phase: str
    words: str
    link: bool
    sure: bool
    proved: bool
    moving: bool
    stopped: bool
    locked: str | None
    following: bool
    position_steps: int | None
    to_steps: int | None
    way_s: float | None
    frequency_hz: float | None
    target_hz: float | None
    band: str | None
    swr: float | None
    forward_w: float | None
    temperature_degc: float | None
    noise_db: float | None
    invited_w: float | None
    limit_w: float | None
    reading_age_s: float | None


class TuneDip(Message):
    """Reflected over forward power: floor - depth / (1 + x^2), x = (position - centre) / half_width."""

    centre_steps: float
    centre_sigma_steps: float
    half_width_steps: float
    floor: float
    depth: float


class TuneSearch(Message):
    """A search: readings of position and SWR, null where all comes back, and the dip fitted to them."""

    type: Literal["search"]
    frequency_hz: float
    low_steps: float
    high_steps: float
    expected_steps: float
    sigma_steps: float
    readings: list[tuple[float, float | None]]
    dip: TuneDip | None
    carrier_s: float


class TuneTold(Message):
    """Something that was told; `word` for programs, `words` for people."""

    type: Literal["told"]
    at_s: float | None
    word: str
    words: str
    values: dict[str, float | str | None]


class TuneControl(Message):
    """Who holds control, and how many look on."""

    type: Literal["control"]
    holder: int | None
    holder_name: str | None
    viewers: int


class TuneStep(Message):
    """A step of bringing the drive up: what it expects and, once it is done, what it found."""

    name: Literal["board", "direction", "ends", "play", "meter", "table"]
    title: str
    expects: str
    is_done: bool
    found: str | None


class TuneBringUp(Message):
    """How far the drive is brought up. `step` is next or being done; no `choices`: a number of `unit` is asked for."""

    type: Literal["commission"]
    step: str | None
    is_running: bool
    question: str | None
    choices: list[str]
    unit: str
    refusal: str | None
    is_done: bool
    steps: list[TuneStep]


class TuneProblem(Problem):
    """What was asked could not be done."""

    type: Literal["tune_problem"]


class TuneSaid(
    RootModel[
        Annotated[
            TuneDrive
            | TuneNoDrive
            | TuneState
            | TuneSearch
            | TuneTold
            | TuneControl
            | TuneBringUp
            | TuneProblem,
            Field(discriminator="type"),
        ]
    ]
):
    """Everything the server may send."""


class TuneStopped(Message):
    """Answer to `POST /api/v1/tune/stop`; `was_connected` tells whether there was a drive to stop."""

    was_connected: bool
