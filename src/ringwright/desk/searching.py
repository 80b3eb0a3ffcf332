# SPDX-License-Identifier: BSD-3-Clause
"""A search as a job: a brief read, hands to solve it, what is solved kept as it comes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ringwright.antenna.design_file import read_text
from ringwright.antenna.design_file.models import BAND_NAMES
from ringwright.antenna.modes import MODE_FACTORS
from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.brief_file import brief_of, parse_brief
from ringwright.choose.rings.brief_tables import SHAPES
from ringwright.choose.rings.finding import Advance, Forgetful, find_rings
from ringwright.choose.rings.found import Found
from ringwright.desk.brief_form import PARTS_FILE, own_parts
from ringwright.desk.hands import Hands
from ringwright.desk.jobs import Job, Progress
from ringwright.desk.search_journal import SearchJournal, journal_folder
from ringwright.desk.workspace import FOLDERS
from ringwright.errors import DesignError, DesignFileError


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchWay:
    """How to search: in `workers` processes (None: one for each core), or with a scheduler's; `journal` the folder
    that solutions are kept in, None to keep none.
    """

    workers: int | None = None
    scheduler: str | None = None
    journal: Path | None = None


def load_brief(path: Path, parts: Path | None = None) -> Brief:
    """Read a brief, with the parts file named, or the one beside it.

    Raises
    ------
    DesignFileError
        If one of them cannot be read.
    """
    beside = path.parent / PARTS_FILE
    own = parts or (beside if beside.is_file() else None)
    return parse_brief(
        read_text(path, what="brief"),
        source=str(path),
        parts=None if own is None else read_text(own, what="parts"),
        parts_source=str(own),
    )


def journal_of(brief: Path, workspace: Path | None = None) -> Path:
    """Where a brief's solutions are kept: in the workspace named, in the one it lies in, or in the person's cache."""
    folder = brief.resolve().parent
    around = next((each for each in (folder, folder.parent) if _is_workspace(each)), None)
    return journal_folder(workspace or around)


@dataclass(frozen=True, slots=True, kw_only=True)
class AtHand:
    """What a brief may name."""

    conductors: tuple[str, ...]
    capacitors: tuple[str, ...]
    shapes: tuple[str, ...] = SHAPES
    modes: tuple[str, ...] = tuple(MODE_FACTORS)
    bands: tuple[str, ...] = BAND_NAMES


def at_hand(workspace: Path) -> AtHand:
    """The workspace's own parts and the stock, by name.

    Raises
    ------
    DesignError
        If the workspace's parts file cannot be read.
    """
    brief = drafted_brief({}, {"bands": ["40m"]}, workspace)
    return AtHand(
        conductors=tuple(each.name for each in brief.conductors),
        capacitors=tuple(each.name for each in brief.capacitors),
    )


def drafted_brief(design: Mapping[str, Any], asked: Mapping[str, Any], workspace: Path) -> Brief:
    """A brief as a page asks it: the site, tolerances and region of a design, the rest as in a brief file.

    The workspace's own parts count, if it has a parts file.

    Raises
    ------
    DesignError
        With the brief's key, if it has one.
    """
    site = {key: design[key] for key in ("site", "tolerance", "region") if key in design}
    try:
        return brief_of({"format": 1, **site, **asked}, source="brief", parts=own_parts(workspace))
    except DesignFileError as exc:
        raise DesignError(exc.reason if exc.source == "brief" else str(exc), key=exc.key) from exc


def search(brief: Brief, way: SearchWay, tell: Callable[[Advance], None] = lambda _: None) -> Found:
    """Search; what `tell` raises ends it, and what was solved stays."""
    journal = None if way.journal is None else SearchJournal.of(brief, way.journal)
    try:
        with Hands(way.workers, scheduler=way.scheduler) as hands:
            return find_rings(brief, run=hands, kept=journal or Forgetful(), tell=tell)
    finally:
        if journal is not None:
            journal.close()


def searching(brief: Brief, way: SearchWay) -> Job[Found]:
    """The search, not started. Its last finding is an `Advance` with the best rings so far."""

    def work(job: Job[Found]) -> Found:
        def tell(advance: Advance) -> None:
            progress = Progress(done=advance.done, total=advance.total, doing=advance.doing)
            job.report(progress, advance)

        return search(brief, way, tell)

    return Job(work)


def _is_workspace(folder: Path) -> bool:
    return all((folder / name).is_dir() for name in FOLDERS)
