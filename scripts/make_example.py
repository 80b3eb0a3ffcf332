# SPDX-License-Identifier: BSD-3-Clause
"""Simulate what `ringwright new --example terrace` gives as measured: `python -m scripts.make_example`.

The built ring is the terrace octagon as its tolerances allow it, with one bad joint, and again with that joint remade.
Each is predicted full-wave and swept through the declared cable with an analyser's noise. The reports are drawn at
random about a known difference of two antennas. Nothing of it was ever measured, and every file says so.
"""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from ringwright.air.locator import Place, locator_of, place_of
from ringwright.air.slots import Slot, draw_slots
from ringwright.antenna.design import Design
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.predict import operating_points
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_design
from ringwright.antenna.solution import SolutionMemory
from ringwright.physics.feedline import reflection_through_line
from ringwright.physics.graph import FloatArray
from ringwright.proof.comparison import feedline_attenuation

FOLDER = Path("src/ringwright/antenna/scenario/terrace")
BAD_JOINT = 0.06
"""What the cold joint has [ohm]; a good one has a tenth of a milliohm."""
CAPACITOR_Q, EARTH_CONDUCTIVITY = 0.93, 1.25
"""How the built ring differs from its design besides, as factors: both within the stated tolerances."""
POINTS, WIDTHS, NOISE = 201, 10.0, 1e-3
VELOCITY_FACTOR = 0.66
RING_MINUS_DIPOLE_DB = -4.0
START, SLOT, SLOTS, LOT = datetime(2026, 6, 6, 18, tzinfo=UTC), 240.0, 40, 5
"""What the tutorial asks `ringwright slots` for; a slot is in seconds, the lot is its seed."""
RECEIVERS, HEARS = 24, 0.3
HEADINGS = "time,frequency_mhz,receiver,locator,snr_db,power_w,antenna"


def built(design: Design, *, joint: float) -> Design:
    """The ring as it stands on the terrace; `joint` [ohm] is what the bad one has too much, told as a mean of all."""
    earth, q = design.site.earth, design.capacitor.q
    if earth is None or q is None:
        raise ValueError("the example's ring stands on earth and states its capacitor's Q")
    each = design.ring.joint_resistance + joint / design.ring.joints
    return replace(
        design,
        ring=replace(design.ring, joint_resistance=each),
        capacitor=replace(design.capacitor, q=CAPACITOR_Q * q),
        site=replace(design.site, earth=replace(earth, conductivity=EARTH_CONDUCTIVITY * earth.conductivity)),
    )


def sweeps(design: Design, name: str, *, joint: float, seed: int) -> dict[str, str]:
    """One Touchstone file for each band, by file name."""
    as_built, rng, files = built(design, joint=joint), np.random.default_rng(seed), {}
    for point in operating_points(as_built, build_wires(as_built), SolutionMemory()):
        f0, q = point.tuned.resonance()
        f = np.round(f0 * (1.0 + WIDTHS / q * np.linspace(-0.5, 0.5, POINTS)))
        attenuation = np.array([feedline_attenuation(design, float(one)) for one in f])
        turn = 2.0 * np.pi * f * design.feedline.length / (VELOCITY_FACTOR * 299_792_458.0)
        seen = reflection_through_line(
            point.tuned.reflection(f), attenuation=attenuation, electrical_length=turn
        )
        noise = NOISE * (rng.standard_normal(POINTS) + 1j * rng.standard_normal(POINTS))
        files[f"{name}-{point.target.band}.s1p"] = _touchstone(f, seen + noise)
    return files


def _touchstone(f: FloatArray, reflection: np.ndarray) -> str:
    rows = (f"{a:.0f} {b.real:.5f} {b.imag:.5f}" for a, b in zip(f, reflection, strict=True))
    said = "! SIMULATED for Ringwright's tutorial: no antenna was measured"
    return "\n".join([said, "# Hz S RI R 50", *rows, ""])


def plan() -> tuple[Slot, ...]:
    """As `ringwright slots ring dipole` draws it with the tutorial's options."""
    rng = np.random.default_rng(LOT)
    return draw_slots("ring", "dipole", start=START, length=SLOT, count=SLOTS, rng=rng)


def reports(slots: tuple[Slot, ...], home: Place) -> str:
    """Who heard it, as a table: receivers differ, the sky fades, and the ring is so much weaker than the dipole."""
    rng = np.random.default_rng(11)
    places = [_somewhere(home, rng) for _ in range(RECEIVERS)]
    offset = rng.normal(-10.0, 5.0, RECEIVERS)
    rows = ["# SIMULATED for Ringwright's tutorial: nobody was heard", HEADINGS]
    fading = np.zeros(RECEIVERS)
    for slot in slots:
        for minute in (0, 120):
            fading = 0.94 * fading + rng.normal(0.0, 1.0, RECEIVERS)
            level = offset + fading + (RING_MINUS_DIPOLE_DB if slot.antenna == "ring" else 0.0)
            snr = np.round(level + rng.normal(0.0, 1.5, RECEIVERS))
            heard = (rng.uniform(size=RECEIVERS) < HEARS) & (snr > -27.0)
            at = datetime.fromtimestamp(slot.start + minute, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
            rows += [
                f"{at},7.0401,QX{number + 1}TST,{places[number]},{snr[number]:.0f},5,"
                for number in np.flatnonzero(heard)
            ]
    return "\n".join([*rows, ""])


def _somewhere(home: Place, rng: np.random.Generator) -> str:
    far, bearing = rng.uniform(6.0, 45.0), rng.uniform(0.0, 2.0 * np.pi)
    return locator_of(home.latitude + far * np.cos(bearing), home.longitude + far * np.sin(bearing))


def files() -> dict[str, str]:
    """Every simulated file of the example by its path in the workspace."""
    design = shipped_design(TERRACE_OCTAGON)
    made = sweeps(design, "as-built", joint=BAD_JOINT, seed=1) | sweeps(design, "remade", joint=0.0, seed=2)
    home = place_of(design.site.locator or "")
    return {f"sweeps/{name}": text for name, text in made.items()} | {"reports.csv": reports(plan(), home)}


def main() -> None:
    for name, text in files().items():
        path = FOLDER / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
        print(path)


if __name__ == "__main__":
    main()
