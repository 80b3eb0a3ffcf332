# SPDX-License-Identifier: BSD-3-Clause
"""A year of a ring that was never built, for pictures of its record: sweeps, notes, one bad joint found and remade.

The sweeps are of a resonator in the textbooks' form (D. Kajfez) with a share of the Q that the design predicts; all of
it is made up, and the pages say of it what they would say of any other.
"""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from ringwright.desk.desk import Desk
from ringwright.desk.drafts import Base, Draft
from ringwright.desk.proving import Delivered
from ringwright.desk.record_keeping import Labels
from ringwright.records.entries import NoteKind

BEGIN = datetime(2025, 9, 14, 15, tzinfo=UTC)
REMADE = 190
AS_BUILT, CURED = "as built", "joint 5 remade"
NOTES = (
    (0, NoteKind.OTHER, "first sweeps on the terrace"),
    (41, NoteKind.RAIN, "two days of rain"),
    (87, NoteKind.WEATHER, "first frost"),
    (139, NoteKind.BOX, "box opened, dry inside"),
    (170, NoteKind.RAIN, "shower since noon"),
    (REMADE, NoteKind.JOINT, "joint 5 remade, silver solder"),
    (246, NoteKind.RAIN, "thunderstorm in the night"),
)
DAYS = (0, 24, 42, 66, 95, 121, 140, 171, 186, 192, 215, 231, 247, 268, 290)
POINTS, WIDTHS, NOISE = 161, 5.0, 1e-3


def sweep_text(at: float, *, q: float, coupling: float, seed: int) -> str:
    """A sweep of some widths on either side, through no cable; coupling 1 is a match."""
    f = at * (1.0 + np.linspace(-WIDTHS, WIDTHS, POINTS) * (1.0 + coupling) / q)
    detuning = 2j * q * (f - at) / at
    noise = NOISE * np.random.default_rng(seed).standard_normal((2, POINTS))
    g = (coupling - 1.0 - detuning) / (coupling + 1.0 + detuning) + noise[0] + 1j * noise[1]
    rows = (f"{one:.1f} {value.real:.6f} {value.imag:.6f}" for one, value in zip(f, g, strict=True))
    return "\n".join(["# Hz S RI R 50", *rows, ""])


def fill(workspace: Path, design: str) -> None:
    """Write the record of that year into a workspace."""
    desk = Desk(workspace)
    draft = Draft(base=Base(name=design))
    bands = desk.predict(draft).prediction.bands
    rng = np.random.default_rng(7)
    for day in DAYS:
        cured = day > REMADE
        share = 0.97 if cured else 0.80 * np.exp(-0.0011 * day)
        warmth = 11.0 - 9.0 * np.cos(2.0 * np.pi * (day - 125) / 365.0) + rng.normal(0.0, 2.0)
        delivered = []
        for number, band in enumerate(bands):
            q = band.q_unloaded * share * float(np.exp(rng.normal(0.0, 0.012)))
            at = band.match.frequency * (1.0 - 1.2e-5 * warmth + rng.normal(0.0, 4e-5))
            text = sweep_text(at, q=q, coupling=0.9 * share, seed=1000 * day + number)
            delivered.append(Delivered(name=f"{band.band}-{day:03d}.s1p", content=text.encode()))
        at = BEGIN + timedelta(days=day, minutes=7 * len(delivered))
        labels = Labels(
            build=CURED if cured else AS_BUILT, temperature=round(float(warmth), 1), measured_at=at
        )
        desk.keep(draft, delivered, labels)
    for day, kind, text in NOTES:
        desk.record.add_note(text, at=BEGIN + timedelta(days=day, hours=-2), kind=kind)
