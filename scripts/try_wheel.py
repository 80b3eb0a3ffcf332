# SPDX-License-Identifier: BSD-3-Clause
"""Build the wheel and use it as somebody would who has only the wheel: `python -m scripts.try_wheel [PYTHON...]`.

For each Python, by default the one that runs this, the wheel goes into a new environment outside of the repository,
with the pinned versions of what it runs on, each as a binary wheel, so that no compiler is asked for. There the program
runs from a folder of its own, with nothing on PATH and no Python settings: demo, a workspace, a prediction, the
sheet, a board's firmware, a search, a map, and the served page with every file that it names. What fails is told in one
sentence.
"""

import os
import re
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from fnmatch import fnmatch
from pathlib import Path
from urllib.error import URLError
from urllib.parse import urljoin
from urllib.request import urlopen

ROOT = Path(__file__).parents[1]
LONG = 600.0
"""Seconds that any step may take on a busy machine."""
_BIN = "Scripts" if os.name == "nt" else "bin"

NEEDED: Mapping[str, str] = {
    "ringwright/*.py": "the program",
    "ringwright/py.typed": "the mark of a typed package",
    "ringwright/antenna/scenario/*": "the shipped designs",
    "ringwright/choose/stock/*.toml": "the stock of sizes",
    "ringwright/air/coastlines/*.json": "the coastlines",
    "ringwright/air/coastlines/NOTICE.txt": "the word on the coastlines' origin",
    "ringwright/sheet/*.typ": "the sheet's templates",
    "ringwright/sheet/fonts/*.ttf": "the sheet's fonts",
    "ringwright/sheet/fonts/OFL.txt": "the sheet's fonts' licence",
    "ringwright/tuner/firmware/settings.json": "the board's settings",
    "ringwright/web/static/index.html": "the page",
    "ringwright/web/static/mark.svg": "the page's mark",
    "ringwright/web/static/licences.txt": "the licences of what the client brings along",
    "ringwright/web/static/assets/*.js": "the client",
    "ringwright/web/static/assets/*.css": "the client's styles",
    "ringwright/web/static/assets/*.woff2": "the pages' font",
    "*.dist-info/METADATA": "the wheel's metadata",
    "*.dist-info/WHEEL": "the wheel's own format",
    "*.dist-info/entry_points.txt": "the command",
    "*.dist-info/RECORD": "the list of files",
    "*.dist-info/licenses/*": "the licence",
}
"""What lies in the wheel, and nothing else does; `*` spans folders."""

BRIEF = """format = 1
bands = ["160m"]
[room]
width = "0.5 m"
depth = "0.5 m"
height = "0.5 m"
[grid]
perimeter = ["4 m", "5 m", 2]
"""
"""Nothing passes it, which is known before anything is solved: only the stock is read."""
REPORTS = """time,frequency_mhz,receiver,locator,snr_db,power_w,antenna
2026-05-01T12:00:00Z,7.0386,QX1AA,JJ11aa,-12,5,ring
"""


class WheelError(Exception):
    """What failed, in one sentence."""


def unexpected(names: list[str]) -> Iterator[str]:
    """What is wrong with a wheel that holds these files."""
    for pattern, what in NEEDED.items():
        if not any(fnmatch(name, pattern) for name in names):
            yield f"{what} ({pattern}) is not in the wheel"
    for name in names:
        if not any(fnmatch(name, pattern) for pattern in NEEDED):
            yield f"{name} lies in the wheel and nothing needs it"


def linked(address: str, text: str) -> set[str]:
    """Addresses of files that a page or a style sheet at `address` names."""
    names = re.findall(r"""(?:src|href)="([^"]+)"|url\(["']?([^)"']+)["']?\)""", text)
    return {urljoin(address, a or b) for a, b in names if not (a or b).startswith(("data:", "#"))}


def built(folder: Path) -> Path:
    """The wheel, made by the build tools of this environment."""
    options = ("--no-deps", "--no-build-isolation", "--wheel-dir", folder)
    _run("the wheel is not built", [sys.executable, "-m", "pip", "wheel", *options, ROOT], cwd=folder)
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        wrong = list(unexpected([name for name in archive.namelist() if not name.endswith("/")]))
    if wrong:
        raise WheelError("; ".join(wrong))
    return wheel


def installed(wheel: Path, python: str, folder: Path) -> Path:
    """The folder of programs of a new environment that holds the wheel."""
    _run(f"{python} makes no environment", [python, "-m", "venv", "--without-pip", folder], cwd=folder.parent)
    pip: list[str | Path] = [sys.executable, "-m", "pip", "--python", folder / _BIN / "python", "install"]
    options = ("--quiet", "--no-input", "--no-compile", "--only-binary=:all:")
    lock = ("--constraint", ROOT / "requirements.lock")
    _run(f"the wheel does not install for {python}", [*pip, *options, *lock, wheel], cwd=folder.parent)
    return folder / _BIN


