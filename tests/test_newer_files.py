# SPDX-License-Identifier: BSD-3-Clause
"""A file of a later program is refused in one sentence that says so, and left as it is (the record: tests/records)."""

import pytest

from ringwright.air.slots import HEADINGS as PLAN
from ringwright.air.slots import read_slots
from ringwright.antenna.design_file import parse_calibration, parse_design
from ringwright.choose.rings.brief_file import parse_brief
from ringwright.errors import RingwrightError
from ringwright.records.drive_files import file_name, keep_findings, open_journal, read_findings
from ringwright.records.records import Records
from ringwright.tuner.commission import Findings
from ringwright.tuner.table_text import HEADINGS, parse_points
from tests.records.recording import add, workspace_in

NEWER = "newer program; update this one"
BRIEF = 'format = 1\nbands = ["40m"]\n'


def parse_parts(text, *, source):
    return parse_brief(BRIEF, source="brief.toml", parts=text, parts_source=source)


def refusal(read):
    with pytest.raises(RingwrightError) as caught:
        read()
    assert "\n" not in str(caught.value)
    return str(caught.value)


@pytest.mark.parametrize("parse", [parse_design, parse_brief, parse_calibration, parse_parts])
def test_a_text_of_a_later_format_is_of_a_newer_program(parse):
    said = refusal(lambda: parse('format = 2\nname = "Ring"\nnew_key = "new"\n', source="ring.toml"))
    assert said.startswith("ring.toml")
    assert "format" in said
    assert NEWER in said


@pytest.mark.parametrize(
    ("parse", "headings"),
    [(read_slots, PLAN), (parse_points, ",".join(HEADINGS))],
    ids=["plan", "tuning table"],
)
def test_a_table_with_a_column_that_is_not_known_is_refused_by_its_headings(parse, headings):
    said = refusal(lambda: parse(f"{headings},new\n1,2,3\n", source="table.csv"))
    assert said.startswith("table.csv:1: ")
    assert headings in said


@pytest.fixture
def workspace(tmp_path):
    return workspace_in(tmp_path / "terrace")


def test_an_export_of_a_newer_program_is_left_alone_and_nothing_is_taken_in(workspace, tmp_path):
    with Records.open(workspace) as records:
        add(records)
        records.export(tmp_path / "exported")
        (contents,) = (tmp_path / "exported").glob("*.json")
        text = contents.read_text().replace("ringwright.records/1", "ringwright.records/2")
        contents.write_text(text)
        assert NEWER in refusal(lambda: records.import_(tmp_path / "exported"))
        assert len(records.sweeps()) == 1
    assert contents.read_text() == text


def test_a_newer_programs_account_of_a_drive_is_left_alone(workspace):
    keep_findings(workspace, "octagon", Findings(travel=128_000, slack=5))
    path = workspace / "drives" / "octagon.json"
    text = path.read_text().replace("ringwright.drive/1", "ringwright.drive/2")
    path.write_text(text)
    assert NEWER in refusal(lambda: read_findings(workspace, "octagon", travel=128_000))
    assert path.read_text() == text


def test_a_newer_programs_position_journal_is_left_alone(workspace):
    (workspace / "drives").mkdir()
    path = workspace / "drives" / f"{file_name('octagon')}.journal"
    path.write_bytes(b'ringwright.journal/2\n{"at": 9000}\n')
    assert NEWER in refusal(lambda: open_journal(workspace, "octagon"))
    assert path.read_bytes() == b'ringwright.journal/2\n{"at": 9000}\n'
