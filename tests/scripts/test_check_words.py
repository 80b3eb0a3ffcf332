# SPDX-License-Identifier: BSD-3-Clause
"""The words themselves are put together here, or this file would be refused."""

import subprocess

import pytest

from scripts.check_words import complaints, main

HOST = ".".join(("registry", "npmjs", "org"))


@pytest.mark.parametrize(
    "line",
    [
        f'"resolved": "https://{HOST}/left-pad"',
        ".".join(("--index-url https://pypi", "org/simple")),
        "-".join(("files.python", "x")).replace("-x", "hosted.org"),
        ".".join(("deb http://deb.debian", "org/debian")),
        "see " + "/".join(("", "root", "notes.txt")),
        "open('" + "/".join(("", "work", "main", "x")) + "')",
        "/".join(("", "tmp", "scratch")),
        "/".join(("", "home", "someone")),
    ],
)
def test_a_line_that_holds_on_one_machine_is_refused(line):
    assert [c.split(":")[:2] for c in complaints("notes.md", f"fine\n{line}\n")] == [["notes.md", "2"]]


@pytest.mark.parametrize(
    "line",
    [
        "Debian's packages and PyPI.",
        "docs/work/plan.md",
        "../work/",
        "<root>/sub",
        "mktemp -d",
        "a/root/b",
        "km/h",
    ],
)
def test_plain_talk_about_packages_and_folders_is_not(line):
    assert list(complaints("notes.md", line)) == []


@pytest.mark.needs("git")
def test_only_tracked_text_is_read(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    subprocess.run(["git", "init", "-q"], check=True)
    (tmp_path / "tracked.txt").write_text(HOST)
    (tmp_path / "picture.png").write_bytes(b"\0" + HOST.encode())
    (tmp_path / "untracked.txt").write_text(HOST)
    subprocess.run(["git", "add", "tracked.txt", "picture.png"], check=True)
    assert main() == 1
    assert capsys.readouterr().out.splitlines() == [
        f"tracked.txt:1: host of a package registry: {HOST.removeprefix('registry.')}",
        "words: 1 files, 1 complaints",
    ]
