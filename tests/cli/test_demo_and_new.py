# SPDX-License-Identifier: BSD-3-Clause
"""`demo` and `new`: the first things a person tries."""

import pytest

from ringwright.antenna.scenario import FIRST_RING, TERRACE_OCTAGON, shipped_text
from ringwright.cli import serve as serve_verb


def test_demo_prints_what_the_two_rings_do(call):
    outcome = call("demo", "--no-serve")
    assert (outcome.code, outcome.err) == (0, "")
    flat = " ".join(outcome.out.split())
    assert outcome.out.count("  S█") == 7  # a bar for each band of the two rings
    for said in ("Terrace octagon", "Rucksack braid", "10m is out of reach", "never touch", "ringwright new"):
        assert said.lower() in flat.lower()


@pytest.mark.parametrize(("arguments", "port"), [([], 0), (["--port", "8000"], 8000)])
def test_demo_opens_the_pages(arguments, port, call, monkeypatch):
    asked = []

    class Pages:
        @staticmethod
        def serve_demo(*, port):
            asked.append(port)

    monkeypatch.setattr("ringwright.cli.demo.pages", lambda: Pages)
    assert call("demo", *arguments).code == 0
    assert asked == [port]


def test_the_pages_are_there():
    assert callable(serve_verb.pages().serve_demo)


def test_new_writes_a_workspace_whose_design_can_be_predicted(call, tmp_path):
    folder = tmp_path / "terrace"
    outcome = call("new", folder)
    assert outcome.code == 0
    design = folder / "designs" / FIRST_RING
    assert design.read_text(encoding="utf-8") == shipped_text(FIRST_RING)
    assert outcome.out.rstrip().endswith(f"ringwright predict {design}")
    assert sorted(p.name for p in folder.iterdir()) == ["designs", "sheets", "sweeps"]
    assert call("predict", design).code == 0


def test_new_writes_a_whole_example_that_says_it_is_simulated(call, tmp_path):
    folder = tmp_path / "terrace"
    outcome = call("new", folder, "--example", "terrace")
    assert outcome.code == 0
    assert "simulated" in outcome.out
    assert outcome.out.rstrip().endswith(f"ringwright predict {folder / 'designs' / TERRACE_OCTAGON}")
    assert min(p.name for p in (folder / "sweeps").iterdir()) == "as-built-30m.s1p"
    refused = call("new", tmp_path / "other", "--example", "attic")
    assert refused.code == 2
    assert "terrace" in refused.sentence
    assert not (tmp_path / "other").exists()


def test_new_takes_an_empty_folder_and_touches_no_other(call, tmp_path):
    assert call("new", tmp_path).code == 0
    before = sorted(tmp_path.rglob("*"))
    outcome = call("new", tmp_path)
    assert outcome.code == 2
    assert "not empty" in outcome.sentence
    assert sorted(tmp_path.rglob("*")) == before


def test_new_makes_no_folders_above_its_own(call, tmp_path):
    outcome = call("new", tmp_path / "absent" / "terrace")
    assert outcome.code == 2
    assert "does not exist" in outcome.sentence
    assert list(tmp_path.iterdir()) == []


def test_new_in_place_of_a_file_is_refused(call, tmp_path):
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    outcome = call("new", tmp_path / "file")
    assert outcome.code == 2
    assert outcome.sentence
    assert (tmp_path / "file").read_text(encoding="utf-8") == "mine"
