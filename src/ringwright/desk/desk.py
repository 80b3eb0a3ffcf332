# SPDX-License-Identifier: BSD-3-Clause
"""The desk: the one thing the faces call. It keeps drafts' texts and full-wave solutions; every face converts."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from ringwright.air.expected import Promise
from ringwright.antenna.design import Design
from ringwright.antenna.design_file import design_of, read_tables
from ringwright.antenna.predict import predict
from ringwright.antenna.prediction import Prediction
from ringwright.antenna.scenario import FIRST_RING, shipped_text
from ringwright.choose.match import CouplingMatch
from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.found import Found
from ringwright.desk.air_answers import PredictedPattern, predicted_pattern
from ringwright.desk.airing import ReportTable
from ringwright.desk.brief_form import BRIEF_FILE, StoredBrief, stored_brief, with_the_file
from ringwright.desk.building import building
from ringwright.desk.calibrations import Calibrations
from ringwright.desk.design_folder import DesignFolder, etag_of
from ringwright.desk.drafts import Base, Draft, KeptTexts, OpenDesign, drafted_design, opened
from ringwright.desk.edited_text import text_with_edits
from ringwright.desk.edits import with_edits
from ringwright.desk.jobs import Job
from ringwright.desk.matching import matching
from ringwright.desk.picture import Curves, Drawing, curves, drawing
from ringwright.desk.predictions import Predictions, Predictor
from ringwright.desk.proving import Delivered, judge, proving
from ringwright.desk.record_keeping import Kept, Labels, proved_of
from ringwright.desk.recording import RecordBook
from ringwright.desk.saving import Conflict, Saved, save
from ringwright.desk.searching import AtHand, SearchWay, at_hand, drafted_brief, journal_of, searching
from ringwright.desk.site import SiteView, site_parts
from ringwright.desk.site.kept_distances import KeptDistances
from ringwright.desk.site.parts import SitePart
from ringwright.desk.sweep_files import SweepFiles
from ringwright.desk.tuning import Connecting, DriveBench
from ringwright.errors import DesignFileError, NoSuchDesignError, StaleDraftError
from ringwright.proof.accepted import Accepted
from ringwright.proof.proving import Proof
from ringwright.sheet.build import Build
from ringwright.units import shown

_DEFAULT = re.compile(r"(?P<key>[\w.\[\]]+) = (?P<value>.*?) \((?P<why>.*)\)", re.DOTALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class DefaultUsed:
    """A key that a draft leaves open, the value that stands for it, and why that one."""

    key: str
    value: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A draft, predicted, with all that a page draws; `detail_band` is the one the drawing shows.

    `solves` counts the full-wave solutions it took.
    """

    prediction: Prediction
    curves: tuple[Curves, ...]
    drawing: Drawing
    detail_band: int
    defaults: tuple[DefaultUsed, ...]
    solves: int


