# SPDX-License-Identifier: BSD-3-Clause
"""The search for a coupling as a job that can be watched and stopped, and what it found as edits of a design file."""

from collections.abc import Sequence

from ringwright.antenna.design import CouplingPlace, CouplingShape, Design
from ringwright.choose.knobs import value_of
from ringwright.choose.match import CouplingMatch, find_coupling
from ringwright.choose.trials import Trial
from ringwright.desk.edits import Edits, Value
from ringwright.desk.jobs import Job, Progress
from ringwright.units import format_quantity


def matching(design: Design, vary: Sequence[str] = ()) -> Job[CouplingMatch]:
    """The search, not started. Its progress counts couplings; its last finding is the best `Trial` so far."""

    def work(job: Job[CouplingMatch]) -> CouplingMatch:
        def tell(tried: int, best: Trial) -> None:
            job.report(Progress(done=tried, doing=so_far(best)), best)

        return find_coupling(design, vary=vary, progress=tell)

    return Job(work)


def so_far(best: Trial) -> str:
    """The best coupling so far, in words."""
    coupling = best.coupling
    if coupling.diameter is not None:
        size = f"{format_quantity(coupling.diameter, 'mm', digits=3)} across"
    elif coupling.tap_at is not None:
        size = f"tapped at {format_quantity(coupling.tap_at, 'mm', digits=3)}"
    else:
        size = f"{value_of(coupling, 'turns'):g} turns"
    return f"best so far {size}, SWR {best.swr_worst:.2f} on the worst band"


def match_edits(found: CouplingMatch) -> Edits:
    """The coupling found, as a design file has it: lengths to 0.1 mm, which is finer than anybody bends."""
    coupling = found.best.coupling
    edits: dict[str, Value | None] = {}
    for name in found.varied:
        match name:
            case "diameter" | "tap_at" | "clearance":
                edits[f"coupling.{name}"] = f"{value_of(coupling, name) * 1e3:.1f} mm"
            case "squash":
                edits["coupling.shape"] = CouplingShape.OVAL.value
                edits["coupling.squash"] = round(coupling.squash, 3)
            case "at":
                edits["coupling.at"] = coupling.place.value
                edits.setdefault("coupling.clearance", f"{coupling.clearance * 1e3:.1f} mm")
            case "turns":
                edits["coupling.turns"] = round(value_of(coupling, name))
    if coupling.place is CouplingPlace.CENTRE:
        edits["coupling.clearance"] = None  # follows from the sizes
    return edits
