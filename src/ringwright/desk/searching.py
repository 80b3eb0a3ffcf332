# SPDX-License-Identifier: BSD-3-Clause
"""A search as a job: a brief read, hands to solve it, what is solved kept as it comes."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from ringwright.antenna.design_file import read_text
from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.brief_file import parse_brief
from ringwright.choose.rings.finding import Advance, Forgetful, find_rings
from ringwright.choose.rings.found import Found
from ringwright.desk.hands import Hands
from ringwright.desk.jobs import Job, Progress
from ringwright.desk.search_journal import SearchJournal, journal_folder
from ringwright.desk.workspace import FOLDERS

PARTS_FILE = "parts.toml"


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
