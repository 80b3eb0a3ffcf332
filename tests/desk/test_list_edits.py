# SPDX-License-Identifier: BSD-3-Clause
"""Tables of a list are edited, added and taken out one by one; the oracle for the text is the standard library."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.scenario import FIRST_RING, RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_text
from ringwright.desk.edited_text import text_with_edits
from ringwright.desk.edits import Value, overlap, plain_values, with_edits
from ringwright.errors import DesignError

TERRACE = shipped_text(TERRACE_OCTAGON)
NOTED = """# a noted site
[site]
height = "2 m" # up

# the long one
[[site.metal]] # on the wall
kind = "gutter" # old
diameter = "80 mm"
from = ["-3 m", "1 m", "4 m"] # west
to = [
    "3 m", # not measured
    "1 m",
    "4 m",
]
# the short one, in copper

[[site.metal]]
kind = "railing"
diameter = "40 mm"
from = ["0 m", "1 m", "1 m"]
to = ["1 m", "1 m", "1 m"]
# what is not known

[tolerance]
earth = 0.5
"""
NEW_PERSON: dict[str, Value | None] = {
    "site.people[3].name": "gate",
    "site.people[3].at": ["1 m", "2 m", "0.5 m"],
}
POINTS = st.lists(st.sampled_from(["0 m", "-1.5 m", "2 ft"]), min_size=3, max_size=3)


def comments(text):
    return [line.partition("#")[2] for line in text.splitlines() if "#" in line]


@st.composite
def list_edits(draw):
    """Edits of a list of two: some changed, some new, some of either taken out."""
    new = draw(st.integers(0, 3))
    edits = {}
    for number in range(1, 3 + new):
        if number > 2 or draw(st.booleans()):
            edits[f"site.metal[{number}].from"] = draw(POINTS)
        if draw(st.booleans()):
            edits[f"site.metal[{number}].material"] = draw(st.sampled_from(["copper", None]))
        if draw(st.booleans()):
            edits[f"site.metal[{number}]"] = None
    return dict(draw(st.permutations(list(edits.items()))))


@given(list_edits(), st.sampled_from(["\n", "\r\n"]))
def test_edited_text_reads_as_the_edited_tables(edits, line_end):
    text = NOTED.replace("\n", line_end)
    assert tomllib.loads(text_with_edits(text, edits)) == with_edits(tomllib.loads(text), edits)


@pytest.mark.parametrize("name", [FIRST_RING, RUCKSACK_BRAID, TERRACE_OCTAGON])
def test_a_first_person_comes_behind_the_site_of_every_shipped_design(name):
    text = shipped_text(name)
    number = len(tomllib.loads(text).get("site", {}).get("people", [])) + 1
    edits: dict[str, Value | None] = {
        f"site.people[{number}].name": "gate",
        f"site.people[{number}].at": ["1 m", "2 m", "0.5 m"],
    }
    edited = text_with_edits(text, edits)
    assert comments(edited) == comments(text)
    assert tomllib.loads(edited)["site"]["people"][-1] == {"name": "gate", "at": ["1 m", "2 m", "0.5 m"]}


def test_a_new_table_stands_behind_its_like_and_nothing_else_changes():
    before, after = TERRACE.splitlines(), text_with_edits(TERRACE, NEW_PERSON).splitlines()
    place = next(number for number, line in enumerate(before) if line.startswith("[stand]"))
    added = ["", "[[site.people]]", 'name = "gate"', 'at = ["1 m", "2 m", "0.5 m"]']
    assert after == [*before[: place - 1], *added, *before[place - 1 :]]


def test_a_table_taken_out_takes_its_own_comments_only():
    edited = text_with_edits(NOTED, {"site.metal[1]": None})
    assert [line.strip() for line in comments(edited)] == [
        "a noted site", "up", "the long one", "the short one, in copper", "what is not known",
    ]  # fmt: skip
    assert [piece["kind"] for piece in tomllib.loads(edited)["site"]["metal"]] == ["railing"]


def test_the_last_table_leaves_no_list_behind():
    edits = {"site.metal[1]": None, "site.metal[2]": None}
    assert "metal" not in with_edits(tomllib.loads(NOTED), edits)["site"]
    assert "metal" not in text_with_edits(NOTED, edits)


def test_a_changed_value_of_a_table_keeps_its_comment():
    edited = text_with_edits(NOTED, {"site.metal[1].from": ["-2.5 m", "1 m", "4 m"]})
    assert 'from = ["-2.5 m", "1 m", "4 m"] # west' in edited
    assert comments(edited) == comments(NOTED)


def test_numbers_are_those_of_the_file_until_it_is_saved():
    edits = {"site.metal[1]": None, "site.metal[2].kind": "rail", "site.metal[3].kind": "mast"}
    assert [piece["kind"] for piece in with_edits(tomllib.loads(NOTED), edits)["site"]["metal"]] == [
        "rail",
        "mast",
    ]


def test_what_was_new_and_is_taken_out_again_was_never_there():
    edits = NEW_PERSON | {"site.people[3]": None}
    assert with_edits(tomllib.loads(TERRACE), edits) == tomllib.loads(TERRACE)
    assert text_with_edits(TERRACE, edits) == TERRACE


def test_a_list_written_on_one_line_is_changed_but_not_added_to():
    text = '[site]\npeople = [{name = "a"}, {name = "b"}] # both\n'
    changed = text_with_edits(text, {"site.people[2].name": "c"})
    assert changed == '[site]\npeople = [{name = "a"}, {name = "c"}] # both\n'
    with pytest.raises(DesignError, match="change it by hand"):
        text_with_edits(text, {"site.people[3].name": "c"})


@pytest.mark.parametrize(
    ("edits", "reason"),
    [
        ({"site.people[5].name": "far"}, "has 2 so far"),
        ({"site.people[1]": "gone"}, "key by key"),
        ({"site.height[1].name": "x"}, "no list of tables"),
        ({"site.people.name": "x"}, "no table"),
    ],
)
def test_a_table_that_cannot_be_is_refused_by_its_key(edits, reason):
    with pytest.raises(DesignError, match=reason) as caught:
        with_edits(tomllib.loads(TERRACE), edits)
    assert caught.value.key == next(iter(edits))


def test_a_page_is_given_every_value_of_every_table_of_a_list():
    values = plain_values(tomllib.loads(TERRACE))
    assert values["site.metal[1].from"] == ["-2 m", "1.2 m", "0.9 m"]
    assert values["site.people[2].kind"] == "informed"


def test_a_list_and_a_table_of_it_are_the_same_dispute():
    assert overlap("site.people", "site.people[2].at")
    assert overlap("site.people[2]", "site.people[2].at")
    assert not overlap("site.people[2].at", "site.people[1].at")
    assert not overlap("site.people[1]", "site.people[12]")
