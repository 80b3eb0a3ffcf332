# SPDX-License-Identifier: BSD-3-Clause
"""The page on the link says what the program reads: its examples parse, its table is complete, its times are ours."""

import re
from pathlib import Path

from ringwright.tuner.messages import BOARD_PATIENCE, HEARTBEAT, LONGEST_LINE, STALE
from ringwright.tuner.messages_text import _ORDERS, _STATUS_KEYS, parse_board_line, parse_host_line
from ringwright.tuner.session_control import PATIENCE

PAGE = (Path(__file__).parents[2] / "docs" / "reference" / "link.md").read_text(encoding="utf-8")


def test_every_example_is_read():
    hosts, boards = (block.splitlines() for block in re.findall(r"```json\n(.*?)```", PAGE, re.DOTALL))
    assert [parse_host_line(line).seq for line in hosts] == sorted(
        parse_host_line(line).seq for line in hosts
    )
    assert [type(parse_board_line(line)).__name__ for line in boards] == [
        "Acknowledgement", "Status", "BoardSettings",
    ]  # fmt: skip


def test_every_order_and_every_key_of_a_status_is_listed():
    orders = re.findall(r"^\| `(\w+)` \|", PAGE[: PAGE.index("## Board to host")], re.MULTILINE)
    assert orders[1:] == list(_ORDERS)  # the first is the heading
    keys = PAGE[PAGE.index("| key of a status") : PAGE.index("## Times")]
    listed = {
        key for row in re.findall(r"^\| (`.*?) \|", keys, re.MULTILINE) for key in re.findall(r"`(\w+)`", row)
    }
    assert listed == _STATUS_KEYS - {"v", "seq"}


def test_the_times_are_the_programs():
    assert f"at most {LONGEST_LINE} characters" in PAGE
    for words in (
        f"every {HEARTBEAT:g} s",
        f"{BOARD_PATIENCE:g} s after the last",
        f"after {STALE:g} s",
        f"after {PATIENCE:g} s",
    ):
        assert words in PAGE
