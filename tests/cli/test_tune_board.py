# SPDX-License-Identifier: BSD-3-Clause
"""`tune board` at the terminal."""

import json

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.cli.program import run
from ringwright.tuner.board_settings import why_not
from ringwright.tuner.firmware.setup import trouble


def test_a_new_board_and_its_update(tmp_path, capsys):
    folder = tmp_path / "board"
    assert run(["tune", "board", "--out", str(folder)]) == 0
    assert "to be edited" in capsys.readouterr().out
    assert (folder / "trial").read_text() == "a0"
    assert (folder / "a" / "ringwright" / "tuner" / "board.py").exists()
    (folder / "settings.json").write_text("{}")
    assert run(["tune", "board", "--out", str(folder), "--copy", "b", "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert (document["schema"], document["copy"], document["settings_kept"]) == (
        "ringwright.board-files/1",
        "b",
        True,
    )
    assert (folder / "settings.json").read_text() == "{}"
    assert (folder / "trial").read_text() == "b0"
    assert all((folder / place).exists() for place in document["files"])


def test_a_design_fills_travel_and_speeds_in(tmp_path, capsys):
    folder, design = tmp_path / "board", tmp_path / "terrace.toml"
    design.write_text(shipped_text(TERRACE_OCTAGON), encoding="utf-8")
    assert run(["tune", "board", "--out", str(folder), "--design", str(design)]) == 0
    assert (
        "filled in from the design: speed 3200, acceleration 6400, seek_speed 1600" in capsys.readouterr().out
    )
    settings = json.loads((folder / "settings.json").read_text())
    assert trouble(settings) is None
    assert all(why_not(key, value) is None for key, value in settings["drive"].items())
    # By hand: 16 turns x 200 steps x 8 microsteps x 5 of reduction; 2 turns a second of the motor, the usual speed.
    assert settings["drive"]["travel"] == 16 * 200 * 8 * 5
    assert settings["drive"]["speed"] == 2 * 200 * 8
    assert settings["drive"]["stop_at"] == -40  # a degree is 22 steps here
    bare = tmp_path / "bare.toml"
    bare.write_text(shipped_text(TERRACE_OCTAGON).partition("[drive]")[0], encoding="utf-8")
    assert run(["tune", "board", "--out", str(tmp_path / "other"), "--design", str(bare)]) == 2
    assert "add a [drive]" in capsys.readouterr().err
    assert not (tmp_path / "other").exists()


def test_a_file_where_the_folder_should_be_is_bad_input(tmp_path, capsys):
    (tmp_path / "board").write_text("mine")
    assert run(["tune", "board", "--out", str(tmp_path / "board")]) == 2
    assert "cannot be made a folder" in capsys.readouterr().err
    assert (tmp_path / "board").read_text() == "mine"
