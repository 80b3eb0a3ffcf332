# SPDX-License-Identifier: BSD-3-Clause
"""Plant one small error at a time and see whether the tests notice: `python -m scripts.sabotage [WORD ...]`.

The errors stand in `scripts/sabotage/*.toml`, one file per area: a wrong constant, sign or comparison each, and the
tests that must catch it. Each is planted in a copy of the tree in a temporary folder, never in the tree itself. WORDs
select areas, files or descriptions that contain one of them. Ends with 1 if an error survives, if its old text is not
found exactly once, or if the tests do not pass without it.
"""

import importlib.util
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from queue import SimpleQueue

COPIED = ("src", "tests", "scripts", "docs", "pyproject.toml")
"""What tests read; where one needs more of the tree, name it here."""
LONGEST = 240.0
"""Seconds after which a run of tests is given up."""
AT_ONCE = 2
PASSED, FAILED = 0, 1
"""Exit codes of pytest; any other means that it did not come to run the tests."""
_CATCHER = re.compile(r"^(?:FAILED|ERROR) (.+?)(?: - .*)?$", re.MULTILINE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutation:
    """One error: `old` in `file` becomes `new`, and one of `tests` must fail."""

    area: str
    what: str
    file: str
    old: str
    new: str
    tests: tuple[str, ...]

    def planted(self, text: str) -> str:
        """`text` with the error in it."""
        count = text.count(self.old)
        if count != 1 or self.old == self.new:
            raise ValueError(
                f"{self.area}: {self.what}: the old text is found {count} times in {self.file}, must be once; write "
                f"anew in scripts/sabotage/{self.area}.toml what stands there now"
            )
        return text.replace(self.old, self.new)


def load(tables: Iterable[Path]) -> list[Mutation]:
    """All errors of some tables, in order."""
    return [
        Mutation(area=table.stem, **row | {"tests": tuple(row["tests"])})
        for table in sorted(tables)
        for row in tomllib.loads(table.read_text(encoding="utf-8"))["mutation"]
    ]


def copy_tree(root: Path, to: Path) -> None:
    """The parts of the tree that tests need."""
    for name in COPIED:
        if (root / name).is_dir():
            shutil.copytree(root / name, to / name, ignore=shutil.ignore_patterns("node_modules"))
        elif (root / name).exists():
            shutil.copy2(root / name, to / name)


def run_tests(tree: Path, tests: Sequence[str]) -> tuple[int, str]:
    """Exit code and output of pytest in a copied tree, ended at the first failure."""
    options = ("-x", "-q", "--tb=no", "-p", "no:cacheprovider", "--hypothesis-profile=sabotage")
    command = [sys.executable, "-m", "pytest", *options, *tests]
    environment = os.environ | {"PYTHONPATH": str(tree / "src"), "NO_COLOR": "1"}
    try:
        done = subprocess.run(
            command, cwd=tree, env=environment, capture_output=True, text=True, check=False, timeout=LONGEST
        )
    except subprocess.TimeoutExpired:
        return -1, f"no end after {LONGEST:.0f} s"
    return done.returncode, done.stdout + done.stderr


def write(path: Path, text: str) -> None:
    """Replace a source file; its compiled form goes, which may be no older than a second."""
    path.write_text(text, encoding="utf-8")
    Path(importlib.util.cache_from_source(str(path))).unlink(missing_ok=True)


def verdict(tree: Path, mutation: Mutation) -> tuple[bool, str]:
    """Whether the error is caught, and by which test or why not."""
    path = tree / mutation.file
    sound = path.read_text(encoding="utf-8")
    try:
        spoilt = mutation.planted(sound)
    except ValueError as problem:
        return False, str(problem)
    write(path, spoilt)
    try:
        code, output = run_tests(tree, mutation.tests)
    finally:
        write(path, sound)
    if code == FAILED:
        catcher = _CATCHER.search(output)
        return True, catcher[1] if catcher else "a test that is not named"
    if code == PASSED:
        return False, "SURVIVED"
    return False, f"the tests did not run (exit {code}): {output.strip().splitlines()[-1]}"


def baseline(tree: Path, mutations: Sequence[Mutation]) -> str | None:
    """Why the tests fail without any error, or None if they pass; on the copied source, or it would prove nothing."""
    where = [sys.executable, "-c", "import ringwright; print(ringwright.__file__)"]
    environment = os.environ | {"PYTHONPATH": str(tree / "src")}
    loaded = subprocess.run(where, cwd=tree, env=environment, capture_output=True, text=True, check=True)
    if not Path(loaded.stdout.strip()).resolve().is_relative_to(tree.resolve()):
        return f"the tests would load {loaded.stdout.strip()}, not the copy"
    code, output = run_tests(tree, sorted({test for mutation in mutations for test in mutation.tests}))
    return None if code == PASSED else f"the tests fail without any error planted:\n{output}"


def in_a_free_tree(free: SimpleQueue[Path], mutation: Mutation) -> tuple[bool, str]:
    """`verdict` in a copy that nobody else is spoiling."""
    tree = free.get()
    try:
        return verdict(tree, mutation)
    finally:
        free.put(tree)


def main(words: Sequence[str]) -> int:
    root = Path.cwd()
    mutations = [
        each
        for each in load((root / "scripts" / "sabotage").glob("*.toml"))
        if not words or any(word in f"{each.area} {each.file} {each.what}" for word in words)
    ]
    if not mutations:
        print(f"no area, file or description contains {' or '.join(words)}")
        return 1
    start, caught = time.monotonic(), 0
    with tempfile.TemporaryDirectory(prefix="sabotage-") as folder:
        trees = [Path(folder, str(number)) for number in range(AT_ONCE)]
        for tree in trees:
            copy_tree(root, tree)
        problem = baseline(trees[0], mutations)
        if problem is not None:
            print(problem)
            return 1
        free = SimpleQueue[Path]()
        for tree in trees:
            free.put(tree)
        with ThreadPoolExecutor(AT_ONCE) as pool:
            for mutation, (is_caught, by) in zip(
                mutations, pool.map(lambda each: in_a_free_tree(free, each), mutations), strict=True
            ):
                caught += is_caught
                mark = "caught" if is_caught else "MISSED"
                print(f"{mark}  {mutation.area}: {mutation.what}\n        {by}", flush=True)
    print(f"sabotage: {len(mutations)} errors planted, {caught} caught, {time.monotonic() - start:.0f} s")
    return 0 if caught == len(mutations) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
