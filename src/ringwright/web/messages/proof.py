# SPDX-License-Identifier: BSD-3-Clause
"""The proof on the live socket: a draft and sweeps go in; each sweep's answer comes back, then all of it together.

Of the requests on one socket only the newest is worked on; a newer one, or `prove_stop`, ends the one before it.
"""

from typing import Annotated, Literal

from pydantic import Field

from ringwright.web.messages.base import Base, Edits, Message, Problem
from ringwright.web.messages.designs import FigureEntry

LONGEST_SWEEP = 2_000_000
MOST_SWEEPS = 40
_BASE64 = r"^(?:[A-Za-z0-9+/]{4})*(?:[A-Za-z0-9+/]{2}==|[A-Za-z0-9+/]{3}=)?$"


class SweepSent(Message):
    """A sweep: `file` with its bytes, `readings` as typed, or (`folder`, nothing else) one of the workspace's sweeps/.

    The name's ending tells a file's format; it is only ever shown and matched. A file's bytes are `content` in base64
    (RFC 4648, section 4), as they lie on the disk; where it is left out, `text` in UTF-8. `columns` name those of a
    table by heading or number, `swr=3`, `frequency_unit=kHz`; the workspace remembers them.
    """

    name: Annotated[str, Field(min_length=1, max_length=255)]
    kind: Literal["file", "readings", "folder"]
    text: Annotated[str, Field(max_length=LONGEST_SWEEP)] = ""
    content: Annotated[str, Field(max_length=4 * (LONGEST_SWEEP // 3 + 1), pattern=_BASE64)] | None = None
    columns: Annotated[list[Annotated[str, Field(max_length=300)]], Field(max_length=12)] = Field(
        default_factory=list
    )


class ProveRequest(Message):
    """Set sweeps against a draft; the whole message within the socket's limit."""

    type: Literal["prove"]
    seq: Annotated[int, Field(ge=0, le=2**53)]
    base: Base = Field(default_factory=Base)
    edits: Edits = Field(default_factory=dict)
    sweeps: Annotated[list[SweepSent], Field(min_length=1, max_length=MOST_SWEEPS)]


class ProveStop(Message):
    """End the work; what was told of single sweeps holds."""

    type: Literal["prove_stop"]


class PredictedSweep(Message):
    """What the design predicts of it. `q_unloaded` as the same fit finds it in the predicted sweep."""

    q_unloaded: float
    q_unloaded_range: tuple[float, float]
    coupling: float
    efficiency_pct: float
    resistance_total_ohm: float


class WattsFoundPct(Message):
    """Share of the power in the ring at each address, and what the design does not explain."""

    sky: float
    earth: float | None = None
    ring: float
    joints: float
    capacitor: float
    coupling: float | None = None
    metal: float | None = None
    unexplained: float


class ProvedSweep(Message):
    """One sweep of the proof document; `KEY_low` and `KEY_high` are the ends of the 95 % interval."""

    file: str
    kind: Literal["reflection", "swr", "transmission"]
    band: str | None
    frequency_hz: float | None
    frequency_hz_low: float | None
    frequency_hz_high: float | None
    q_unloaded: float | None
    q_unloaded_low: float | None
    q_unloaded_high: float | None
    q_loaded: float | None
    q_loaded_low: float | None
    q_loaded_high: float | None
    coupling: float | None
    coupling_low: float | None
    coupling_high: float | None
    swr_min: float | None
    swr_min_low: float | None
    swr_min_high: float | None
    bandwidth_half_power_hz: float | None
    bandwidth_half_power_hz_low: float | None
    bandwidth_half_power_hz_high: float | None
    resistance_total_ohm: float | None
    resistance_total_ohm_low: float | None
    resistance_total_ohm_high: float | None
    efficiency_pct: float | None
    efficiency_pct_low: float | None
    efficiency_pct_high: float | None
    flags: list[str]
    notes: list[str]
    verdict: str
    match: str | None
    predicted: PredictedSweep
    radiation_resistance_ohm: float
    feedline_loss_db: float
    loss_found_db: float | None
    loss_found_db_low: float | None
    loss_found_db_high: float | None
    watts_found_pct: WattsFoundPct


class Trace(Message):
    """A line over frequency, all lists of one length: reflection where there is phase, SWR unless a transmission."""

    frequency_hz: list[float]
    re: list[float] | None
    im: list[float] | None
    swr: list[float] | None


class ProofCurves(Message):
    """As at the coupling loop, the cable taken out; a transmission as a share of its circle.

    `predicted` is null of a transmission; `predicted_swr_low` and `_high` lie along it.
    """

    measured: Trace
    fitted: Trace
    predicted: Trace | None
    predicted_swr_low: list[float] | None
    predicted_swr_high: list[float] | None


class ProofSweep(Message):
    """A sweep of the request, in its order: found with its curves, or why it could not be.

    `sha256` is of the file in sweeps/ that keeping it makes; null where it could not be read. `headings` are those of a
    table, so that a person may say what its columns are.
    """

    name: str
    problem: str | None
    headings: list[str]
    sha256: str | None
    found: ProvedSweep | None
    curves: ProofCurves | None


class ProofSweeps(Message):
    """Every sweep by itself; comes first."""

    type: Literal["proof_sweeps"]
    seq: int
    sweeps: list[ProofSweep]


class ProofProgress(Message):
    """How far the comparison of all of them together is; `total` null before it is known."""

    type: Literal["proof_progress"]
    seq: int
    done: int
    total: int | None
    text: str


Cause = Literal["joints", "capacitor", "conductor", "earth", "metal", "coupling", "feed_line", "none"]


class SuspectSize(Message):
    """How large the fault would be."""

    what: str
    unit: str
    value: float
    low: float
    high: float


class Suspect(Message):
    """A cause; the rest holds if it is to blame. `gains_db` sweep by sweep."""

    cause: Cause
    probability: float
    resistance_ohm: float
    resistance_ohm_low: float
    resistance_ohm_high: float
    at_frequency_hz: float
    gain_db: float
    gain_db_low: float
    gain_db_high: float
    gain_at_frequency_hz: float
    gains_db: list[float]
    size: SuspectSize | None


class NextMeasurement(Message):
    do: str
    separates: tuple[Cause, Cause]
    expected_information_bits: float
    is_worth_making: bool


class ProofDocument(Message):
    """What `prove --json` prints; suspects most probable first."""

    schema_: Literal["ringwright.proof/1"] = Field(alias="schema")
    design: str
    sweeps: list[ProvedSweep]
    diagnosis: list[Suspect]
    not_told_apart: list[Cause]
    next_measurement: NextMeasurement | None
    other_measurements: list[NextMeasurement]


class ProofFound(Message):
    """The end: all sweeps together; `proof` null where none could be read."""

    type: Literal["proof_found"]
    seq: int
    proof: ProofDocument | None
    elapsed_ms: float


class ProofStopped(Message):
    """The work was ended before it came to the suspects."""

    type: Literal["proof_stopped"]
    seq: int


class ProofProblem(Problem):
    """Why there is no proof; `seq` null where the request could not be read."""

    type: Literal["proof_problem"]
    seq: int | None


class SweepChanged(Message):
    """A sweep file of the workspace is new or has changed and come to rest, or is gone.

    `sha256` is of its bytes; null where it is gone or cannot be read. `is_recorded`: it came by being recorded.
    """

    type: Literal["sweep_changed"]
    name: str
    is_there: bool
    sha256: str | None
    is_recorded: bool


class SweepEntry(Message):
    name: str
    size_bytes: int


class SweepList(Message):
    """The sweep files of the workspace's sweeps/."""

    sweeps: list[SweepEntry]


class ProofCautions(Message):
    """In words, each for the place of its danger."""

    before_touching: str
    analyser: str
    weather: str
    authority: str


class ProofTable(Message):
    """What a page of a proof needs once: its figures, and the cautions in words."""

    figures: list[FigureEntry]
    cautions: ProofCautions


ProofAnswer = ProofSweeps | ProofProgress | ProofFound | ProofStopped | ProofProblem
