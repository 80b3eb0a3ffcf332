# SPDX-License-Identifier: BSD-3-Clause
"""`tune board` at the terminal."""

import json

from ringwright.cli.program import run


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


def test_a_file_where_the_folder_should_be_is_bad_input(tmp_path, capsys):
    (tmp_path / "board").write_text("mine")
    assert run(["tune", "board", "--out", str(tmp_path / "board")]) == 2
    assert "cannot be made a folder" in capsys.readouterr().err
    assert (tmp_path / "board").read_text() == "mine"
