# SPDX-License-Identifier: BSD-3-Clause
"""What stands between logic and board, under CPython: lines, flash files, copies, settings, pins, packets."""

import builtins
import importlib
import json
import math
import os
import select
import sys
import types
from pathlib import Path
from typing import ClassVar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.errors import OutOfRangeError
from ringwright.tuner.board_journal import Journal
from ringwright.tuner.board_settings import Settings
from ringwright.tuner.firmware import copies
from ringwright.tuner.firmware.broker import Broker, first_packet, packet, text_field
from ringwright.tuner.firmware.flash_files import JournalFiles, SettingsFiles, make_folder
from ringwright.tuner.firmware.loop import GrowingClock
from ringwright.tuner.firmware.setup import PIN_USES, trouble
from ringwright.tuner.firmware.stream_lines import MOST_OCTETS, LineCutter, StreamLines
from ringwright.tuner.firmware_files import SETTINGS, firmware
from tests.tuner.lines import sealed_line

SOURCE = Path(copies.__file__).parent

# Lines.


@given(
    st.lists(st.text(min_size=1, max_size=30).filter(lambda t: not set(t) & set("\r\n")), max_size=8),
    st.data(),
)
def test_lines_come_whole_however_the_octets_are_cut(lines, data):
    octets = "".join(line + data.draw(st.sampled_from(["\n", "\r\n", "\r"])) for line in lines).encode()
    cutter, came = LineCutter(), []
    while octets:
        size = data.draw(st.integers(1, 40))
        came += cutter.cut(octets[:size])
        octets = octets[size:]
    assert came == lines


def test_a_line_without_an_end_is_dropped_and_the_next_one_is_read():
    cutter = LineCutter()
    assert cutter.cut(b"x" * (5 * MOST_OCTETS)) == []
    assert cutter.cut(b"still the same\nnext\n") == ["next"]
    assert cutter.cut(b"\xff\xfe\n") == [""]


def test_a_stream_whose_reader_sleeps_holds_nothing_up():
    ours, theirs = os.pipe()
    in_ours, in_theirs = os.pipe()
    os.set_blocking(theirs, False)
    with os.fdopen(theirs, "wb", 0) as sink, os.fdopen(in_ours, "rb", 0) as source:
        lines = StreamLines(source, sink, select.poll())
        for _ in range(1000):
            lines.say("x" * 500)  # far more than the pipe holds
        os.write(in_theirs, b"one\ntwo\nth")
        assert lines.received() == ["one", "two"]
        os.close(in_theirs)
        assert lines.received() == []
        assert lines.has_ended
    os.close(ours)


