# SPDX-License-Identifier: BSD-3-Clause
"""Readers of sweeps: Touchstone, tables, readings typed from a meter. The first line of an input names the file."""

import re

import numpy as np

from ringwright.proof.files import parse_sweep
from ringwright.proof.readings import parse_readings
from ringwright.proof.sweep import Sweep
from scripts.fuzz_readers.reader import Reader, check

_LINE_END = re.compile("\r\n|\r|\n")
_POINTS = 7
_TOUCHSTONE_TOKENS = (
    b"# MHz S RI R 50", b"# Hz Z MA R 75", b"# GHz S DB", b"# kHz Y RI R 50", b"[Version] 2.0", b"[Number of Ports] 2",
    b"[Two-Port Data Order] 21_12", b"[Two-Port Data Order] 12_21", b"[Number of Frequencies] 3", b"[Reference] 50 75",
    b"[Matrix Format] Lower", b"[Matrix Format] Full", b"[Network Data]", b"[Noise Data]", b"[End]",
    b"[Begin Information]", b"[End Information]", b"[Mixed-Mode Order]", b"! note", b"RI", b"MA", b"DB", b"R", b"G",
)  # fmt: skip
_TABLE_TOKENS = (
    b"frequency", b"freq (MHz)", b"f [Hz]", b"R (ohm)", b"X (ohm)", b"S11 (dB)", b"S11", b"phase (deg)", b"phase (rad)",
    b"return loss (dB)", b"SWR", b"re", b"im", b"mag", b"angle", b"\t", b";", b",", b'"', b"%", b"kHz", b"GHz",
)  # fmt: skip


def _dip() -> list[tuple[float, complex]]:
    """Frequency and reflection of a ring like the terrace octagon on 40 m: unloaded Q 600, coupled a bit too well."""
    frequency = 7.1e6 + np.linspace(-12e3, 12e3, _POINTS)
    z = 1.1 / (1.0 + 2j * 600.0 * (frequency - 7.1e6) / 7.1e6) + 0.02j
    reflection = (z - 1.0) / (z + 1.0)
    return [(float(f), complex(g)) for f, g in zip(frequency, reflection, strict=True)]


def _touchstone_seeds() -> tuple[bytes, ...]:
    rows = _dip()
    one = "".join(f"{f / 1e6:.6f} {g.real:.6f} {g.imag:.6f}\n" for f, g in rows)
    two = "".join(
        f"{f / 1e6:.6f} {g.real:.6f} {g.imag:.6f} .01 0 .01 0 {g.real:.6f} {g.imag:.6f}\n" for f, g in rows
    )
    polar = "".join(f"{f:.0f} {abs(g):.6f} {np.degrees(np.angle(g)):.4f}\n" for f, g in rows)
    head = f"[Version] 2.0\n# MHz S RI R 50\n[Number of Ports] 1\n[Number of Frequencies] {len(rows)}\n"
    second = head.replace("Ports] 1", "Ports] 2\n[Two-Port Data Order] 12_21").replace("50", "50 50")
    return tuple(
        text.encode()
        for text in (
            f"a.s1p\n! terrace octagon\n# MHz S RI R 50\n{one}",
            f"a.s1p\n# Hz S MA R 50\n{polar}",
            f"a.s2p\n# MHz S RI R 50\n{two}",
            f"a.ts\n{head}[Network Data]\n{one}[End]\n",
            f"a.ts\n{second}[Reference] 50 75\n[Matrix Format] Full\n[Network Data]\n{two}[End]\n",
            "a.s1p\n# kHz Z RI R 50\n7000 1.0 0.02\n7010 0.9 0.1 ! the dip\n7020 1.1 0.3\n",
        )
    )


