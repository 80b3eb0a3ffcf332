# SPDX-License-Identifier: BSD-3-Clause
"""The drive of a workspace: at most one session, which all pages look at; what it learns goes into the record.

Writing a record may take its time, so a thread of its own does it: the drive's turns never wait for a disk.
"""

import queue
import threading
from collections.abc import Callable
from dataclasses import KW_ONLY, dataclass, replace
from pathlib import Path
from typing import Any, Final

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import Prediction
from ringwright.errors import LinkError, RingwrightError, TunerBusyError, WorkspaceError
from ringwright.records.drive_files import keep_findings, open_journal, read_findings
from ringwright.records.records import Records
from ringwright.records.tuning import (
    LONGEST_WORDS,
    MOST_READINGS,
    Found,
    Outcome,
    TraceReading,
    Tuning,
    TuningPairs,
)
from ringwright.tuner.brain import Word
from ringwright.tuner.clock import Clock, SystemClock
from ringwright.tuner.commission import Assistant, Findings, with_findings
from ringwright.tuner.compose import real, simulated
from ringwright.tuner.links.address import Access
from ringwright.tuner.links.open import met_link
from ringwright.tuner.parts import Parts
from ringwright.tuner.session import Session
from ringwright.tuner.session_ended import Ended
from ringwright.tuner.session_told import Listener
from ringwright.tuner.session_view import SCHEMA
from ringwright.tuner.session_words import told_words
from ringwright.tuner.table import TuningTable, newest_of
from ringwright.tuner.table_law import predicted_law