def test_a_clock_grows_through_the_end_of_its_counter():
    """MicroPython's `ticks_ms` begins anew at a power of two; `ticks_diff` knows (its documentation)."""
    period = 1 << 14
    now = [period - 100]

    def diff(new, old):
        return (new - old + period // 2) % period - period // 2

    clock = GrowingClock(lambda: now[0] % period, diff)
    seen = []
    for _ in range(40):
        now[0] += 1000
        seen.append(clock.ms())
    assert seen == [1000 * (number + 1) for number in range(40)]


# Flash.


def test_files_keep_what_the_journal_writes_and_begin_anew_when_full(tmp_path):
    make_folder(str(tmp_path / "kept"))
    make_folder(str(tmp_path / "kept"))
    for number in range(200):
        Journal(JournalFiles(str(tmp_path / "kept"))).note(number, number % 3 == 0)
    found = Journal(JournalFiles(str(tmp_path / "kept")))
    assert (found.at, found.sure) == (199, False)
    assert max(path.stat().st_size for path in (tmp_path / "kept").iterdir()) <= 512


def test_a_file_cut_at_any_octet_leaves_the_record_before(tmp_path):
    store = JournalFiles(str(tmp_path))
    journal = Journal(store)
    for number in range(5):
        journal.note(100 * number, True)
    whole = (tmp_path / "where-0").read_bytes()
    for cut in range(len(whole) - 15, len(whole)):
        (tmp_path / "where-0").write_bytes(whole[:cut])
        found = Journal(JournalFiles(str(tmp_path)))
        assert (found.at, found.sure) == (300, True)
        found.note(4711, True)
        assert Journal(JournalFiles(str(tmp_path))).at == 4711


def test_settings_files_survive_octets_that_are_no_text(tmp_path):
    settings = Settings(SettingsFiles(str(tmp_path)), {})
    settings.set("speed", 300)
    settings.set("speed", 301)
    newest = max(tmp_path.iterdir(), key=lambda path: path.read_text().count("301"))
    newest.write_bytes(newest.read_bytes()[:20] + b"\xff\xff")
    assert Settings(SettingsFiles(str(tmp_path)), {}).values["speed"] == 300


# Two copies.


def started(folder, *, good=()):
    """One start: the copy chosen, which confirms itself if it is good."""
    copy = copies.choose(str(folder))
    if copy in good:
        copies.confirm(str(folder), copy)
    return copy


def test_a_new_copy_that_fails_twice_gives_way_to_the_old_one(tmp_path):
    assert started(tmp_path, good="a") == "a"
    (tmp_path / "trial").write_text("b0")
    assert [started(tmp_path, good="a") for _ in range(4)] == ["b", "b", "a", "a"]


def test_a_new_copy_that_works_stays(tmp_path):
    started(tmp_path, good="a")
    (tmp_path / "trial").write_text("b0")
    assert [started(tmp_path, good="ab") for _ in range(3)] == ["b", "b", "b"]
    assert not (tmp_path / "trial").exists()


@pytest.mark.parametrize("text", ["", "c0", "b", "b9x", "bb", "b7", "\n"])
def test_a_trial_that_is_garbled_is_no_trial(tmp_path, text):
    (tmp_path / "use").write_text("b")
    (tmp_path / "trial").write_text(text)
    assert started(tmp_path) == "b"


def test_a_cut_between_the_steps_of_a_confirmation_loses_nothing(tmp_path, monkeypatch):
    started(tmp_path, good="a")
    (tmp_path / "trial").write_text("b0")
    assert started(tmp_path) == "b"
    monkeypatch.setattr(os, "rename", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
    with pytest.raises(KeyboardInterrupt):
        copies.confirm(str(tmp_path), "b")
    monkeypatch.undo()
    assert (tmp_path / "use").read_text() == "a"
    assert started(tmp_path, good="ab") == "b"


def test_a_copy_that_cannot_be_imported_leaves_the_start_to_the_other(tmp_path, monkeypatch):
    ran = run_main(
        tmp_path,
        monkeypatch,
        {"a": "def run(copy): LOG.append(copy)", "b": "import nothing_of_that_name"},
        trial="b0",
    )
    assert ran == ["a", "reset"]
    assert not (tmp_path / "trial").exists()


def test_a_firmware_that_fails_in_its_run_resets_the_board(tmp_path, monkeypatch):
    ran = run_main(tmp_path, monkeypatch, {"a": "def run(copy): raise RuntimeError('pins')"}, trial=None)
    assert ran == ["reset"]


def run_main(folder, monkeypatch, firmwares, *, trial):
    """The start program with folders for files; what it ran."""
    log: list[str] = []
    if trial:
        (folder / "trial").write_text(trial)

    class Reset(BaseException):
        pass

    def reset():
        log.append("reset")
        raise Reset

    def imported(name, *rest):
        if name != "ringwright.tuner.firmware.run":
            return real(name, *rest)
        copy = sys.path[0].strip("/")
        if copy not in firmwares:
            raise ImportError(name)
        space = {"LOG": log}
        exec(firmwares[copy], space)
        return types.SimpleNamespace(run=space["run"])

    real = builtins.__import__
    here = types.SimpleNamespace(
        choose=lambda _: copies.choose(str(folder)),
        other=copies.other,
        reject=lambda _: copies.reject(str(folder)),
    )
    monkeypatch.setitem(sys.modules, "copies", here)
    monkeypatch.setitem(sys.modules, "machine", types.SimpleNamespace(reset=reset))
    monkeypatch.setattr("time.sleep", lambda _: None)
    monkeypatch.setattr(sys, "path", list(sys.path))
    monkeypatch.setattr(sys, "print_exception", lambda _: None, raising=False)
    kept = {name: module for name, module in sys.modules.items() if name.startswith("ringwright")}
    text = (SOURCE / "main.py").read_text(encoding="utf-8")
    monkeypatch.setattr(builtins, "__import__", imported)
    try:
        with pytest.raises(Reset):
            exec(compile(text, "main.py", "exec"), {"__name__": "main"})
    finally:
        sys.modules.update(kept)
    return log


# Settings of the board.


def shipped():
    return json.loads((SOURCE / SETTINGS).read_text(encoding="utf-8"))


def test_the_settings_that_are_shipped_fit():
    assert trouble(shipped()) is None
    assert set(shipped()["pins"]) == set(PIN_USES)


@pytest.mark.parametrize(
    ("path", "value", "word"),
    [
        (("pins", "step"), None, "pins.step"), (("pins", "step"), "2", "pins.step"),
        (("pins", "step"), True, "pins.step"), (("pins", "permit"), 2, "pins.permit"),
        (("pins", "motor"), 9, "pins.motor"), (("pins",), 7, "pins"), (("reading_ms",), 5, "reading_ms"),
        (("reading_ms",), 2.5, "reading_ms"), (("driver_on",), 2, "driver_on"), (("drive",), [], "drive"),
        (("wireless",), {"name": "x"}, "wireless"), (("broker",), {"port": 1}, "broker"),
        (("broker",), {"address": "10.0.0.2", "port": 99999}, "broker.port"),
        (("broker",), {"address": "10.0.0.2", "name": "My Ring"}, "broker.name"),
    ],
)  # fmt: skip
def test_settings_that_do_not_fit_are_told_by_their_name(path, value, word):
    found = shipped()
    place = found
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    assert word in (trouble(found) or "")


@pytest.mark.parametrize("found", [None, [], {}, {"pins": []}])
def test_settings_that_are_none_are_told(found):
    assert trouble(found) == "settings.json must be an object with pins"


# Pins.


class FakePin:
    OUT, IN, PULL_UP = 1, 2, 3
    log: ClassVar[list[tuple[int, int]]] = []
    level: ClassVar[dict[int, int]] = {}

    def __init__(self, number, *_, value=None):
        self.number = number
        if value is not None:
            self.value(value)

    def value(self, to=None):
        if to is None:
            return self.level.get(self.number, 1)
        self.level[self.number] = to
        self.log.append((self.number, to))
        return None


class FakeADC:
    raw: ClassVar[dict[int, int]] = {}

    def __init__(self, pin):
        self.number = pin.number

    def read_u16(self):
        return self.raw.get(self.number, 0)


class FakeWatchdog:
    fed = 0

    def __init__(self, timeout):
        assert timeout == 5000

    def feed(self):
        FakeWatchdog.fed += 1


@pytest.fixture
def pins(monkeypatch):
    FakePin.log, FakePin.level, FakeADC.raw = [], {}, {}
    monkeypatch.setitem(
        sys.modules, "machine", types.SimpleNamespace(Pin=FakePin, ADC=FakeADC, WDT=FakeWatchdog)
    )
    monkeypatch.setattr("time.sleep_us", lambda _: None, raising=False)
    monkeypatch.delitem(sys.modules, "ringwright.tuner.firmware.pins", raising=False)
    module = importlib.import_module("ringwright.tuner.firmware.pins")
    monkeypatch.delitem(sys.modules, "ringwright.tuner.firmware.pins", raising=False)
    return module


def test_from_the_first_moment_nobody_may_transmit_and_the_driver_is_off(pins):
    numbers = shipped()["pins"]
    board = pins.Pins(numbers, {"reversed": False})
    assert (FakePin.level[numbers["permit"]], FakePin.level[numbers["enable"]]) == (0, 1)
    board.show(True, False)
    assert (FakePin.level[numbers["permit"]], FakePin.level[numbers["enable"]]) == (1, 0)
    board.show(False, True)
    assert (FakePin.level[numbers["permit"]], FakePin.level[numbers["enable"]]) == (0, 0)  # holds
    board.show(False, False)
    board.safe()
    assert (FakePin.level[numbers["permit"]], FakePin.level[numbers["enable"]]) == (0, 1)


@pytest.mark.parametrize(
    ("reversed_", "pulses", "way"), [(False, 3, 1), (False, -3, 0), (True, 3, 0), (True, -3, 1)]
)
def test_pulses_have_their_number_and_direction(pins, reversed_, pulses, way):
    numbers = shipped()["pins"]
    board = pins.Pins(numbers, {"reversed": reversed_})
    FakePin.log.clear()
    board.step(pulses, 400.0)
    assert FakePin.log[0] == (numbers["direction"], way)
    assert FakePin.log[1:] == [(numbers["step"], 1), (numbers["step"], 0)] * 3
    FakePin.log.clear()
    board.step(pulses, 400.0, look=lambda: True)
    assert FakePin.log == [(numbers["step"], 1), (numbers["step"], 0)]


def test_a_broken_wire_to_an_end_stop_reads_as_the_end(pins):
    numbers = shipped()["pins"]
    board = pins.Pins(numbers | {"high_stop": None}, {"reversed": False})
    assert board.switches() == (True, None)  # pulled up: nothing holds it down
    FakePin.level[numbers["low_stop"]] = 0
    assert board.switches() == (False, None)


def test_detectors_are_averaged_in_millivolts(pins):
    numbers = shipped()["pins"]
    board = pins.Pins(numbers, {"reversed": False})
    for raw in (0, 65535):
        FakeADC.raw = {numbers["forward"]: raw, numbers["reflected"]: 6553, numbers["thermistor"]: 32768}
        board.sample()
    forward, reflected, warm = board.reading()
    assert (forward, reflected) == pytest.approx((1650.0, 330.0), rel=1e-3)
    assert warm == pytest.approx(25.0, abs=0.1)


@pytest.mark.parametrize(("celsius", "ohm"), [(0.0, 33_621.0), (25.0, 10_000.0), (50.0, 3588.0)])
def test_a_thermistor_against_the_beta_equation_solved_the_other_way(pins, celsius, ohm):
    """R = R25 exp(B (1/T - 1/T25)), B = 3950 K: the definition of beta (textbook), by hand for three temperatures."""
    assert ohm == pytest.approx(1e4 * math.exp(3950.0 * (1.0 / (celsius + 273.15) - 1.0 / 298.15)), rel=1e-3)
    assert pins.thermistor_c(3300.0 * ohm / (ohm + 1e4)) == pytest.approx(celsius, abs=0.1)
    assert pins.thermistor_c(3300.0) is None
    assert pins.thermistor_c(0.0) is None


# Packets of the broker.


@pytest.mark.parametrize(
    ("size", "head"),
    [(0, b"\x00"), (127, b"\x7f"), (128, b"\x80\x01"), (321, b"\xc1\x02"), (2048, b"\x80\x10")],
)
def test_the_remaining_length_is_written_as_the_standard_has_it(size, head):
    """MQTT 3.1.1 (OASIS, 2014), 2.2.3: 64 is 0x40, 321 is 193 then 2; table 2.4 has 127, 128 and the rest."""
    made = packet(0x30, b"x" * size)
    assert made == b"\x30" + head + b"x" * size
    assert first_packet(made) == (0x30, b"x" * size, len(made))
    assert first_packet(made[:-1]) is None


def test_a_text_field_is_the_standards_own():
    """MQTT 3.1.1, 1.5.3: two octets of length, most significant first; figure 3.2 has 0 4 'M' 'Q' 'T' 'T'."""
    assert text_field("MQTT") == b"\x00\x04MQTT"


@given(st.binary(max_size=40))
def test_octets_that_are_no_packet_are_refused_or_waited_for(octets):
    try:
        found = first_packet(octets)
    except ValueError:
        return
    assert found is None or found[2] <= len(octets)


@given(st.binary(max_size=60), st.integers(0, 255))
def test_no_packet_of_a_broker_breaks_the_board(body, kind):
    board = Broker({"address": "127.0.0.1", "port": 1}, select.poll(), boots=1)
    try:
        board._see(kind, body, 0)
    except OSError:
        return  # refused: it closes and tries again
    assert all(isinstance(line, str) for line in board.received())


def test_only_a_fresh_order_to_this_board_is_heard():
    board = Broker({"address": "127.0.0.1", "port": 1, "name": "loft"}, select.poll(), boots=1)
    line = sealed_line(seq=1, do="stop")
    for kind, topic in (
        (0x30, "ringwright/loft/order"),
        (0x31, "ringwright/loft/order"),
        (0x30, "ringwright/attic/order"),
    ):
        board._see(kind, text_field(topic) + line.encode(), 0)
    assert board.received() == [line]


# The folder to copy.


@pytest.mark.parametrize("copy", ["a", "b"])
def test_a_board_gets_all_it_imports_and_the_very_logic_of_the_twin(copy):
    texts = firmware(copy)
    assert {"main.py", "copies.py", "settings.json"} <= set(texts)
    assert texts["trial"] == f"{copy}0"
    for place, text in texts.items():
        for words in [line.split() for line in text.splitlines()]:
            if words[:1] == ["from"] and words[1].startswith("ringwright") and place != "main.py":
                assert f"{copy}/{words[1].replace('.', '/')}.py" in texts, (place, words)
    assert texts[f"{copy}/ringwright/tuner/board.py"] == (SOURCE.parent / "board.py").read_text(
        encoding="utf-8"
    )


def test_there_is_no_third_copy():
    with pytest.raises(OutOfRangeError, match="copy must be a or b"):
        firmware("c")
