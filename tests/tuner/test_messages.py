# SPDX-License-Identifier: BSD-3-Clause
import binascii
import itertools
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import LinkMessageError, LinkVersionError
from ringwright.tuner.line_check import sealed
from ringwright.tuner.messages import (
    LONGEST_LINE,
    MOST_NUMBER,
    MOST_STEPS,
    Acknowledgement,
    AskSettings,
    BoardSettings,
    Ends,
    Heartbeat,
    Hello,
    HostLine,
    Inhibit,
    Limit,
    Move,
    Position,
    Reference,
    SetSetting,
    Status,
    Stop,
    StoppedBy,
)
from ringwright.tuner.messages_text import board_text, host_text, parse_board_line, parse_host_line

STEPS = st.integers(-MOST_STEPS, MOST_STEPS)
NUMBERS = st.integers(0, MOST_NUMBER)
POWERS = st.floats(0.0, 1e5)
MILLIVOLTS = st.none() | st.floats(-1e6, 1e6)
ORDERED = st.tuples(STEPS, STEPS).map(sorted)
ORDERS = st.one_of(
    st.builds(Hello),
    st.builds(Heartbeat),
    st.builds(Stop),
    st.builds(Reference),
    st.builds(Move, STEPS, st.none() | st.integers(1, 100_000)),
    ORDERED.map(lambda pair: Ends(*pair)),
    st.builds(Limit, POWERS),
    st.builds(Position, STEPS, st.booleans()),
    st.builds(Inhibit, st.booleans()),
    st.just(AskSettings()),
    st.builds(
        SetSetting, st.text(max_size=20), st.none() | st.booleans() | STEPS | st.lists(POWERS, max_size=8)
    ),
)
ACKNOWLEDGEMENTS = st.builds(
    Acknowledgement,
    seq=NUMBERS,
    answers=NUMBERS,
    is_done=st.booleans(),
    why=st.none() | st.text(max_size=40),
    newest=st.none() | NUMBERS,
)
STATUSES = st.builds(
    Status,
    seq=NUMBERS,
    at=STEPS,
    is_sure=st.booleans(),
    is_moving=st.booleans(),
    to=st.none() | STEPS,
    over=st.tuples(STEPS, STEPS),
    forward_power=POWERS,
    reflected_power=POWERS,
    temperature_c=st.none() | st.floats(-100.0, 500.0),
    noise_db=st.none() | st.floats(-300.0, 300.0),
    is_inhibited=st.booleans(),
    boots=st.integers(0, MOST_STEPS),
    milliseconds=NUMBERS,
    ends=st.none() | ORDERED.map(tuple),
    stopped_by=st.none() | st.sampled_from(StoppedBy),
    forward_mv=MILLIVOLTS,
    reflected_mv=MILLIVOLTS,
    low_stop=st.none() | st.booleans(),
    high_stop=st.none() | st.booleans(),
)
VALUES = st.none() | st.booleans() | STEPS | st.lists(st.lists(POWERS, max_size=2), max_size=8)
SETTINGS = st.builds(BoardSettings, NUMBERS, st.dictionaries(st.text(max_size=9), VALUES, max_size=3))
HOST_LINE = '{"v":2,"seq":7,"do":"move","to":1200,"speed":null,"crc":"63e9bbe7"}'
STATUS = {
    "v": 2, "seq": 4, "at": 10, "sure": True, "moving": False, "to": None, "over": [9, 10], "forward_w": 4.9,
    "reflected_w": 0.3, "temperature_c": None, "noise_db": -71.5, "inhibit": False, "boots": 2, "ms": 81250,
    "ends": [0, 4000], "stopped_by": None, "forward_mv": 412.5, "reflected_mv": None, "low_stop": False,
    "high_stop": None,
}  # fmt: skip


@given(st.builds(HostLine, NUMBERS, ORDERS))
def test_orders_survive_the_round_trip(line):
    assert parse_host_line(host_text(line)) == line


@given(ACKNOWLEDGEMENTS | STATUSES | SETTINGS)
def test_what_a_board_says_survives_the_round_trip(line):
    text = board_text(line)
    assert len(text) <= LONGEST_LINE
    assert parse_board_line(text) == line


def test_a_line_reads_as_the_protocol_writes_it():
    assert parse_host_line(HOST_LINE) == HostLine(7, Move(1200))
    assert host_text(HostLine(7, Move(1200))) == HOST_LINE
    found = parse_board_line(sealed(json.dumps(STATUS)))
    assert isinstance(found, Status)
    assert (found.at, found.over, found.ends, found.milliseconds) == (10, (9, 10), (0, 4000), 81250)
    said = json.loads(board_text(found))
    del said["crc"]
    assert said == STATUS


def refusal(parse, text):
    try:
        parse(text)
    except LinkMessageError as error:
        return str(error)
    return None


@given(st.text(max_size=200) | st.binary(max_size=200).map(lambda raw: raw.decode("latin-1")))
def test_any_other_text_is_refused_with_one_short_sentence(text):
    for parse in (parse_host_line, parse_board_line):
        sentence = refusal(parse, text)
        assert sentence is not None
        assert "\n" not in sentence
        assert len(sentence) < 250


