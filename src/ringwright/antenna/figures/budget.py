# SPDX-License-Identifier: BSD-3-Clause
"""Figures of the watt budget: every address in watts per hundred and in ohms at the gap, and the efficiencies."""

from ringwright.antenna.figures.figure import MILLIOHM, PER_CENT, Figure
from ringwright.antenna.figures.sources import ADDRESSES, EXACT, FLUX, ROUND_WIRE, SOLUTION, TERMS, THIN_WIRE

_GAP_CURRENT = "tuning.capacitor_current_rms_a"
_CONDUCTOR_VALIDITY = (
    "straight conductor at any ratio of thickness to skin depth; "
    "crowding of close turns is in it, crowding of a tight ring is left out"
)
# Name of the address -> what takes the watts, the watts in symbols, inputs, source, validity.
_ADDRESSES: dict[str, tuple[str, str, tuple[str, ...], str, str]] = {
    "sky": (
        "the power that leaves for good (in free space all that radiates, over earth into the upper half-space)",
        "integral of |E|^2/eta over the far sphere",
        ("ring", "coupling"),
        SOLUTION,
        THIN_WIRE,
    ),
    "earth": (
        "what crosses the surface of the earth downwards, heat in the ground most of it; none in free space",
        "sum over all plane waves of the currents' spectrum of the power each sends through z = 0",
        ("site.earth", "site.height", "ring", "site"),
        FLUX,
        "a plane, uniform earth; no conductor lower than 0.1 m",
    ),
    "ring": (
        "the ring's conductor",
        "integral of Re z(s) |J|^2 along the ring, z the internal impedance per metre",
        ("ring.conductor", "ring.perimeter"),
        ROUND_WIRE,
        _CONDUCTOR_VALIDITY,
    ),
    "joints": (
        "all joints of the ring, and the contact of the capacitor's rotor where its resistance is stated",
        "sum of joint_resistance |J|^2 at each joint + contact_resistance |I_variable|^2",
        ("ring.joints", "ring.joint_resistance", "capacitor.contact_resistance"),
        ADDRESSES,
        EXACT,
    ),
    "capacitor": (
        "the capacitor with its leads",
        "|I_gap|^2 (esr, or 1/(2 pi f C q), or the same of each part with its share of the current; leads)",
        ("capacitor.q", "capacitor.esr", "capacitor.lead_length", "tuning.capacitance_f", _GAP_CURRENT),
        ADDRESSES,
        EXACT,
    ),
    "coupling": (
        "the conductor of the coupling loop or arm, or the transformer's core",
        "integral of Re z(s) |J|^2 along the loop or arm; 2 pi f k A_L/Q |N I_feed - n I_ring|^2 in a core",
        (
            "coupling.conductor",
            "coupling.diameter",
            "coupling.tap_at",
            "coupling.inductance_factor",
            "coupling.core_q",
        ),
        f"{ROUND_WIRE}; docs/explanation/coupling.md",
        f"{_CONDUCTOR_VALIDITY}; of a transformer the core at small flux, not its winding",
    ),
    "metal": (
        "nearby metal, with the feedline's outside and its choke if the design has them; none where there is none",
        "integral of Re z(s) |J|^2 along the metal, J solved with the ring's; R_choke |J|^2 in the choke",
        ("site.metal", "feedline.outside", "feedline.choke"),
        ROUND_WIRE,
        "straight round wires whose joints conduct perfectly; steel with the permeability that is stated",
    ),
}
_OHM_ORDER = ("sky", "ring", "joints", "capacitor", "earth", "metal", "coupling")


def _in_ohms(address: str) -> Figure:
    what, watts, inputs, source, validity = _ADDRESSES[address]
    name = "radiation" if address == "sky" else address
    return Figure(
        key=f"resistance_ohm.{name}",
        label=f"{name} resistance",
        scale=MILLIOHM,
        digits=3,
        definition=f"Watts of {what}, over the square of the rms current through the gap.",
        formula=f"({watts})/|I_gap|^2",
        inputs=inputs if _GAP_CURRENT in inputs else (*inputs, _GAP_CURRENT),
        source=f"{TERMS}; {source}" if address == "sky" else source,
        validity=validity,
    )


def _in_per_cent(address: str) -> Figure:
    what, watts, inputs, source, validity = _ADDRESSES[address]
    return Figure(
        key=f"watts_pct.{address}",
        label=address,
        scale=PER_CENT,
        digits=3,
        definition=f"Share of the accepted power: {what}.",
        formula=f"100 ({watts})/power",
        inputs=("power", *inputs),
        source=source,
        validity=validity,
    )


BUDGET_FIGURES = (
    *(_in_ohms(address) for address in _OHM_ORDER),
    Figure(
        key="resistance_ohm.total",
        label="total resistance",
        scale=MILLIOHM,
        digits=3,
        definition="All addresses together: the accepted power over the square of the rms current through the gap.",
        formula="sum of the resistances above",
        inputs=tuple(f"resistance_ohm.{'radiation' if name == 'sky' else name}" for name in _OHM_ORDER),
        source=ADDRESSES,
        validity=EXACT,
    ),
    *(_in_per_cent(address) for address in _ADDRESSES),
    Figure(
        key="watts_pct.sum",
        label="sum",
        scale=PER_CENT,
        digits=5,
        definition="Sum of the shares, each found on its own way and not forced to 100.",
        formula="sky + earth + ring + joints + capacitor + coupling + metal",
        inputs=tuple(f"watts_pct.{address}" for address in _ADDRESSES),
        source="conservation of energy; " + ADDRESSES,
        validity="its distance from 100 is the error of the solution",
    ),
    Figure(
        key="efficiency_free_space_pct",
        label="free-space efficiency",
        scale=PER_CENT,
        digits=3,
        definition="Radiated over accepted power of the design re-tuned without earth and metal.",
        formula="100 (radiated power)/power",
        inputs=("ring", "coupling", "capacitor", "frequency_hz"),
        source=f"{TERMS} (radiation efficiency); {SOLUTION}",
        validity=THIN_WIRE,
    ),
    Figure(
        key="efficiency_sky_pct",
        label="sky efficiency",
        scale=PER_CENT,
        digits=3,
        definition="Power that leaves into the upper half-space over accepted power, on the design's site.",
        formula="100 (power into the sky)/power",
        inputs=("watts_pct.sky",),
        source=SOLUTION,
        validity=THIN_WIRE,
    ),
)