class Desk:
    """Designs of one workspace. Every method may be called from any thread; predictions take turns."""

    def __init__(self, workspace: Path, predictor: Predictor = predict) -> None:
        self.folder = DesignFolder(workspace)
        self.sweeps = SweepFiles(self.folder.workspace)
        self.record = RecordBook(self.folder)
        self.calibrations = Calibrations(self.folder.workspace)
        self.drive = DriveBench(self.folder.workspace)
        self.reports = ReportTable(self.folder.workspace, self.record)
        self._predictions, self._aside = Predictions(predictor), Predictions(predictor)
        self._distances = KeptDistances()
        self._texts = KeptTexts()

    @property
    def name(self) -> str:
        """The workspace as its owner knows it."""
        return self.folder.workspace.name

    def predict(self, draft: Draft, detail_band: int = 0) -> Answer:
        """Predict a draft and draw it; `detail_band` beyond the last band means the last.

        Raises
        ------
        DesignError, OutOfRangeError
            If the draft makes no design, or one that cannot be solved.
        StaleDraftError
            If its text is no longer known.
        """
        design = self._design_of(draft)
        prediction, solves = self._predictions.new(design)
        detail_band = min(detail_band, len(prediction.bands) - 1)
        return Answer(
            prediction=prediction,
            curves=tuple(curves(band) for band in prediction.bands),
            drawing=drawing(prediction.bands[detail_band].point),
            detail_band=detail_band,
            defaults=_defaults(prediction),
            solves=solves,
        )

    def site(self, draft: Draft, view: SiteView) -> Iterator[SitePart]:
        """The parts of a draft's site, as `view` has it; the draft last predicted costs no solution again.

        Raises
        ------
        DesignError, OutOfRangeError, StaleDraftError
            As `predict`; once the parts are asked for.
        """
        design = self._design_of(draft)
        yield from site_parts(
            design, view, predictions=self._predictions, aside=self._aside, distances=self._distances
        )

    def build(self, draft: Draft, *, is_imperial: bool) -> Build:
        """A draft as a thing to make; the draft last predicted costs no solution again.

        Raises
        ------
        DesignError, OutOfRangeError, StaleDraftError
            As `predict`.
        """
        design = self._design_of(draft)
        return building(design, is_imperial=is_imperial, predictions=self._predictions)

    def match(self, draft: Draft, vary: Sequence[str] = ()) -> Job[CouplingMatch]:
        """The search for the coupling that suits all bands of a draft at once, not started.

        Raises
        ------
        DesignError, StaleDraftError
            As `predict`.
        """
        return matching(self._design_of(draft), vary)

    def stock(self) -> AtHand:
        """The parts that a brief may name.

        Raises
        ------
        DesignError
            If the workspace's parts file cannot be read.
        """
        return at_hand(self.folder.workspace)

    def brief(self) -> StoredBrief:
        """The workspace's own brief, as the fields of a page start from it."""
        return stored_brief(self.folder.workspace)

    def search(
        self, draft: Draft, asked: Mapping[str, Any], *, from_file: bool = False
    ) -> tuple[Brief, Job[Found]]:
        """A brief for the site of a draft, and the search for the rings worth building, not started.

        `from_file`: what only the workspace's own brief says counts, too.

        Raises
        ------
        DesignError, StaleDraftError
            As `predict`; the brief's own keys included.
        """
        tables = with_edits(read_tables(self._text_of(draft.base)), draft.edits)
        workspace = self.folder.workspace
        brief = drafted_brief(tables, with_the_file(asked, workspace) if from_file else asked, workspace)
        return brief, searching(brief, SearchWay(journal=journal_of(workspace / BRIEF_FILE)))

    def prove(self, draft: Draft, delivered: Sequence[Delivered]) -> Job[Proof | None]:
        """The sweeps of a built ring set against a draft, not started; see `ringwright.desk.proving`.

        Raises
        ------
        DesignError, StaleDraftError
            As `predict`.
        """
        design = drafted_design(self._text_of(draft.base), draft.edits)
        return proving(design, delivered, folder=self.sweeps, known=self._predictions.known)

    def accept(self, draft: Draft, delivered: Sequence[Delivered], name: str) -> Accepted:
        """Take the sweeps of a built ring for the truth: what they teach, written as the layer `name`.

        Raises
        ------
        DesignError, StaleDraftError
            As `predict`.
        CalibrationError
            If there is a layer of that name, a sweep cannot be read, or they cannot be accepted.
        StorageError
            If the layer cannot be written.
        """
        text = text_with_edits(self._text_of(draft.base), draft.edits)
        return self.calibrations.accept(
            text, delivered, name=name, folder=self.sweeps, known=self._predictions.known
        )

    def pattern(self, draft: Draft, band: str | None) -> PredictedPattern:
        """How a draft fires round the horizon; see `ringwright.desk.air_answers`.

        Raises
        ------
        DesignError, OutOfRangeError, StaleDraftError
            As `predict`.
        """
        design = self._design_of(draft)
        return predicted_pattern(design, self._predictions.known(design), band)

    def promise(self, draft: Draft) -> Promise:
        """A draft with its far field, to be set beside reports.

        Raises
        ------
        DesignError, OutOfRangeError, StaleDraftError
            As `predict`.
        """
        design = self._design_of(draft)
        return Promise.of(design, self._predictions.known(design))

    def connect(self, draft: Draft, *, is_real: bool = False) -> None:
        """Connect the drive of a draft, the simulated one unless `is_real`; see `ringwright.desk.tuning`.

        Raises
        ------
        DesignError, StaleDraftError
            As `predict`.
        TunerBusyError, TuningTableError, LinkError, RecordError, StorageError
            If it cannot be connected.
        """
        text = text_with_edits(self._text_of(draft.base), draft.edits)
        design = drafted_design(text, {})
        prediction = self._predictions.known(design)
        name = draft.base.name or design.name
        self.drive.begin(Connecting(design, prediction, name=name, text=text), is_real=is_real)

    def keep(self, draft: Draft, delivered: Sequence[Delivered], labels: Labels) -> tuple[Kept, ...]:
        """The sweeps of a built ring set against a draft and kept in the record, each with what it says.

        Raises
        ------
        DesignError, StaleDraftError
            As `predict`.
        RecordEntryError, RecordError, StorageError
            If the record takes none of it.
        """
        text = text_with_edits(self._text_of(draft.base), draft.edits)
        design = drafted_design(text, {})
        judged = judge(delivered, self.sweeps, design=design, prediction=self._predictions.known(design))
        dated = (replace(each, measured_at=self._moment_of(each)) for each in delivered)
        proved = [proved_of(each, found) for each, found in zip(dated, judged, strict=True)]
        return self.record.keep(proved, design=text, labels=labels)

    def start(self) -> OpenDesign:
        """The built-in design that a page shows before there is a file."""
        return opened(Path(FIRST_RING).stem, shipped_text(FIRST_RING))

    def designs(self) -> list[OpenDesign | DesignFileError]:
        """All design files in order; the error stands for one whose text cannot be read."""
        return [entry for name in self.folder.names() if (entry := self._entry(name)) is not None]

    def newest(self) -> str | None:
        """The design file written last, of those that make a design."""
        stamps = self.folder.stamps()
        for name in sorted(stamps, key=lambda name: stamps[name].modified_ns, reverse=True):
            entry = self._entry(name)
            if isinstance(entry, OpenDesign) and entry.problem is None:
                return name
        return None

    def open(self, name: str) -> OpenDesign:
        """A design file as it stands."""
        text = self.folder.read(name)
        self._texts.keep(text)
        return opened(name, text)

    def save(self, name: str, draft: Draft, *, text: str | None = None) -> Saved | Conflict:
        """Save a draft, or a whole `text` in its place, under a name; see `ringwright.desk.saving`."""
        ancestor = self._text_of(draft.base)
        outcome = save(
            self.folder,
            name,
            ancestor=ancestor if draft.base.name == name else None,
            edits=draft.edits if text is None else None,
            yours=text_with_edits(ancestor, draft.edits) if text is None else text,
        )
        self._texts.keep(outcome.text if isinstance(outcome, Saved) else outcome.theirs)
        return outcome

    def _entry(self, name: str) -> OpenDesign | DesignFileError | None:
        try:
            return opened(name, self.folder.read(name))
        except NoSuchDesignError:  # gone since it was listed
            return None
        except DesignFileError as exc:
            return exc

    def _moment_of(self, delivered: Delivered) -> datetime | None:
        """When a sweep was measured, as far as it says; a file of the folder when it was last written."""
        if delivered.measured_at is not None or delivered.content is not None:
            return delivered.measured_at
        stamp = self.sweeps.stamps().get(delivered.name)
        return None if stamp is None else datetime.fromtimestamp(stamp.modified_ns // 10**9, UTC)

    def _design_of(self, draft: Draft) -> Design:
        """What a draft makes, with the layer it asks for where that is of this ring."""
        tables = with_edits(read_tables(self._text_of(draft.base)), draft.edits)
        return self.calibrations.laid_over(design_of(tables), tables, draft.base.calibration)

    def _text_of(self, base: Base) -> str:
        if base.text is not None:
            return base.text
        if base.name is None:
            return shipped_text(FIRST_RING)
        kept = None if base.etag is None else self._texts.get(base.etag)
        if kept is not None:
            return kept
        text = self.folder.read(base.name)
        if base.etag not in (None, etag_of(text)):
            raise StaleDraftError(
                f"{shown(base.name)} has changed since this draft was begun; open it again, or send the text"
            )
        self._texts.keep(text)
        return text


def _defaults(prediction: Prediction) -> tuple[DefaultUsed, ...]:
    matches = map(_DEFAULT.fullmatch, prediction.defaults_used)
    return tuple(DefaultUsed(**match.groupdict()) for match in matches if match is not None)
