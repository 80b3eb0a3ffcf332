# SPDX-License-Identifier: BSD-3-Clause
"""Is there a binary wheel of every pinned package, wherever the program may run? `python -m scripts.check_wheels`.

For each Python and each system pip is asked to find, without installing, every version of `requirements.lock` as a
binary wheel, and with them what those packages need there only. So nobody is asked for a compiler. It says what is
offered and not that it works: what was tried stands in docs/reference/platforms.md. Needs the index.
"""

import subprocess
import sys
import tempfile
from collections.abc import Mapping
from importlib.metadata import PackageNotFoundError, requires
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

PYTHONS = ("3.11", "3.12", "3.13", "3.14")
SYSTEMS: Mapping[str, tuple[str, ...]] = {
    "linux": ("manylinux2014_x86_64", "manylinux_2_27_x86_64", "manylinux_2_28_x86_64"),
    "linux arm": ("manylinux2014_aarch64", "manylinux_2_27_aarch64", "manylinux_2_28_aarch64"),
    "macos arm": ("macosx_14_0_arm64",),
    "windows": ("win_amd64",),
}
"""What a wheel's file name may say of the system, for systems of the last years."""
_MARKERS: Mapping[str, dict[str, str]] = {
    "linux": {"sys_platform": "linux", "platform_system": "Linux", "os_name": "posix"},
    "macos": {"sys_platform": "darwin", "platform_system": "Darwin", "os_name": "posix"},
    "windows": {"sys_platform": "win32", "platform_system": "Windows", "os_name": "nt"},
}
LOCK = Path(__file__).parents[1] / "requirements.lock"


def pinned(lock: str) -> dict[str, str]:
    """Each line of a lock by its package."""
    lines = [line for line in lock.splitlines() if line and not line.startswith("#")]
    return {canonicalize_name(line.partition("==")[0]): line for line in lines}


def only_there(packages: Mapping[str, str], system: str, python: str) -> list[str]:
    """What the packages need on that system and Python and the lock does not hold."""
    there = _MARKERS[system.partition(" ")[0]] | {
        "python_version": python,
        "python_full_version": f"{python}.0",
    }
    found = set()
    for package in packages:
        for text in _requirements(package):
            needed = Requirement(text)
            applies = needed.marker is None or needed.marker.evaluate({"extra": "", **there})
            if applies and canonicalize_name(needed.name) not in packages:
                found.add(f"{needed.name}{needed.specifier}")
    return sorted(found)


def complaint(packages: list[str], system: str, python: str) -> str:
    """What pip does not find as a binary wheel there; empty if nothing."""
    where = [f"--platform={tag}" for tag in SYSTEMS[system]]
    with tempfile.TemporaryDirectory() as name:
        options = (
            "--dry-run",
            "--no-deps",
            "--ignore-installed",
            "--quiet",
            "--only-binary=:all:",
            "--target",
            name,
        )
        done = subprocess.run(
            [
                sys.executable,
                "-m",
                "pip",
                "install",
                *options,
                *where,
                f"--python-version={python}",
                *packages,
            ],
            capture_output=True,
            text=True,
            check=False,
        )
    errors = [line for line in done.stderr.splitlines() if line.startswith("ERROR")]
    return "" if done.returncode == 0 else (errors or ["pip says nothing"])[-1]


def _requirements(package: str) -> list[str]:
    try:
        return requires(package) or []
    except PackageNotFoundError:  # the lock of another system
        return []


def main() -> int:
    packages, wrong = pinned(LOCK.read_text(encoding="utf-8")), 0
    for system in SYSTEMS:
        for python in PYTHONS:
            more = only_there(packages, system, python)
            found = complaint([*packages.values(), *more], system, python)
            besides = f", and {', '.join(more)}" if more else ""
            said = found or f"{len(packages)} pinned packages as binary wheels{besides}"
            print(f"{system:10} Python {python}: {said}", flush=True)
            wrong += bool(found)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
