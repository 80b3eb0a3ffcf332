# SPDX-License-Identifier: BSD-3-Clause
"""Nobody's edit is lost: every save ends with both edits in the file, or with nothing written and both shown."""

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.desk.design_folder import DesignFolder, FileChangedMeanwhileError
from ringwright.desk.edited_text import text_with_edits
from ringwright.desk.edits import flat
from ringwright.desk.saving import Conflict, Saved, save
from ringwright.errors import DesignError, StorageError

TEXT = shipped_text(TERRACE_OCTAGON)


def by_hand(text, old, new):
    assert text.count(old) == 1
    return text.replace(old, new)


@pytest.fixture
def folder(tmp_path):
    folder = DesignFolder(tmp_path)
    folder.write("ring", TEXT, over=None)
    return folder


def save_edits(folder, edits, ancestor=TEXT):
    return save(folder, "ring", ancestor=ancestor, edits=edits, yours=text_with_edits(ancestor, edits))


def change_by_hand(folder, old, new):
    text = by_hand(TEXT, old, new)
    folder.write("ring", text, over=TEXT)
    return text


def test_an_edit_is_saved_with_every_comment(folder):
    outcome = save_edits(folder, {"ring.perimeter": "4.3 m"})
    assert isinstance(outcome, Saved)
    assert not outcome.is_merged
    assert folder.read("ring") == outcome.text
    assert outcome.text.count("#") == TEXT.count("#")


def test_edits_of_other_keys_are_merged_and_a_comment_written_meanwhile_stays(folder):
    change_by_hand(folder, "q = 3000", "q = 2500  # measured")
    outcome = save_edits(folder, {"ring.perimeter": "4.3 m"})
    assert isinstance(outcome, Saved)
    assert outcome.is_merged
    assert "q = 2500  # measured" in folder.read("ring")
    assert 'perimeter = "4.3 m"' in folder.read("ring")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('perimeter = "4.4 m"', 'perimeter = "4.5 m"'),  # the same key
        ('perimeter = "4.4 m"', 'diameter = "1.33 m"'),  # both together would make no design
        ("[ring]", "[ring"),  # half way through an edit by hand
    ],
)
def test_edits_that_meet_are_a_conflict_and_nothing_is_written(folder, old, new):
    theirs = change_by_hand(folder, old, new)
    outcome = save_edits(folder, {"ring.perimeter": "4.3 m"})
    assert isinstance(outcome, Conflict)
    assert (outcome.theirs, outcome.yours) == (theirs, text_with_edits(TEXT, {"ring.perimeter": "4.3 m"}))
    assert outcome.keys == ("ring.perimeter",)
    assert folder.read("ring") == theirs


def test_an_edit_in_a_list_that_others_changed_is_a_conflict_since_numbers_may_have_moved(folder):
    change_by_hand(
        folder,
        'name = "neighbour\'s window"',
        'name = "new first"\nat = ["9 m", "9 m", "1 m"]\n\n[[site.people]]\nname = "window"',
    )
    outcome = save_edits(folder, {"site.people[2].at": ["0 m", "-3 m", "1 m"]})
    assert isinstance(outcome, Conflict)
    assert outcome.keys == ("site.people[2].at",)


def test_edits_in_a_list_are_merged_with_changes_elsewhere(folder):
    change_by_hand(folder, "q = 3000", "q = 2500  # measured")
    outcome = save_edits(
        folder,
        {
            "site.people[2]": None,
            "site.metal[2].from": ["0 m", "2 m", "0.1 m"],
            "site.metal[2].to": ["0 m", "2 m", "3 m"],
            "site.metal[2].diameter": "8 mm",
        },
    )
    assert isinstance(outcome, Saved)
    assert outcome.is_merged
    site = tomllib.loads(folder.read("ring"))["site"]
    assert (len(site["people"]), len(site["metal"])) == (1, 2)
    assert "q = 2500  # measured" in outcome.text


