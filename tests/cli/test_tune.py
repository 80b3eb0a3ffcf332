# SPDX-License-Identifier: BSD-3-Clause
"""`tune`: the twin of a design is driven from the terminal; its table and history; what is refused."""

import csv
import json
import re
import threading
import time

import pytest

from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.desk.desk import Desk
from ringwright.records.records import Records
from tests.cli.conftest import in_free_space
from tests.web.running import running_server

NAME = "terrace, simulated"


@pytest.fixture(scope="module")
def terrace(tmp_path_factory):
    workspace = tmp_path_factory.mktemp("tune") / "terrace"
    for folder in ("designs", "sweeps", "sheets"):
        (workspace / folder).mkdir(parents=True)
    text = in_free_space(shipped_text(TERRACE_OCTAGON)).replace('["60m", "40m", "30m"]', '["40m", "30m"]')
    (workspace / "designs" / "terrace.toml").write_text(text, encoding="utf-8")
    return workspace


@pytest.fixture
def design(terrace):
    return terrace / "designs" / "terrace.toml"


def strict(line):
    def refuse(name):
        raise AssertionError(f"{name} is not JSON")

    return json.loads(line, parse_constant=refuse)


def test_a_table_is_learnt_kept_edited_and_comes_back(call, terrace, design, tmp_path):
    outcome = call("tune", "learn", design, "--twin", "--each", "2", "--json")
    assert outcome.code == 0, outcome.err
    lines = [strict(line) for line in outcome.out.splitlines()]
    assert lines[0] == {
        "schema": "ringwright.tune/1", "type": "begin", "design": "terrace", "table": NAME, "is_simulated": True,
        "line": None,
    }  # fmt: skip
    assert lines[-1] == {"type": "end", "is_done": True}
    assert {line["type"] for line in lines} >= {"state", "search", "told", "control", "table"}
    document = strict(call("tune", "table", "print", terrace, NAME, "--json").out)
    assert len(document["pairs"]) == 4
    assert [round(pair["frequency_hz"] / 1e6) for pair in document["pairs"]] == [7, 7, 10, 10]
    positions = [pair["position_steps"] for pair in document["pairs"]]
    assert positions == sorted(positions, reverse=True)
    exported = tmp_path / "pairs.csv"
    assert call("tune", "table", "export", terrace, NAME, exported).code == 0
    with exported.open(encoding="utf-8", newline="") as file:
        assert [int(row["position_steps"]) for row in csv.DictReader(file)] == positions
    assert "3 pairs" in call("tune", "table", "edit", terrace, NAME, "--remove", "1").out
    assert "stands at garden" in call("tune", "table", "edit", terrace, NAME, "--site", "garden").out
    again = strict(call("tune", "table", "edit", terrace, NAME, "--from", exported, "--json").out)
    assert again["pairs"] == document["pairs"]
    assert strict(call("tune", "table", "list", terrace, "--json").out)["tables"] == [
        {"name": NAME, "site": "garden", "pairs": 4}
    ]
    assert "7.0040" in call("tune", "table", "print", terrace, NAME).out
    history = strict(call("tune", "history", terrace, "--band", "40m", "--json").out)
    assert [tuning["outcome"] for tuning in history["tunings"]] == ["tuned", "tuned"]
    assert all(len(tuning["trace"]) > 3 for tuning in history["tunings"])
    # The count was left alone at the first dip: the record has it as the table has it.
    assert {tuning["position_steps"] for tuning in history["tunings"]} <= set(positions)
    assert history["tunings"][0]["design"] in set(_designs(terrace))


def _designs(workspace):
    with Records.open(workspace) as records:
        return list(records.design_texts())


def test_a_frequency_and_a_power_in_words(call, design):
    outcome = call("tune", "to", design, "7.1 MHz", "--twin", "--power", "30 W")
    assert outcome.code == 0, outcome.err
    for words in (
        "kilovolts",
        "Key 4 W on 7.1000 MHz now.",
        "Tuned to 7.1000 MHz",
        "Transmit with 30 W now.",
        "power asked for",
    ):
        assert words in outcome.out


def test_what_one_run_has_learnt_helps_the_next(call, tmp_path, terrace):
    assert call("new", tmp_path / "roof").code == 0
    design = tmp_path / "roof" / "designs" / "terrace.toml"
    design.write_bytes((terrace / "designs" / "terrace.toml").read_bytes())
    frequencies = ("7.1000 MHz", "10.1200 MHz", "7.0500 MHz", "10.1400 MHz")
    for frequency in frequencies:
        told = call("tune", "to", design, frequency, "--twin").out
        assert f"Tuned to {frequency}" in told
        assert "corrected" not in told  # the count is sure: the table learns what the built ring differs by
    tunings = strict(call("tune", "history", tmp_path / "roof", "--json").out)["tunings"]
    place = {tuning["frequency_hz"]: tuning["position_steps"] for tuning in tunings}
    assert sorted(place, key=lambda hertz: place[hertz]) == sorted(place, reverse=True)
    off = {each["frequency_hz"]: abs(each["expected_steps"] - each["position_steps"]) for each in tunings}
    assert off[7.05e6] < 0.5 * off[7.1e6]
    assert off[10.14e6] < 0.5 * off[10.12e6]