NEVER_TOUCH: Final = (
    "While there is power the capacitor carries kilovolts, and they burn. Nobody may reach the ring, the capacitor or "
    "the drive while you tune; look there first, and again if you hear or see anything odd."
)
STOP_IS_NO_SWITCH: Final = (
    "STOP stops the drive, not the transmitter. Stop transmitting by the key, and before anybody goes near by the "
    "main switch."
)
AUTHORITY: Final = (
    "Send your call sign, listen before you key, keep to the bands and powers of your licence; with a thunderstorm "
    "about, disconnect and earth. Limits and codes differ by country: your licence and your local codes decide."
)
TWIN_SEED = 1
"""The same twin of a design each time, so that what was learnt of it holds."""
_OUTCOMES = {
    Word.TUNED: Outcome.TUNED,
    Word.NOT_FOUND: Outcome.NOT_FOUND,
    Word.LINK_LOST: Outcome.LOST,
    Word.STUCK: Outcome.LOST,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BandMark:
    """A band on the strip of positions: where the table has its middle and ends [steps]; limit [W]."""

    name: str
    low: float
    high: float
    at: float
    from_step: float
    to_step: float
    power_limit: float


@dataclass(frozen=True, slots=True)
class Connecting:
    """The design whose drive is connected, under its name; `text` is its file's."""

    design: Design
    prediction: Prediction
    _: KW_ONLY
    name: str
    text: str


def twin_table_name(name: str) -> str:
    """Under what name the table of a design's simulated twin is kept; never under that of the real one."""
    return f"{name}, simulated"


def begin_document(name: str, *, line: str | None) -> dict[str, Any]:
    """With which a stream begins: whose drive this is and where; `line` None: its simulated twin."""
    return {
        "schema": SCHEMA,
        "type": "begin",
        "design": name,
        "table": twin_table_name(name) if line is None else name,
        "is_simulated": line is None,
        "line": line,
    }


class DriveBench:
    """Every method may be called from any thread."""

    def __init__(
        self,
        workspace: Path,
        *,
        make_clock: Callable[[], Clock] = SystemClock,
        access: Access | None = None,
    ) -> None:
        self._workspace, self.make_clock, self.access = workspace, make_clock, access
        self._lock = threading.Lock()
        self._listeners: frozenset[Listener] = frozenset()
        self._session: Session | None = None
        self._keeper: _Keeper | None = None
        self._assistant: Assistant | None = None
        self.name = ""

    @property
    def session(self) -> Session | None:
        """The one that runs."""
        return self._session

    @property
    def assistant(self) -> Assistant | None:
        """Who brings up the drive of the session that runs."""
        return self._assistant

    def begin(self, what: Connecting, *, is_real: bool = False, clock: Clock | None = None) -> Session:
        """Begin to tune the drive of a design, the simulated one unless `is_real`; in a thread unless a clock is given.

        Raises
        ------
        TunerBusyError
            If a session runs already.
        TuningTableError
            If the design states no drive, or no travel of its capacitor.
        LinkError
            If the real drive cannot be reached.
        RecordError, StorageError
            If the workspace's record or journal cannot be read.
        """
        with self._lock:
            if self._session is not None:
                raise TunerBusyError(f"the drive of {self.name} is connected already; let it go first")
            table_name = what.name if is_real else twin_table_name(what.name)
            kept = kept_pairs(self._workspace, table_name)
            own_clock = clock or self.make_clock()
            parts = self._real(what, own_clock) if is_real else _simulated(what, own_clock, kept)
            found = self._found(parts, table_name)
            parts = replace(parts, ring=with_findings(parts.ring, found))
            table = TuningTable(law=parts.law, points=kept.points, site=kept.site)
            keeper = _Keeper(self._workspace, table=table_name, known=kept, design=what.text, tell=self._tell)
            session = Session(parts, table, on_table=keeper.keep_table, on_ended=keeper.keep_tuning)
            session.listen(self._tell)
            self.name, self._keeper, self._session = what.name, keeper, session
            self._assistant = Assistant(session, found, on_found=keeper.keep_findings)
            session.accompany(self._assistant)
            keeper.start()
            if clock is None:
                session.start()
        self._tell({"type": "begun"})
        return session

    def _found(self, parts: Parts, name: str) -> Findings:
        try:
            return read_findings(self._workspace, name, travel=parts.law.last)
        except BaseException:
            parts.link.close()
            parts.journal.close()
            raise

    def _real(self, what: Connecting, clock: Clock) -> Parts:
        if self.access is None:
            raise LinkError(
                "no line to a real drive was named; start with --link serial:PORT or mqtt://USER@HOST/NAME"
            )
        predicted_law(
            what.design, what.prediction
        )  # a design without a drive is refused before anything is opened
        link = met_link(self.access, wall_milliseconds=clock.wall_milliseconds)
        try:
            journal = open_journal(self._workspace, what.name)
            return real(what.design, what.prediction, link=link, clock=clock, journal=journal)
        except BaseException:
            link.close()
            raise

    def end(self) -> None:
        """Stop the drive and let it go."""
        with self._lock:
            session, keeper = self._session, self._keeper
            self._session = self._keeper = self._assistant = None
        if session is not None:
            session.close()
        if keeper is not None:
            keeper.close()
        if session is not None:
            self._tell({"type": "let_go"})

    def stop(self) -> bool:
        """STOP; whether there was anything to stop."""
        session = self._session
        if session is None:
            return False
        session.stop()
        return True

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Hand every document to a listener, from whatever thread it comes; what ends that."""
        with self._lock:
            self._listeners |= {listener}

        def end() -> None:
            with self._lock:
                self._listeners -= {listener}

        return end

    def edit(self, change: Callable[[TuningTable], TuningTable]) -> TuningTable:
        """Change the table of the session that runs, and keep it.

        Raises
        ------
        TuningTableError
            If the change cannot be made.
        """
        session, keeper = self._session, self._keeper
        if session is None or keeper is None:
            raise TunerBusyError("no drive is connected; connect one first")
        table = change(session.table)
        session.set_table(table)
        keeper.keep_table(table)
        return table

    def tell_again(self) -> None:
        """Have everybody told anew what is connected."""
        self._tell({"type": "table"})

    def _tell(self, document: dict[str, Any]) -> None:
        for listener in self._listeners:
            listener(document)


def _simulated(what: Connecting, clock: Clock, kept: TuningPairs) -> Parts:
    return simulated(
        what.design,
        what.prediction,
        clock=clock,
        seed=TWIN_SEED,
        learnt=newest_of(kept.points, kept.site),
    )


def kept_pairs(workspace: Path, table_name: str) -> TuningPairs:
    """The pairs that a workspace has of a table; none where it is no workspace."""
    try:
        with Records.open(workspace) as records:
            return records.table(table_name)
    except WorkspaceError:
        return TuningPairs(points=(), site="home")


def band_marks(session: Session) -> tuple[BandMark, ...]:
    """The bands on the strip of positions, as the table has them now."""
    curve = session.curve
    return tuple(
        BandMark(
            name=band.name,
            low=band.low,
            high=band.high,
            at=curve.position((band.low + band.high) / 2.0),
            from_step=curve.position(band.high),
            to_step=curve.position(band.low),
            power_limit=band.power_limit,
        )
        for band in session.parts.ring.bands
    )


def tuning_of(ended: Ended, *, table: str) -> Tuning:
    """A search that ended, as the record keeps it: positions as the count has them since."""
    search, told, moved = ended.search, dict(ended.told.values), ended.moved
    readings = search.readings[-MOST_READINGS:]
    began = readings[0].at if readings else 0.0
    swr = told.get("swr")
    position = told.get("position")
    return Tuning(
        at=ended.at,
        table=table,
        band=search.band.name,
        frequency=search.frequency,
        outcome=_OUTCOMES.get(ended.told.word, Outcome.STOPPED),
        found=Found(
            expected=search.expected + moved,
            position=None if not isinstance(position, int | float) else round(position + moved),
            swr=float(swr) if isinstance(swr, int | float) and swr < 1e6 else None,
            carrier=search.carrier,
            temperature=search.temperature_c,
            words=told_words(ended.told)[:LONGEST_WORDS],
            trace=tuple(
                TraceReading(
                    after=max(each.at - began, 0.0),
                    position=round((each.start + each.end) / 2.0 + moved),
                    reflection=each.reflection,
                    forward=each.forward,
                )
                for each in readings
            ),
        ),
    )


class _Keeper:
    """Writes what a session learns into the record, in a thread of its own, in the order in which it came."""

    def __init__(
        self,
        workspace: Path,
        *,
        table: str,
        known: TuningPairs,
        design: str,
        tell: Callable[[dict[str, Any]], None],
    ) -> None:
        self._workspace, self._table, self._design, self._tell = workspace, table, design, tell
        self._known = known
        self._waiting: queue.SimpleQueue[Callable[[Records], object] | None] = queue.SimpleQueue()
        self._thread = threading.Thread(target=self._run, daemon=True, name="ringwright tuner's record")

    def start(self) -> None:
        self._thread.start()

    def close(self) -> None:
        """Write what waits, and end."""
        self._waiting.put(None)
        self._thread.join()

    def keep_table(self, table: TuningTable) -> None:
        pairs = TuningPairs(points=table.points, site=table.site)

        def write(records: Records) -> None:
            records.keep_table(self._table, pairs, over=self._known)
            self._known = pairs  # only now: what was not kept is no change of somebody else's

        self._waiting.put(write)

    def keep_findings(self, found: Findings) -> None:
        self._waiting.put(lambda _: keep_findings(self._workspace, self._table, found))

    def keep_tuning(self, ended: Ended) -> None:
        def write(records: Records) -> None:  # what cannot be kept is told; the drive goes on
            records.add_tuning(tuning_of(ended, table=self._table), design=self._design)

        self._waiting.put(write)

    def _run(self) -> None:
        while (write := self._waiting.get()) is not None:
            try:
                with Records.open(self._workspace) as records:
                    write(records)
            except WorkspaceError:
                continue  # pages served from a folder that is no workspace keep nothing, here as elsewhere
            except RingwrightError as exc:
                self._tell(
                    {"type": "told", "at_s": None, "word": "note", "words": f"Not kept: {exc}", "values": {}}
                )
