# SPDX-License-Identifier: BSD-3-Clause
import zlib

from hypothesis import given
from hypothesis import strategies as st

from ringwright.tuner.journal import Kept, Remembered, journal_line, read_journal

STEPS = st.integers(-(2**31), 2**31)
KEPT = st.builds(Kept, STEPS, st.booleans(), st.none() | STEPS, st.integers(0, 1000), is_proved=st.booleans())


def written(entries, first=1):
    return b"".join(journal_line(kept, first + i) for i, kept in enumerate(entries))


@given(st.lists(KEPT, min_size=1, max_size=6), st.integers(1, 10**6))
def test_the_last_line_is_what_is_remembered(entries, first):
    found = read_journal(written(entries, first))
    assert found == Remembered(entries[-1], first + len(entries) - 1, is_whole=True)


@given(st.lists(KEPT, min_size=2, max_size=5), st.data())
def test_power_cut_at_any_byte_leaves_the_line_before(entries, data):
    whole = written(entries[:-1])
    last = journal_line(entries[-1], len(entries))
    cut = data.draw(st.integers(0, len(last) - 1))
    assert read_journal(whole + last[:cut]) == Remembered(entries[-2], len(entries) - 1, is_whole=True)


@given(st.lists(KEPT, min_size=1, max_size=5), st.data())
def test_a_changed_byte_never_passes_for_a_whole_journal(entries, data):
    raw = bytearray(written(entries))
    place = data.draw(st.integers(0, len(raw) - 1))
    raw[place] ^= data.draw(st.integers(1, 255))
    found = read_journal(bytes(raw))
    assert not found.is_whole or found.kept == entries[-2]  # the last line end broken: as if cut there


@given(st.lists(KEPT, min_size=3, max_size=6), st.data())
def test_a_missing_line_is_noticed(entries, data):
    lines = written(entries).splitlines(keepends=True)
    del lines[data.draw(st.integers(1, len(lines) - 2))]
    assert not read_journal(b"".join(lines)).is_whole


@given(st.binary(min_size=1, max_size=300))
def test_any_other_bytes_are_damage_and_no_error(data):
    assert read_journal(data).kept is None


def test_an_empty_journal_is_whole_and_knows_nothing():
    assert read_journal(b"") == Remembered(None, 0, is_whole=True)


def test_zeros_left_by_a_file_system_after_a_cut_are_doubt():
    entries = [Kept(10, True, None, 1)]
    assert not read_journal(written(entries) + b"\0" * 64).is_whole


def test_a_line_of_a_program_that_knew_nothing_of_proof_is_read_as_it_was_meant():
    body = b"7 -31 1 400 2"
    found = read_journal(body + b" %08x\n" % zlib.crc32(body))
    assert found == Remembered(Kept(-31, True, 400, 2), 7, is_whole=True)
