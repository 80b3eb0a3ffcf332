# SPDX-License-Identifier: BSD-3-Clause
"""Readers of TOML: design, brief, own parts, calibration."""

import dataclasses
import math
import re
from pathlib import Path

from ringwright.antenna.design_file import parse_design
from ringwright.antenna.design_file.calibration import parse_calibration
from ringwright.antenna.design_file.calibration_text import calibration_text
from ringwright.antenna.scenario import FIRST_RING, RUCKSACK_BRAID, TERRACE_OCTAGON, shipped_text
from ringwright.choose.rings.brief_file import parse_brief
from ringwright.choose.rings.parts import read_parts
from scripts.fuzz_readers.reader import Reader, check

ROOT = Path(__file__).parents[2]
_DOCS = ROOT / "docs"
_TOKENS = (
    b"circle", b"square", b"octagon", b"oval", b"polygon", b"tube", b"solid", b"strip", b"braid", b"copper", b"centre",
    b"vertical", b"horizontal", b"loop", b"tapped", b"transformer", b"vacuum", b"air", b"trombone", b"mesh", b"22 mm",
    b"free space", b"7.1 MHz", b"10 pF", b"5 kV", b"AWG 12", b"-40 degC", b"90 deg", b"1/2 in", b"[ring]", b"nan",
    b"inf", b"[[site.metal]]", b"[[parts]]", b"[capacitor.made]", b"points = [", b"table = [", b"kind = ", b"turns = 3",
    b"1979-05-27", b"'''", b'"""',
)  # fmt: skip


def _blocks(name: str) -> list[bytes]:
    """The TOML that a page of the documentation shows."""
    text = (_DOCS / name).read_text(encoding="utf-8")
    return [block.encode() for block in re.findall(r"^```toml\n(.*?)^```", text, re.MULTILINE | re.DOTALL)]


def _bare(text: str) -> bytes:
    """Without comments, which only make a fuzzer slow."""
    lines = (line.partition(" #")[0].rstrip() for line in text.splitlines() if not line.startswith("#"))
    return "\n".join(line for line in lines if line).encode()


def _text(data: bytes) -> str:
    """As a form or a socket may deliver it; half of a surrogate pair stands for what is no UTF-8."""
    return data.decode("utf-8", errors="replace").replace("\ufffd", "\ud800")


def check_finite(value: object) -> None:
    """Nothing that a file says becomes infinite or no number."""
    if isinstance(value, float):
        check(math.isfinite(value), "a figure that was read is not finite")
    elif isinstance(value, dict):
        for each in value.values():
            check_finite(each)
    elif isinstance(value, list | tuple):
        for each in value:
            check_finite(each)


def _read_design(data: bytes) -> None:
    check_finite(dataclasses.asdict(parse_design(_text(data), source="fuzz.toml")))


def _read_brief(data: bytes) -> None:
    brief = parse_brief(_text(data), source="brief.toml")
    check(bool(brief.perimeters and brief.conductors and brief.capacitors), "a brief with nothing to choose")
    check_finite((brief.perimeters, dataclasses.asdict(brief.room), brief.weights))


_TARGETS = parse_design(shipped_text(FIRST_RING), source=FIRST_RING).targets


def _read_parts(data: bytes) -> None:
    parts = read_parts(_text(data), _TARGETS)
    check(all(each.name.strip() for each in parts.conductors + parts.capacitors), "a part without a name")
    check_finite(dataclasses.asdict(parts))


def _read_calibration(data: bytes) -> None:
    layer = parse_calibration(_text(data), source="layer.toml")
    text = calibration_text(layer)  # rounds
    again = calibration_text(parse_calibration(text, source="again.toml"))
    check(again == text, f"a calibration is another one when written and read again: {text} {again}")


def _designs() -> tuple[bytes, ...]:
    shipped = [_bare(shipped_text(name)) for name in (FIRST_RING, TERRACE_OCTAGON, RUCKSACK_BRAID)]
    smallest = (
        b'format = 1\nname = "A"\nbands = ["40m"]\n[ring]\nshape = "circle"\ndiameter = "1 m"\n[ring.conductor]\n'
        b'diameter = "22 mm"\n[capacitor]\nminimum = "10 pF"\nmaximum = "300 pF"\n[coupling]\ndiameter = "0.2 m"\n'
    )
    return (smallest, *shipped, *_blocks("reference/design-file.md"))


READERS = (
    Reader(name="design", seeds=_designs(), read=_read_design, tokens=_TOKENS),
    Reader(name="brief", seeds=tuple(_blocks("how-to/choose.md")), read=_read_brief, tokens=_TOKENS),
    Reader(name="parts", seeds=tuple(_blocks("reference/parts-file.md")), read=_read_parts, tokens=_TOKENS),
    Reader(
        name="calibration",
        seeds=tuple(_blocks("reference/calibration-file.md")),
        read=_read_calibration,
        tokens=_TOKENS,
    ),
)