def test_only_going_needs_no_carrier(call, design):
    outcome = call("tune", "to", design, "10.12 MHz", "--twin", "--only-go")
    assert outcome.code == 0
    assert "Standing where the table has 10.1200 MHz" in outcome.out
    assert "Key" not in outcome.out


@pytest.mark.parametrize(("hold", "most"), [((), 5.5e3), (("--hold", "0.9 s"), 10.5e3)])
def test_a_nudge_goes_as_far_as_it_says(call, design, hold, most):
    outcome = call("tune", "nudge", design, "7.1 MHz", "--twin", "--by", "-5 kHz", *hold, "--json")
    assert outcome.code == 0, outcome.err
    states = [line for line in map(strict, outcome.out.splitlines()) if line["type"] == "state"]
    assert "nudging" in {state["phase"] for state in states}
    assert states[-1]["moving"] is False
    (nudged,) = (line for line in map(strict, outcome.out.splitlines()) if line.get("word") == "nudged")
    assert -most < nudged["values"]["change"] < -most + 1e3  # whole steps of about 0.1 kHz
    assert nudged["words"].startswith(f"Nudged by {nudged['values']['change'] / 1e3:+.1f} kHz")
    assert nudged["values"]["steps"] > 0  # towards more capacitance


def test_following_ends_at_rest(call, design):
    outcome = call("tune", "follow", design, "7.1 MHz", "--twin", "--for", "20 s", "--json")
    assert outcome.code == 0, outcome.err
    states = [line for line in map(strict, outcome.out.splitlines()) if line["type"] == "state"]
    assert any(state["following"] for state in states)


def test_a_server_is_watched_and_stopped(call, design, tmp_path):
    from ringwright.desk.drafts import Base, Draft

    desk = Desk(design.parent.parent)
    with running_server(desk) as server:
        address = server.address
        assert call("tune", "stop", address, "--json").code == 1
        none = call("tune", "watch", address)
        assert (none.code, none.out) == (1, "No drive is connected there.\n")
        desk.connect(Draft(base=Base(name="terrace")))
        session = desk.drive.session
        assert session is not None
        while session.state.contact.status is None:
            time.sleep(0.01)
        outcome = call("tune", "stop", address)
        assert (outcome.code, outcome.out) == (0, "STOP: the drive stands still.\n")
        while not session.state.is_stopped:  # the next turn looks at it first
            time.sleep(0.01)
        threading.Timer(1.0, desk.drive.end).start()
        watched = call("tune", "watch", address)
        assert watched.code == 0
        first, second, *_ = watched.out.splitlines()
        assert first == "The drive of terrace, simulated."
        assert re.fullmatch(r"It stands at step \d+, proved: [0-9.]+ MHz by the table; STOP holds\.", second)


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (["to", "{d}", "7.1 MHz"], 2, "--twin for the simulated one"),
        (["to", "{d}", "14.2 MHz", "--twin"], 2, "none of the design's bands"),
        (["to", "{d}", "7.1", "--twin"], 2, "7.1"),
        (["to", "{d}", "7.1 MHz", "--twin", "--power", "5 kW"], 2, "40m takes more than 0 and up to"),
        (["to", "{d}", "7.1 MHz", "--twin", "--power", "-5 W"], 2, "40m takes more than 0 and up to"),
        (["to", "{d}", "7.1 MHz", "--twin", "--only-go", "--power", "5 W"], 2, "exclude"),
        (["nudge", "{d}", "7.1 MHz", "--twin", "--by", "5 W"], 2, "a frequency is needed"),
        (["nudge", "{d}", "7.1 MHz", "--twin", "--by", "0 Hz"], 2, "how far, up or down"),
        (["nudge", "{d}", "7.1 MHz", "--twin", "--by", "1 kHz", "--hold", "-3 s"], 2, "a time above 0"),
        (["follow", "{d}", "7.1 MHz", "--twin", "--for", "0 s"], 2, "a time above 0"),
        (["learn", "{d}", "--twin", "--band", "6m"], 2, 'no band "6m"'),
        (["to", "{w}/nowhere.toml", "7.1 MHz", "--twin"], 2, "nowhere"),
        (["table", "print", "{w}", "nothing"], 2, "no tuning table"),
        (["table", "edit", "{w}", NAME], 2, "give one of"),
        (["table", "edit", "{w}", NAME, "--remove", "99"], 2, "no pair 99"),
        (["table", "edit", "{w}", NAME, "--from", "{d}"], 2, "headings"),
        (["table", "edit", "{w}", NAME, "--site", " "], 2, "site"),
        (["history", "{w}", "--band", "6m"], 2, "no tuning"),
        (["stop", "http://127.0.0.1:9"], 3, "cannot be asked"),
        (["stop", "ftp://x"], 3, "no address"),
    ],
)
def test_what_cannot_be_done_is_one_sentence(call, terrace, design, arguments, code, said):
    with Records.open(terrace) as records:
        if NAME not in records.table_names():
            records.keep_table(NAME, records.table(NAME))
    outcome = call("tune", *(argument.format(d=design, w=terrace) for argument in arguments))
    assert outcome.code == code
    assert said in outcome.err.splitlines()[-1]
    assert code != 2 or outcome.out == "" or "learn" in arguments  # nothing was connected for it
    assert "Traceback" not in outcome.err
