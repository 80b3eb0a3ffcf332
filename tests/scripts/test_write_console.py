# SPDX-License-Identifier: BSD-3-Clause
"""What pages say the program prints is what it prints."""

import pytest

from scripts.write_console import LESSON, PAGES, rewritten


@pytest.mark.parametrize("path", [path for path in PAGES if path != LESSON], ids=lambda path: path.stem)
def test_printed_output_is_current(path):
    page = path.read_text(encoding="utf-8")
    assert "```console\n$ ringwright " in page
    assert page == rewritten(page), f"run: python -m scripts.write_console {path}"


def test_stale_output_is_noticed():
    page = "```console\n$ ringwright --version\nringwright 0.0.0\n```\n"
    assert rewritten(page) != page
    assert rewritten(rewritten(page)) == rewritten(page)


def test_output_may_be_cut_or_searched():
    cut = rewritten("```console\n$ ringwright --help\nold\n...\n```\n")
    assert cut.splitlines()[2:] == [
        "Usage: ringwright [OPTIONS] [COMMAND] [ARGS]...",
        "...",
        "```",
    ]
    found = rewritten("```console\n$ ringwright --help | grep predict\n```\n").splitlines()
    assert all("predict" in line for line in found[1:-1])


def test_an_edit_must_find_its_text(tmp_path):
    page = "```console\n$ ringwright new w\n```\n<!-- edit w/designs/first-ring.toml to x.toml: {} -> b -->\n"
    assert "x.toml" in rewritten(page.format('name = "First ring"'))
    with pytest.raises(ValueError, match="stands 0 times"):
        rewritten(page.format("not there"))


def test_a_file_that_a_page_shows_is_there():
    page = "<!-- file a.toml -->\n```toml\nformat = 7\n```\n```console\n$ ringwright predict a.toml\n```\n"
    assert "7 is the format of a newer program" in rewritten(page)


def test_only_the_program_itself_is_run():
    with pytest.raises(ValueError, match="only the program"):
        rewritten("```console\n$ rm -r folder\n```\n")
