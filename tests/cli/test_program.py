# SPDX-License-Identifier: BSD-3-Clause
"""The program as a whole: exit codes, one sentence for what goes wrong, nothing heavy for help."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from ringwright.cli import main, program, report
from ringwright.errors import RingwrightError, StorageError

VERBS = ("demo", "new", "predict", "serve")
WITH_UNITS = ("predict", "match", "keepout", "search", "sheet")
HEAVY = ("numpy", "scipy", "pydantic", "rich", "fastapi", "uvicorn", "starlette", "tomlkit", "skrf")
PROGRAM = Path(sys.executable).with_name("ringwright")


def start(*arguments: object, **changes: str) -> "subprocess.CompletedProcess[str]":
    """A process of its own, with standard output as text."""
    environment = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "COLUMNS")}
    return subprocess.run(
        [PROGRAM, *map(str, arguments)],
        capture_output=True,
        text=True,
        check=False,
        env=environment | changes,
    )


def test_without_a_verb_it_shows_its_help(call):
    outcome = call()
    assert outcome.code == 0
    assert outcome.out == call("--help").out
    assert all(f"\n  {verb} " in outcome.out for verb in VERBS)


@pytest.mark.parametrize("verb", VERBS)
def test_each_verb_s_help_has_an_example_and_loads_nothing_heavy(verb):
    code = (
        "import sys; from ringwright.cli.program import run\n"
        f"code = run([{verb!r}, '--help'])\n"
        f"print('loaded:', *(n for n in {HEAVY!r} if n in sys.modules)); sys.exit(code)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert f"ringwright {verb} " in done.stdout
    assert "Example" in done.stdout
    assert done.stdout.splitlines()[-1] == "loaded:"


@pytest.mark.parametrize("verb", ["", *VERBS])
def test_help_fits_80_columns(verb, call):
    assert max(map(len, call(*verb.split(), "--help").out.splitlines())) <= 80


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["nonsense"], "nonsense"),
        (["--nonsense"], "--nonsense"),
        (["predict"], "DESIGN"),
        (["predict", "--jsno", "x.toml"], "--json"),
        (["predict", "x.toml", "--plot"], "--plot"),
        (["predict", "x.toml", "--json", "--explain"], "exclude each other"),
        *(([verb, "x.toml", "--imperial", "--units", "metric"], "exclude each other") for verb in WITH_UNITS),
        (["predict", "x.toml", "--plot", "x.pdf"], ".svg"),
        (["predict", "x.toml", "--plot", "."], "--plot '.'"),
        (["predict", "x.toml", "--plot", "/dev/full"], "--plot '/dev/full'"),
        (["demo", "--port", "70000"], "70000"),
        (["demo", "more"], "more"),
        (["new"], "FOLDER"),
    ],
)
def test_bad_usage_is_one_sentence_and_2(arguments, said, call):
    outcome = call(*arguments)
    assert outcome.code == 2
    assert said in outcome.sentence


def test_done_is_0_and_out_of_reach_is_1_only_when_strict(call, octagon, braid):
    assert call("predict", octagon, "--strict").code == 0
    assert call("predict", braid).code == 0
    outcome = call("predict", braid, "--strict")
    assert outcome.code == 1
    assert "out of reach" in outcome.out
    assert call("predict", octagon, braid, "--strict").code == 1
    document = call("predict", braid, "--strict", "--json")
    assert document.code == 1
    assert json.loads(document.out)["bands"][-1]["tuning"]["reachable"] is False


def raising(error):
    def fails(*_, **__):
        raise error

    return fails


@pytest.mark.parametrize(
    ("error", "code"), [(StorageError("the disk is full; make room"), 3), (RingwrightError("no"), 2)]
)
def test_an_error_of_ours_is_its_sentence_and_its_code(error, code, call, octagon, monkeypatch):
    monkeypatch.setattr(report, "load_and_predict", raising(error))
    outcome = call("predict", octagon)
    assert outcome.code == code
    assert outcome.sentence == str(error)


def test_a_fault_of_the_program_is_not_hidden(call, octagon, monkeypatch):
    monkeypatch.setattr(report, "load_and_predict", raising(KeyError("a fault")))
    with pytest.raises(KeyError, match="a fault"):
        call("predict", octagon)


def test_ctrl_c_ends_quietly_with_130(call, octagon, monkeypatch):
    monkeypatch.setattr(report, "load_and_predict", raising(KeyboardInterrupt()))
    outcome = call("predict", octagon)
    assert outcome.code == 130
    assert (outcome.out + outcome.err).strip() == ""


def test_the_shell_gets_the_exit_code(monkeypatch):
    monkeypatch.setattr(sys, "argv", ["ringwright", "--nonsense"])
    with pytest.raises(SystemExit) as left:
        main()
    assert left.value.code == 2
    assert program.READER_GONE == 128 + 13


@pytest.mark.parametrize("arguments", [["--help"], ["predict"]])
def test_a_reader_that_went_away_gets_no_complaint(arguments, octagon):
    reading, writing = os.pipe()
    os.close(reading)
    paths = [str(octagon)] if arguments == ["predict"] else []
    try:
        done = subprocess.run(
            [PROGRAM, *arguments, *paths], stdout=writing, stderr=subprocess.PIPE, text=True, check=False
        )
    finally:
        os.close(writing)
    assert (done.returncode, done.stderr) == (141, "")


def test_a_closed_standard_output_is_one_sentence_and_2(octagon):
    done = subprocess.run(
        ["sh", "-c", '"$0" predict "$1" >&-', PROGRAM, octagon],
        stderr=subprocess.PIPE,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "standard output is closed" in done.stderr


def test_help_names_every_exit_code(call):
    help_text = " ".join(call("--help").out.split())
    for code in (0, 1, 2, 3, program.INTERRUPTED, program.READER_GONE):
        assert re.search(rf"\b{code} [a-z]", help_text)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="left out: needs a device that is always full")
def test_a_full_disk_is_one_sentence_and_3(octagon):
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(
            [PROGRAM, "predict", octagon, "--json"],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode == 3
    assert done.stderr.count("\n") == 1
    assert "No space left" in done.stderr


def test_a_terminal_without_utf_8_gets_ascii(octagon):
    for arguments in (("predict", octagon, "--explain"), ("predict", octagon, octagon)):
        done = start(*arguments, PYTHONIOENCODING="ascii")
        assert done.returncode == 0
        assert done.stdout.isascii()
        assert "S##" in done.stdout
        assert "?" not in done.stdout


def test_json_is_ascii_whatever_the_name(tmp_path, octagon):
    path = tmp_path / "named.toml"
    path.write_text(
        octagon.read_text(encoding="utf-8").replace("Terrace octagon", "Mühle Ω"), encoding="utf-8"
    )
    done = start("predict", path, "--json", PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert done.stdout.isascii()
    assert json.loads(done.stdout)["design"] == "Mühle Ω"


def test_no_escape_reaches_a_file_or_a_pipe(octagon):
    done = start("predict", octagon, COLORTERM="truecolor", TERM="xterm-256color")
    assert "\x1b" not in done.stdout


def test_the_version_is_the_package_s(call):
    from importlib.metadata import version

    assert call("--version").out == f"ringwright {version('ringwright')}\n"
