# SPDX-License-Identifier: BSD-3-Clause
"""Damaged sweep files: each gets one sentence that names the file, the line and what to do."""

import pickle
import re
from pathlib import Path

import pytest

from ringwright.errors import RingwrightError, SweepFileError
from ringwright.proof.file_text import LARGEST_FILE
from ringwright.proof.files import load_sweep, parse_sweep
from ringwright.proof.readings import parse_readings

GOOD = "! a sweep\n# MHz S RI R 50\n7.00 0.5 0.1\n7.01 0.4 0.1\n7.02 0.5 0.2\n"
V2 = (
    "[Version] 2.0\n# MHz S RI R 50\n[Number of Ports] 1\n[Number of Frequencies] 2\n"
    "[Network Data]\n7.00 0.5 0.1\n7.01 0.4 0.1\n[End]\n"
)
TWO = "# MHz S RI R 50\n7.00 .5 .1 .01 0 .01 0 .5 .1\n7.01 .5 .1 .01 0 .01 0 .5 .1\n"
TABLE = "frequency (MHz),R (ohm),X (ohm)\n7.00,50,1\n7.01,49,2\n"

# name of the file, its content, the line that is named, and words of the sentence
DAMAGED = {
    "empty": ("a.s1p", "", 1, "empty"),
    "blank lines only": ("a.s1p", "\n \n\t\n", 1, "empty"),
    "comments only": ("a.s1p", "! nothing\n! at all\n", 1, "no data rows"),
    "option line only": ("a.s1p", "# MHz S RI R 50\n", 1, "no data rows"),
    "no option line": ("a.s1p", "7.00 0.5 0.1\n", 1, "no option line"),
    "unknown option": ("a.s1p", GOOD.replace("RI", "RX"), 2, '"RX"'),
    "unknown unit": ("a.s1p", GOOD.replace("MHz", "THz"), 2, '"THZ"'),
    "two units": ("a.s1p", GOOD.replace("MHz", "MHz kHz"), 2, "twice"),
    "two formats": ("a.s1p", GOOD.replace("RI", "RI DB"), 2, "twice"),
    "no reference after R": ("a.s1p", GOOD.replace("R 50", "R"), 2, "reference"),
    "reference of zero": ("a.s1p", GOOD.replace("R 50", "R 0"), 2, "reference"),
    "negative reference": ("a.s1p", GOOD.replace("R 50", "R -50"), 2, "reference"),
    "reference in words": ("a.s1p", GOOD.replace("R 50", "R fifty"), 2, '"FIFTY"'),
    "hybrid parameters": ("a.s2p", TWO.replace(" S ", " H "), 1, "H parameters"),
    "unreadable token": ("a.s1p", GOOD.replace("7.01 0.4", "7.01 0.4x"), 4, '"0.4x"'),
    "dashes for a number": ("a.s1p", GOOD.replace("7.01 0.4", "7.01 ---"), 4, '"---"'),
    "underscore in a number": ("a.s1p", GOOD.replace("7.01", "7_01"), 4, '"7_01"'),
    "digits of another script": ("a.s1p", GOOD.replace("7.01", "\u0667.01"), 4, "not a number"),
    "not a number": ("a.s1p", GOOD.replace("0.4", "NaN"), 4, "finite"),
    "infinity": ("a.s1p", GOOD.replace("0.4", "inf"), 4, "finite"),
    "too large for a double": ("a.s1p", GOOD.replace("0.4", "1e999"), 4, "finite"),
    "decimal comma": ("a.s1p", GOOD.replace("7.01", "7,01"), 4, '"7.01"'),
    "commas between the columns": ("a.s1p", GOOD.replace("7.01 0.4 0.1", "7.01,0.4,0.1"), 4, "not a number"),
    "row too short": ("a.s1p", GOOD.replace("7.01 0.4 0.1", "7.01 0.4"), 4, "2 columns"),
    "row too long": ("a.s1p", GOOD.replace("7.01 0.4 0.1", "7.01 0.4 0.1 0.2"), 4, "4 columns"),
    "cut in the middle of a row": ("a.s1p", GOOD[:-9], 5, "columns"),
    "frequency twice": ("a.s1p", GOOD.replace("7.01", "7.00"), 4, "twice"),
    "falling frequency": ("a.s1p", GOOD.replace("7.02", "6.99"), 5, "follows 7.01 MHz"),
    "two sweeps in one file": ("a.s1p", GOOD + GOOD, 8, "follows 7.02 MHz"),
    "frequency of zero": ("a.s1p", GOOD.replace("7.00", "0"), 3, "no radio frequency"),
    "negative frequency": ("a.s1p", GOOD.replace("7.00", "-7.00"), 3, "no radio frequency"),
    "hertz without a unit": ("a.s1p", "# S RI R 50\n7000000 0.5 0.1\n", 2, "unit of frequency"),
    "more reflected than sent": ("a.s1p", GOOD.replace("0.4", "1.06"), 4, "passive"),
    "decibels of the wrong sign": ("a.s1p", "# MHz S DB\n7 20 0\n", 2, "passive"),
    "negative magnitude": ("a.s1p", "# MHz S MA\n7 -0.5 0\n", 2, "below 0"),
    "overflowing values": ("a.s1p", GOOD.replace("0.4 0.1", "1e300 1e300"), 4, "passive"),
    "negative resistance": ("a.s1p", "# MHz Z RI R 50\n7 -0.5 0.1\n", 2, "passive"),
    "an open admittance": ("a.s1p", "# MHz Y RI R 50\n7 0 0\n", 2, "no S parameters"),
    "one port in a two-port's name": ("a.s2p", GOOD, 3, "3 columns"),
    "two ports in a one-port's name": ("a.s1p", TWO, 2, "9 columns"),
    "three ports": ("a.s3p", GOOD, 1, "3 ports"),
    "version 2 without its version": ("a.s1p", V2.replace("[Version] 2.0\n", ""), 2, "[Version] 2.0"),
    "unknown version": ("a.s1p", V2.replace("2.0", "3.0"), 1, '"3.0"'),
    "unknown keyword": ("a.s1p", V2.replace("[Network", "[Magic] 1\n[Network"), 5, "keyword"),
    "other number of ports": ("a.s1p", V2.replace("Ports] 1", "Ports] 2"), 3, "2 ports"),
    "no number of ports": ("a.ts", V2.replace("[Number of Ports] 1\n", ""), 5, "number of ports"),
    "ports in words": ("a.ts", V2.replace("Ports] 1", "Ports] one"), 3, '"one"'),
    "no number of frequencies": ("a.s1p", V2.replace("[Number of Frequencies] 2\n", ""), 5, "frequencies"),
    "fewer rows than announced": ("a.s1p", V2.replace("cies] 2", "cies] 3"), 7, "cut short"),
    "more rows than announced": ("a.s1p", V2.replace("cies] 2", "cies] 1"), 7, "1 frequencies are announced"),
    "no data order": ("a.ts", V2.replace("Ports] 1", "Ports] 2"), 6, "[Two-Port Data Order]"),
    "mixed modes": ("a.s1p", V2.replace("[Network", "[Mixed-Mode Order] D2,3\n[Network"), 5, "mixed-mode"),
    "keyword among the data": ("a.s1p", V2.replace("7.01", "[Reference] 50\n7.01"), 7, "between the data rows"),
    "version 2 without data": ("a.s1p", V2.split("7.00", maxsplit=1)[0], 5, "no data rows"),
    "UTF-16": ("a.s1p", GOOD.encode("utf-16"), 1, "UTF-16"),
    "binary": ("a.s1p", b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", 2, "binary"),
    "a compressed file": ("a.s1p", b"PK\x03\x04\x14\x00\x00\x00", 1, "binary"),
    "binary after good rows": ("a.s1p", GOOD.encode() + b"\x00\x01", 6, "binary"),
    "an unknown ending": ("a.xyz", GOOD, 1, ".s1p"),
    "table without a unit": ("a.csv", TABLE.replace(" (MHz)", ""), 1, "unit of frequency"),
    "table without a reflection": ("a.csv", TABLE.replace("X (ohm)", "Y"), 1, "no columns tell the reflection"),
    "table without a frequency": ("a.csv", TABLE.replace("frequency", "time"), 1, "no column is the frequency"),
    "table with decimal commas": ("a.csv", TABLE.replace("7.01", "7,01"), 3, "4 columns"),
    "semicolons and decimal commas": ("a.csv", TABLE.replace(",", ";").replace("7.01", "7,01"), 3, '"7.01"'),
    "table with a gap": ("a.csv", TABLE.replace("49", ""), 3, "not a number"),
    "table with open quotes": ("a.csv", TABLE.replace("49", '"49'), 3, "quotes"),
    "table with a heading alone": ("a.csv", "frequency (MHz),SWR\n", 1, "no data rows"),
    "SWR below 1": ("a.csv", "frequency (MHz),SWR\n7.0,0.9\n", 2, "1 or more"),
    "negative magnitude in a table": ("a.csv", "f (MHz),S11\n7.0,-9\n", 2, "decibels"),
    "phase in a strange unit": ("a.csv", "f (MHz),S11,phase (Hz)\n7.0,0.9,1\n", 1, "degrees"),
}  # fmt: skip


@pytest.mark.parametrize(("name", "content", "line", "words"), DAMAGED.values(), ids=DAMAGED.keys())
def test_damaged_file_gets_one_sentence(name, content, line, words):
    with pytest.raises(SweepFileError) as caught:
        parse_sweep(content if isinstance(content, bytes) else content.encode(), source=f"sweeps/{name}")
    sentence = str(caught.value)
    assert sentence.startswith(f"sweeps/{name}:{line}: ")
    assert words in sentence
    assert "\n" not in sentence
    assert not sentence.endswith(".")
    assert len(sentence) < 250


def test_there_are_fifty_of_them():
    assert len(DAMAGED) >= 50


def test_the_files_they_were_made_from_are_read():
    for name, content in (("a.s1p", GOOD), ("a.ts", V2), ("a.s2p", TWO), ("a.csv", TABLE)):
        assert parse_sweep(content.encode(), source=name).frequency[0] == 7e6


@pytest.mark.parametrize(
    "text", ["", "7.05 1.8", "7.05 MHz", "7.05 MHz 0.5", "7,05 MHz 1.8", "7.05 MHz 1.8 MHz", "7.05 mhz 1.8",
             "7.05 MHz nan", "7.05 MHz 1.8\n7.05 MHz 1.9", "1e400 MHz 2", "-7 MHz 2", "7.05 MHz 5000"],
)  # fmt: skip
def test_damaged_readings_get_one_sentence(text):
    with pytest.raises(SweepFileError, match=r"^readings:\d+: [^\n]+$"):
        parse_readings(text)


def test_a_file_of_100_megabytes_is_refused_unread(tmp_path, monkeypatch):
    path = tmp_path / "huge.s1p"
    with path.open("wb") as file:
        file.truncate(100_000_000)

    def refuse(_path: Path) -> bytes:
        raise AssertionError("read")

    monkeypatch.setattr(Path, "read_bytes", refuse)
    with pytest.raises(SweepFileError, match=re.escape("huge.s1p:1: the file has 100 MB, at most 16 MB")):
        load_sweep(path)


def test_a_large_upload_is_refused_too():
    with pytest.raises(SweepFileError, match="at most 16 MB"):
        parse_sweep(b"!" * (LARGEST_FILE + 1), source="a.s1p")


def test_absent_file_and_folder(tmp_path):
    with pytest.raises(SweepFileError, match=r":1: the file cannot be read"):
        load_sweep(tmp_path / "absent.s1p")
    with pytest.raises(SweepFileError, match="this is a folder; name the sweep files in it"):
        load_sweep(tmp_path)


class _Trap:
    def __reduce__(self):
        return (Path.touch, (Path(self.path),))

    def __init__(self, path: str) -> None:
        self.path = path


@pytest.mark.parametrize("protocol", [0, 2, 5])
def test_a_pickle_named_as_a_sweep_is_never_unpickled(tmp_path, protocol):
    mark, path = tmp_path / "unpickled", tmp_path / "trap.s1p"
    path.write_bytes(pickle.dumps(_Trap(str(mark)), protocol=protocol))
    with pytest.raises(SweepFileError):
        load_sweep(path)
    assert not mark.exists()
    pickle.loads(path.read_bytes())  # the trap does spring where someone unpickles
    assert mark.exists()


def test_every_refusal_is_the_program_s_own_error_and_a_value_error():
    with pytest.raises(RingwrightError) as caught:
        parse_sweep(b"", source="a.s1p")
    assert isinstance(caught.value, ValueError)