def test_the_same_edit_made_twice_is_no_conflict(folder):
    theirs = change_by_hand(folder, "q = 3000", "q = 2500")
    outcome = save_edits(folder, {"capacitor.q": 2500})
    assert isinstance(outcome, Saved)
    assert folder.read("ring") == theirs


def test_a_whole_text_over_a_changed_file_is_a_conflict_with_the_keys_that_differ(folder):
    change_by_hand(folder, "q = 3000", "q = 2500")
    outcome = save(
        folder, "ring", ancestor=TEXT, edits=None, yours=by_hand(TEXT, 'power = "25 W"', 'power = "5 W"')
    )
    assert isinstance(outcome, Conflict)
    assert outcome.keys == ("capacitor.q", "power")


def test_a_new_file_never_replaces_one_that_is_there(folder):
    yours = by_hand(TEXT, "q = 3000", "q = 100")
    outcome = save(folder, "ring", ancestor=None, edits=None, yours=yours)
    assert isinstance(outcome, Conflict)
    assert outcome.keys == ("capacitor.q",)
    assert folder.read("ring") == TEXT
    assert isinstance(save(folder, "other", ancestor=None, edits=None, yours=yours), Saved)
    assert folder.read("other") == yours


def test_saving_again_what_is_there_writes_nothing(folder, monkeypatch):
    monkeypatch.setattr(DesignFolder, "write", None)
    outcome = save(folder, "ring", ancestor=None, edits=None, yours=TEXT)
    assert isinstance(outcome, Saved)


def test_a_draft_that_makes_no_design_is_refused_by_its_key(folder):
    with pytest.raises(DesignError) as caught:
        save_edits(folder, {"ring.perimeter": "-3 m"})
    assert caught.value.key == "ring.perimeter"
    assert folder.read("ring") == TEXT


def test_a_file_that_changes_under_the_writers_hand_is_merged_after_all(folder, monkeypatch):
    meanwhile = by_hand(TEXT, "q = 3000", "q = 2500")
    write = DesignFolder.write

    def interrupted(self, name, text, *, over):
        if over == TEXT:
            write(self, name, meanwhile, over=TEXT)
        write(self, name, text, over=over)

    monkeypatch.setattr(DesignFolder, "write", interrupted)
    outcome = save_edits(folder, {"ring.perimeter": "4.3 m"})
    assert isinstance(outcome, Saved)
    assert outcome.is_merged
    assert "q = 2500" in folder.read("ring")
    assert 'perimeter = "4.3 m"' in folder.read("ring")


def test_a_file_that_never_rests_is_given_up(folder, monkeypatch):
    def restless(*_, **__):
        raise FileChangedMeanwhileError

    monkeypatch.setattr(DesignFolder, "write", restless)
    with pytest.raises(StorageError, match="keeps changing"):
        save_edits(folder, {"ring.perimeter": "4.3 m"})


EDITS = st.fixed_dictionaries(
    {},
    optional={
        "ring.perimeter": st.sampled_from(["4.2 m", "4.5 m"]),
        "ring.joints": st.sampled_from([4, 16]),
        "capacitor.q": st.sampled_from([1000, 2000]),
        "power": st.sampled_from(["5 W", "10 W"]),
        "site.height": st.sampled_from(["2 m", "3 m"]),
    },
)


@given(EDITS, EDITS)
@settings(max_examples=60)
def test_after_any_two_savers_both_edits_stand_or_the_second_is_told(tmp_path_factory, first, second):
    folder = DesignFolder(tmp_path_factory.mktemp("both"))
    folder.write("ring", TEXT, over=None)
    save_edits(folder, first)
    outcome = save_edits(folder, second)
    now = dict(flat(tomllib.loads(folder.read("ring"))))
    assert all(now[key] == value for key, value in first.items())
    disputed = {key for key in first.keys() & second.keys() if first[key] != second[key]}
    if disputed:
        assert isinstance(outcome, Conflict)
        assert set(outcome.keys) == disputed
    else:
        assert isinstance(outcome, Saved)
        assert all(now[key] == value for key, value in second.items())