def _table_seeds() -> tuple[bytes, ...]:
    rows = _dip()
    polar = "".join(
        f"{f / 1e6:.6f},{20 * np.log10(abs(g)):.3f},{np.degrees(np.angle(g)):.2f}\n" for f, g in rows
    )
    swr = "".join(f"{f / 1e3:.3f}\t{(1 + abs(g)) / (1 - abs(g)):.2f}\n" for f, g in rows)
    ohms = "".join(
        f"{f:.0f};{50 * ((1 + g) / (1 - g)).real:.2f};{50 * ((1 + g) / (1 - g)).imag:.2f}\n" for f, g in rows
    )
    return tuple(
        text.encode()
        for text in (
            f"a.csv\nfrequency (MHz),S11 (dB),phase (deg)\n{polar}",
            f"a.tsv\nfreq (kHz)\tSWR\n{swr}",
            f"a.csv\n# by hand\nf (Hz);R (ohm);X (ohm)\n{ohms}",
            'a.txt\nfrequency_MHz re im\n7.00 0.5 0.1\n7.01 0.4 "0.1\n',
            "a.csv\nfrequency [MHz],return loss (dB),magnitude\n7.00,9,0.3\n7.01,20,0.1\n",
        )
    )


def _check(sweep: Sweep) -> None:
    n = len(sweep.frequency)
    check(n > 0 and sweep.response.shape == (n,), "a sweep without points, or of two lengths")
    check(
        bool(np.isfinite(sweep.frequency).all() and np.isfinite(sweep.response).all()), "figures not finite"
    )
    check(bool((np.diff(sweep.frequency) > 0).all() and sweep.frequency[0] > 0), "frequencies out of order")


def _lines(content: bytes) -> list[str]:
    """As text, without what stands around it; an old code page where it is no UTF-8."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")
    return [line.strip() for line in _LINE_END.split(text)]


def _read_touchstone(data: bytes) -> None:
    name, _, content = data.partition(b"\n")
    name = name if name in {b"a.s1p", b"a.s2p", b"a.ts"} else b"a.s1p"
    sweep = parse_sweep(content, source=name.decode())
    _check(sweep)
    if name == b"a.s1p" and b"[" not in content:
        told = [line.partition("!")[0].strip() for line in _lines(content)]
        rows = [line for line in told if line and not line.startswith("#")]
        check(len(rows) == len(sweep.frequency), f"{len(rows)} rows, {len(sweep.frequency)} points")


def _read_table(data: bytes) -> None:
    name, _, content = data.partition(b"\n")
    sweep = parse_sweep(content, source=name.decode() if name in {b"a.tsv", b"a.txt", b"a.dat"} else "a.csv")
    _check(sweep)
    rows = [line for line in _lines(content) if line and not line.startswith(("#", "!", "%"))]
    check(len(rows) - len(sweep.frequency) in {0, 1}, f"{len(rows)} rows, {len(sweep.frequency)} points")


def _read_readings(data: bytes) -> None:
    text = data.decode("utf-8", errors="surrogateescape")  # as the command line delivers it
    sweep = parse_readings(text)
    _check(sweep)
    lines = _LINE_END.split(text.removeprefix("\ufeff"))
    told = [part for line in lines for part in line.partition("#")[0].split(";") if part.strip()]
    check(len(told) == len(sweep.frequency), f"{len(told)} readings, {len(sweep.frequency)} points")


READERS = (
    Reader(name="touchstone", seeds=_touchstone_seeds(), read=_read_touchstone, tokens=_TOUCHSTONE_TOKENS),
    Reader(name="table", seeds=_table_seeds(), read=_read_table, tokens=_TABLE_TOKENS),
    Reader(
        name="readings",
        seeds=(b"7.050 MHz 1.8\n7.060 MHz 1.2:1 # the dip\n7.07MHz = 2", b"7050 kHz: 3; 7060 kHz: 1.1; 7070 kHz: 3.0"),
        read=_read_readings,
        tokens=(b"kHz", b"MHz", b"GHz", b"Hz", b":1", b";", b"#", b"=", b"1/2"),
        longest=1024,
    ),
)  # fmt: skip