@given(st.builds(HostLine, NUMBERS, ORDERS), st.data())
def test_a_line_cut_anywhere_is_refused(line, data):
    text = host_text(line)
    cut = data.draw(st.integers(0, len(text) - 1))
    with pytest.raises(LinkMessageError):
        parse_host_line(text[:cut])


@pytest.mark.parametrize(
    ("line", "field"),
    [
        ("", "line"),
        ("[]", "line"),
        ("[" * 980, "line"),
        ('{"v":2,"seq":1,"do":"hello"}' + " " * 1000, "line"),
        ('{"v":3,"seq":1,"do":"hello"}', "v"),
        ('{"v":true,"seq":1,"do":"hello"}', "v"),
        ('{"v":2,"seq":1}', "do"),
        ('{"v":2,"seq":1,"do":"jump"}', "do"),
        ('{"v":2,"seq":-1,"do":"hello"}', "seq"),
        ('{"v":2,"seq":1.0,"do":"hello"}', "seq"),
        ('{"v":2,"seq":1,"do":"hello","do":"stop"}', "line"),
        ('{"v":2,"seq":1,"do":"move"}', "line"),
        ('{"v":2,"seq":1,"do":"move","to":1,"speed":null,"fast":true}', "line"),
        ('{"v":2,"seq":1,"do":"move","to":true,"speed":null}', "to"),
        ('{"v":2,"seq":1,"do":"move","to":3000000000,"speed":null}', "to"),
        ('{"v":2,"seq":1,"do":"move","to":1,"speed":0}', "speed"),
        ('{"v":2,"seq":1,"do":"ends","low":5,"high":4}', "low"),
        ('{"v":2,"seq":1,"do":"limit","tuning_power_w":NaN}', "line"),
        ('{"v":2,"seq":1,"do":"limit","tuning_power_w":1e999}', "tuning_power_w"),
        ('{"v":2,"seq":1,"do":"inhibit","on":1}', "on"),
    ],
)
def test_a_bad_order_is_refused_by_the_name_of_its_field(line, field):
    with pytest.raises(LinkMessageError) as caught:
        parse_host_line(sealed(line))
    assert caught.value.field == field
    assert str(caught.value).startswith(f"link: {field} ")


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("at", 1.5), ("sure", 1), ("to", "5"), ("over", [1]), ("over", [1, 2.0]), ("forward_w", -0.1),
        ("forward_w", None), ("reflected_w", "0"), ("temperature_c", 1e4), ("noise_db", "loud"), ("inhibit", None),
        ("boots", -1), ("ms", None), ("ends", [5, 4]), ("ends", 3), ("stopped_by", "me"), ("stopped_by", 1),
        ("forward_mv", "1"), ("reflected_mv", 1e9), ("low_stop", 1), ("high_stop", "no"),
    ],
)  # fmt: skip
def test_a_bad_status_is_refused_by_the_name_of_its_field(key, value):
    with pytest.raises(LinkMessageError) as caught:
        parse_board_line(sealed(json.dumps(STATUS | {key: value})))
    assert caught.value.field == key


@pytest.mark.parametrize("key", [key for key in STATUS if key != "v"])
def test_a_status_without_one_of_its_fields_is_refused(key):
    with pytest.raises(LinkMessageError):
        parse_board_line(sealed(json.dumps({k: v for k, v in STATUS.items() if k != key})))


def test_the_check_sum_is_the_published_crc_32():
    """CRC-32 of the octets "123456789" is CBF43926: R. N. Williams, A Painless Guide to CRC Error Detection Algorithms
    (1993), "CRC-32" in the table of check values; the polynomial of IEEE 802.3, 3.2.9, and ITU-T V.42, 8.1.1.6.2."""
    assert sealed("123456789}") == '123456789,"crc":"cbf43926"}'
    assert binascii.crc32(b"123456789") == 0xCBF43926


def test_a_garbled_character_is_always_found():
    """A CRC of 32 bits finds every burst up to 32 bits: so any one character, wherever it is."""
    text = host_text(HostLine(1767225600001, Limit(5.0)))
    for place, letter in itertools.product(range(len(text)), "0123456789e.-"):
        garbled = text[:place] + letter + text[place + 1 :]
        if garbled != text:
            with pytest.raises(LinkMessageError):
                parse_host_line(garbled)


@pytest.mark.parametrize("text", ['{"v":1,"seq":1,"do":"stop"}', sealed('{"v":3,"seq":1,"to":[]}')])
def test_another_version_is_refused_as_such(text):
    for parse in (parse_host_line, parse_board_line):
        with pytest.raises(
            LinkVersionError, match="must be 2, the protocol version this program speaks, got"
        ):
            parse(text)


def test_a_garbled_version_is_not_believed():
    garbled = host_text(HostLine(1, Stop())).replace('"v":2', '"v":1')
    with pytest.raises(LinkMessageError) as caught:
        parse_host_line(garbled)
    assert not isinstance(caught.value, LinkVersionError)
