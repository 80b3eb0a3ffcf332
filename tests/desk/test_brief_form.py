# SPDX-License-Identifier: BSD-3-Clause
"""A workspace's brief file as the fields of a page: shown, kept without a field, left out, refused."""

from pathlib import Path

import pytest

from ringwright.choose.rings.brief_file import brief_of
from ringwright.desk.brief_form import stored_brief, with_the_file
from ringwright.desk.searching import drafted_brief, load_brief
from ringwright.errors import DesignError

BRIEF = """\
format = 1
name = "Attic"
bands = ["20m", "17m"]
tune_to = [{ frequency = "14.1 MHz" }]
power = "50 W"
transmit_share = 0.5
region = 2
[site]
height = "14 ft"
[room]
width = "42 in"
[limits]
mass = "12 lb"
exposure = ["icnirp-2020-local"]
[weights]
size = 2
[grid]
perimeter = ["8 ft", "11 ft", 4]
conductors = ["ASTM B88 3/4 L", { diameter = "9 mm", name = "mine" }]
capacitors = [{ kind = "vacuum", minimum = "8 pF", maximum = "250 pF", rated_voltage = "5 kV" }]
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "brief.toml").write_text(BRIEF, encoding="utf-8")
    return tmp_path


def asked_of(folder: Path) -> dict[str, object]:
    """As a page asks it whose fields nobody has touched."""
    form = stored_brief(folder).form
    assert form is not None
    assert form.conductors is not None
    assert form.capacitors is not None
    return {
        "bands": list(form.bands),
        "power": form.power,
        "mode": form.mode,
        "room": {"width": form.width},
        "limits": {"mass": form.mass, "capacitor_voltage_margin": form.margin},
        "weights": dict(form.weights),
        "grid": {
            "shape": list(form.shapes),
            "perimeter": [form.perimeter_from, form.perimeter_to, form.perimeter_count],
            "conductors": list(form.conductors),
            "capacitors": list(form.capacitors),
        },
    }


def test_fields_untouched_ask_for_what_the_file_asks(folder):
    """The one authority is the reader that `search` uses on the file itself."""
    of_file = load_brief(folder / "brief.toml")
    site = {"site": {"height": "14 ft"}, "region": 2}
    of_page = drafted_brief(site, with_the_file(asked_of(folder), folder), folder)
    for same in ("name", "room", "limits", "weights", "perimeters", "conductors", "capacitors", "shapes"):
        assert getattr(of_page, same) == getattr(of_file, same), same
    ours, theirs = (next(iter(brief.bases.values())) for brief in (of_page, of_file))
    assert (ours.targets, ours.transmit_share, ours.power) == (theirs.targets, 0.5, theirs.power)


def test_what_has_no_field_is_told(folder):
    stored = stored_brief(folder)
    assert stored.own_conductors == ("mine",)
    assert stored.own_capacitors == ("vacuum 8-250 pF",)
    kept, left = stored.says
    assert kept == (
        "Kept from it without a field here: tune_to = 14.1 MHz; transmit_share = 0.5; "
        "limits.exposure = icnirp-2020-local."
    )
    assert left == "Left out: its region and [site]; that of the design on the bench counts here."


def test_a_mode_chosen_stands_instead_of_the_files_duty(tmp_path):
    (tmp_path / "brief.toml").write_text('format = 1\nbands = ["20m"]\nduty = 0.3\n', encoding="utf-8")
    stored = stored_brief(tmp_path)
    assert stored.form is not None
    assert stored.form.mode is None
    assert "duty = 0.3 (unless a mode is chosen)" in stored.says[0]
    plain = {"bands": ["20m"], "power": "20 W"}
    assert with_the_file(plain, tmp_path)["duty"] == 0.3
    assert "duty" not in with_the_file({**plain, "mode": "CW"}, tmp_path)


def test_what_the_file_leaves_open_is_filled_in_as_the_reader_does(tmp_path):
    text = 'format = 1\ntune_to = [{ frequency = "14.1 MHz" }]\n'
    (tmp_path / "brief.toml").write_text(text, encoding="utf-8")
    form = stored_brief(tmp_path).form
    assert form is not None
    assert (form.bands, form.power, form.mode, form.conductors) == ((), "100 W", "carrier", None)
    tables = with_the_file({"bands": [], "power": form.power, "mode": form.mode}, tmp_path)
    grid = {"perimeter": [form.perimeter_from, form.perimeter_to, form.perimeter_count]}
    filled, left_open = (
        brief_of({"format": 1, **each}, source="brief")
        for each in (tables | {"grid": grid}, {"tune_to": [{"frequency": "14.1 MHz"}]})
    )
    assert filled.perimeters == left_open.perimeters
    assert dict(filled.weights) == dict(form.weights)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("format = 1\nbands = [", "brief.toml: "),
        ('format = 1\nbands = ["20m"]\n[room]\nwitdh = "1 m"\n', "room.witdh"),
        ('format = 1\nbands = ["20m"]\n[room]\nwidth = "1"\n', "room.width"),
    ],
)
def test_a_file_that_cannot_be_read_is_one_sentence(tmp_path, text, said):
    (tmp_path / "brief.toml").write_text(text, encoding="utf-8")
    stored = stored_brief(tmp_path)
    assert stored.problem is not None
    assert stored.problem.startswith("brief.toml: ")
    assert said in stored.problem
    assert "\n" not in stored.problem
    assert (stored.file, stored.form) == ("brief.toml", None)
    with pytest.raises(DesignError):
        with_the_file({"bands": ["20m"]}, tmp_path)


def test_a_folder_of_that_name_is_told_and_none_is_nothing(tmp_path):
    assert stored_brief(tmp_path).file is None
    (tmp_path / "brief.toml").mkdir()
    assert str(tmp_path) not in str(stored_brief(tmp_path).problem)
    assert "brief.toml" in str(stored_brief(tmp_path).problem)