def use(programs: Path, folder: Path) -> None:
    """Every face of the program once, in this folder."""
    place = _output(
        programs, folder, ["python", "-c", "import ringwright; print(ringwright.__file__)"]
    ).strip()
    if not Path(place).is_relative_to(programs.parent):
        raise WheelError(f"what runs is {place} instead of the installed wheel")
    (folder / "reports.csv").write_text(REPORTS, encoding="utf-8")
    (folder / "brief.toml").write_text(BRIEF, encoding="utf-8")
    design = "X/designs/first-ring.toml"
    _output(programs, folder, ["ringwright", "demo", "--no-serve"])
    _output(programs, folder, ["ringwright", "new", "X"])
    _output(programs, folder, ["ringwright", "predict", design, "--json"])
    _output(programs, folder, ["ringwright", "sheet", design, "-o", "sheet.pdf"])
    if not (folder / "sheet.pdf").read_bytes().startswith(b"%PDF-"):
        raise WheelError("ringwright sheet wrote no PDF")
    _output(programs, folder, ["ringwright", "tune", "board", "--out", "board"])
    _output(programs, folder, ["ringwright", "search", "brief.toml"], answer=1)
    _output(
        programs, folder, ["ringwright", "air", "reports.csv", "--locator", "JJ00aa", "--map", "world.svg"]
    )
    with _served(programs, folder) as address:
        _fetch_all(address)


def _fetch_all(address: str) -> None:
    page = _fetched(address).decode()
    files = linked(address, page)
    styles = {name for name in files if name.endswith(".css")}
    if not styles or not any(name.endswith(".js") for name in files):
        raise WheelError(f"the page at {address} names no script or no styles")
    files |= {name for style in styles for name in linked(style, _fetched(style).decode())}
    for name in files | {urljoin(address, "/api/v1/health")}:
        if not _fetched(name):
            raise WheelError(f"{name} is empty")


def _fetched(address: str) -> bytes:
    try:
        with urlopen(address, timeout=LONG) as answer:  # noqa: S310 -- the program's own address
            content: bytes = answer.read()
    except URLError as exc:
        raise WheelError(f"{address} is not served: {exc}") from exc
    return content


@contextmanager
def _served(programs: Path, folder: Path) -> Iterator[str]:
    command = [str(programs / "ringwright"), "serve", "X", "--port", "0", "--no-browser"]
    with subprocess.Popen(
        command, cwd=folder, env=_bare(programs, folder), stdout=subprocess.PIPE, text=True
    ) as server:
        assert server.stdout is not None
        try:
            line = server.stdout.readline()
            found = re.search(r"http://\S+", line)
            if found is None:
                raise WheelError(f"ringwright serve says no address but {line!r}")
            yield found[0]
        finally:
            server.terminate()


def _output(programs: Path, folder: Path, command: list[str], *, answer: int = 0) -> str:
    whole: list[str | Path] = [programs / command[0], *command[1:]]
    return _run(" ".join(command), whole, cwd=folder, env=_bare(programs, folder), answer=answer)


def _bare(programs: Path, home: Path) -> dict[str, str]:
    """The environment without Python's settings, and with nothing on PATH but the programs of the new environment."""
    kept = {
        name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "RINGWRIGHT"))
    }
    kept.pop("VIRTUAL_ENV", None)
    return kept | {"PATH": str(programs), "HOME": str(home), "XDG_CACHE_HOME": str(home / "cache")}


def _run(
    what: str, command: list[str | Path], *, cwd: Path, env: dict[str, str] | None = None, answer: int = 0
) -> str:
    try:
        done = subprocess.run(
            command, cwd=cwd, env=env, capture_output=True, encoding="utf-8", timeout=LONG, check=False
        )
    except (OSError, subprocess.TimeoutExpired) as exc:
        raise WheelError(f"{what}: {exc}") from exc
    if done.returncode != answer:
        last = (done.stderr.strip() or done.stdout.strip() or "it says nothing").splitlines()[-1]
        raise WheelError(f"{what} ended with {done.returncode}, not {answer}: {last}")
    return done.stdout


def main(pythons: list[str]) -> int:
    start = time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name).resolve()
        try:
            wheel = built(folder)
            for number, python in enumerate(pythons):
                programs = installed(wheel, python, folder / f"python{number}")
                work = folder / f"work{number}"
                work.mkdir()
                use(programs, work)
                version = _output(programs, work, ["python", "--version"]).strip()
                print(f"{wheel.name} does its work in {version}, outside of the repository", flush=True)
        except WheelError as exc:
            print(f"try_wheel: {exc}", file=sys.stderr)
            return 1
    print(f"{time.monotonic() - start:.0f} s")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:] or [sys.executable]))
