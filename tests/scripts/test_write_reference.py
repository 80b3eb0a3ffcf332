# SPDX-License-Identifier: BSD-3-Clause
"""Generated reference pages say what the program says."""

import pytest

from ringwright.antenna.figures import FIGURES
from ringwright.cli.program import program
from scripts.write_reference import MARK, PAGES, rewritten


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_the_page_is_current(path):
    page = path.read_text(encoding="utf-8")
    assert page == rewritten(page, PAGES[path]()), "run: python -m scripts.write_reference"


def test_every_figure_and_every_verb_has_its_entry():
    pages = {path.stem: path.read_text(encoding="utf-8") for path in PAGES}
    assert all(f"### `{key}`\n" in pages["figures"] for key in FIGURES)
    assert all(f"## `ringwright {verb}`\n" in pages["command-line"] for verb in program.commands)


def test_what_people_wrote_stays():
    assert rewritten(f"mine\n{MARK}\nold\n", "new") == f"mine\n{MARK}\n\nnew\n"
    with pytest.raises(ValueError, match="no line"):
        rewritten("a page without the mark", "new")
