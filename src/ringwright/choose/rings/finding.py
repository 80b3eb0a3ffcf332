# SPDX-License-Identifier: BSD-3-Clause
"""The search: enumerate, screen, solve what is left, judge, and solve the front once more for itself."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Protocol, TypeVar

from ringwright.choose.rings.brief import Brief
from ringwright.choose.rings.candidate import Candidate, Place, text_of
from ringwright.choose.rings.family import family_of
from ringwright.choose.rings.found import Found, Nearest
from ringwright.choose.rings.front import front_of
from ringwright.choose.rings.judging import judged
from ringwright.choose.rings.misses import Misses, refusals
from ringwright.choose.rings.near import nearest_of, now_of, roughly_nearest
from ringwright.choose.rings.node import Node, NodeTask, solve_node
from ringwright.choose.rings.plan import Index, Mesh, mesh_of
from ringwright.choose.rings.screen import ring_misses, screened
from ringwright.choose.rings.verify import VerifyTask, verify

HANDFUL = 12
"""Rings on the front at most."""
MOST_ROUNDS = 6
"""Of solving the front for itself and filling the places of those that did not pass."""

T = TypeVar("T")
R = TypeVar("R")


class Runner(Protocol):
    """Runs work on items wherever there are hands, and gives back (number of the item, result) as they come."""

    def __call__(self, work: Callable[[T], R], items: Sequence[T]) -> Iterator[tuple[int, R]]: ...


class Kept(Protocol):
    """Solutions from before."""

    def get(self, key: str) -> Node | None: ...

    def put(self, key: str, node: Node) -> None: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Advance:
    """How far a search is: `done` of `total` steps, and in words; `best` so far, not yet solved for itself."""

    done: int
    total: int
    doing: str
    best: tuple[Candidate, ...] = ()


def in_this_process(work: Callable[[T], R], items: Sequence[T]) -> Iterator[tuple[int, R]]:
    """One after the other."""
    for number, item in enumerate(items):
        yield number, work(item)


class Forgetful:
    """Keeps nothing."""

    def get(self, key: str) -> Node | None:
        del key
        return None

    def put(self, key: str, node: Node) -> None:
        """Let it go."""


def find_rings(
    brief: Brief,
    *,
    run: Runner = in_this_process,
    kept: Kept | None = None,
    tell: Callable[[Advance], None] = lambda _: None,
) -> Found:
    """The rings worth building.

    Parameters
    ----------
    brief : Brief
        What is asked for.
    run : Runner
        Where full-wave solutions are worked out.
    kept : Kept, optional
        Solutions from before, and where new ones go as soon as they are there.
    tell : callable
        Hears how far it is; what it raises ends the search, and what was kept stays.
    """
    search = _Search(brief=brief, run=run, kept=kept or Forgetful(), tell=tell)
    search.screen()
    search.solve(search.open)
    front, passing = search.verified_front()
    nearest = None if front else search.nearest()
    return Found(
        brief=brief,
        considered=brief.counts,
        solved=len(search.open),
        solutions=search.solutions,
        kept=search.were_kept,
        verified=search.verified,
        passing=passing,
        front=tuple(front),
        refused=refusals(
            list(search.out.values()), list(search.missed.values()), now=now_of(brief), units=brief.units
        ),
        nearest=nearest,
        candidates=tuple(search.passed.values()),
    )


@dataclass(slots=True, kw_only=True)
class _Search:
    brief: Brief
    run: Runner
    kept: Kept
    tell: Callable[[Advance], None]
    out: dict[Place, Misses] = field(default_factory=dict)
    open: list[Place] = field(default_factory=list)
    passed: dict[Place, Candidate] = field(default_factory=dict)
    missed: dict[Place, Misses] = field(default_factory=dict)
    best: list[Candidate] = field(default_factory=list)
    solutions: int = 0
    were_kept: int = 0
    verified: int = 0

    def screen(self) -> None:
        """Every place of the grid: provably out, or open."""
        brief = self.brief
        for s, shape in enumerate(brief.shapes):
            for p, perimeter in enumerate(brief.perimeters):
                for c, conductor in enumerate(brief.conductors):
                    ring = ring_misses(brief, shape, perimeter, part=conductor)
                    for k, capacitor in enumerate(brief.capacitors):
                        misses = screened(
                            brief, shape, perimeter, conductor=conductor, capacitor=capacitor, ring=ring
                        )
                        if misses:
                            self.out[s, p, c, k] = misses
                        else:
                            self.open.append((s, p, c, k))

    def solve(self, places: Sequence[Place]) -> None:
        """Solve and judge; what passes and what misses something is known afterwards."""
        for shape in sorted({place[0] for place in places}):
            self._solve_shape(shape, [place for place in places if place[0] == shape])

    def _solve_shape(self, shape: int, places: Sequence[Place]) -> None:
        brief = self.brief
        radii = {place[2]: brief.conductors[place[2]].conductor.electrical_radius for place in places}
        sizes = sorted({brief.perimeters[place[1]] for place in places})
        mesh = mesh_of(brief, brief.shapes[shape], perimeters=sizes, radii=sorted(set(radii.values())))
        by_perimeter: dict[int, list[Place]] = defaultdict(list)
        for place in places:
            by_perimeter[place[1]].append(place)
        nodes: dict[Index, Node] = {}
        each_is_solved = len(mesh.perimeters) == len(sizes)
        waiting = dict(enumerate(sorted(by_perimeter)))  # mesh row -> perimeter, where each has its own
        for row in self._solved_rows(mesh, nodes):
            if each_is_solved:
                self._judge_perimeter(mesh, nodes, by_perimeter[waiting[row]])
        if not each_is_solved:
            for _, wanted in sorted(by_perimeter.items()):
                self._judge_perimeter(mesh, nodes, wanted)

    def _solved_rows(self, mesh: Mesh, nodes: dict[Index, Node]) -> Iterator[int]:
        """Fill `nodes`; yields each perimeter's number in the mesh as soon as it is complete."""
        tasks = list(mesh.tasks())
        left: dict[int, int] = defaultdict(int)
        fresh: list[tuple[Index, NodeTask]] = []
        for index, task in tasks:
            known = self.kept.get(task.key)
            if known is None:
                fresh.append((index, task))
                left[index[0]] += 1
            else:
                nodes[index] = known
        self.solutions += len(tasks)
        self.were_kept += len(tasks) - len(fresh)
        yield from (row for row in range(len(mesh.perimeters)) if left[row] == 0)
        done = len(tasks) - len(fresh)
        for number, node in self.run(solve_node, [task for _, task in fresh]):
            index, task = fresh[number]
            self.kept.put(task.key, node)
            nodes[index] = node
            left[index[0]] -= 1
            done += 1
            self.tell(self._advance(done, len(tasks), mesh))
            if left[index[0]] == 0:
                yield index[0]

    def _advance(self, done: int, total: int, mesh: Mesh) -> Advance:
        return Advance(
            done=done,
            total=total,
            doing=f"{mesh.base.ring.shape.value}: solution {done} of {total}, {len(self.passed)} rings pass so far",
            best=tuple(self.best),
        )

    def _judge_perimeter(self, mesh: Mesh, nodes: dict[Index, Node], wanted: Sequence[Place]) -> None:
        """Places of one shape and perimeter."""
        brief = self.brief
        conductors = sorted({place[2] for place in wanted})
        family = family_of(
            mesh,
            nodes,
            perimeter=brief.perimeters[wanted[0][1]],
            radii=[brief.conductors[each].conductor.electrical_radius for each in conductors],
        )
        passed = []
        for place, verdict in judged(brief, family, wanted):
            if isinstance(verdict, Candidate):
                self.passed[place] = verdict
                passed.append(verdict)
            else:
                self.missed[place] = verdict
        self.best = front_of([*self.best, *passed], brief.weights, most=HANDFUL)

    def verified_front(self) -> tuple[list[Candidate], int]:
        """The front, each ring solved for itself, and how many pass in all."""
        front: list[Candidate] = []
        for number in range(MOST_ROUNDS):
            passed = [self.passed[place] for place in sorted(self.passed)]
            front = front_of(passed, self.brief.weights, most=HANDFUL)
            doubtful = [each for each in front if not each.is_verified]
            if not doubtful:
                return front, len(passed)
            self._verify(doubtful, number)
        return [each for each in front if each.is_verified], len(self.passed)

    def _verify(self, doubtful: Sequence[Candidate], number: int) -> None:
        tasks = [
            VerifyTask(
                candidate=each, text=text_of(self.brief, each.place, each.coupling), limits=self.brief.limits
            )
            for each in doubtful
        ]
        again = f", round {number + 1}" if number else ""
        for done, (item, verdict) in enumerate(self.run(verify, tasks), 1):
            place = tasks[item].candidate.place
            self.verified += 1
            if isinstance(verdict, Candidate):
                self.passed[place] = verdict
            else:
                del self.passed[place]
                self.missed[place] = verdict
            self.tell(
                Advance(
                    done=done, total=len(tasks), doing=f"ring {done} of {len(tasks)} solved for itself{again}"
                )
            )

    def nearest(self) -> Nearest | None:
        """What an impossible brief misses least, told from solutions even where the screen had refused it."""
        probes = roughly_nearest(self.brief, self.out)
        others = _Search(brief=self.brief, run=self.run, kept=self.kept, tell=self.tell)
        others.solve(probes)
        together: dict[Place, Misses] = dict(self.missed)
        for place in probes:
            # Where both say what would be needed, the solution's word is the sharper one.
            together[place] = {**self.out[place], **others.missed.get(place, {})}
        self.solutions += others.solutions
        self.were_kept += others.were_kept
        return nearest_of(self.brief, together)
