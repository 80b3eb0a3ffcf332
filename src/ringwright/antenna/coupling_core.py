# SPDX-License-Identifier: BSD-3-Clause
"""A transformer on the ring's conductor: its windings, and what its core takes."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Core
from ringwright.physics.graph import FloatArray
from ringwright.physics.transformer import Windings, windings
from ringwright.physics.wave_kernel import ComplexArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CoreShare:
    """What the core contributes between feed and gap: `impedance` and `power` (f, 2, 2) [ohm], the latter Hermitian."""

    impedance: ComplexArray
    power: ComplexArray


def windings_of(core: Core, frequency: FloatArray) -> Windings:
    """Primary and secondary of a core at frequencies [Hz]."""
    return windings(
        frequency,
        turns=(core.primary_turns, core.passes),
        inductance_factor=core.inductance_factor,
        q=core.q,
        coupling_factor=core.coupling_factor,
    )


def core_share(core: Core, frequency: FloatArray, at_feed: ComplexArray) -> CoreShare:
    """Of a core whose primary shows `at_feed` (f, 2) [ohm]: volts at the feed per ampere at feed and gap.

    The ring's current through the core follows from these volts. Taken from the solution without the conductors'
    resistance, it would leave too little of the small difference of ampere turns that makes the flux. Leakage is in the
    impedance and takes no power.
    """
    own = np.array([1.0, 0.0])
    winding = windings_of(core, frequency)
    through = (winding.primary[:, None] * own - at_feed) / winding.mutual[:, None]
    turns = core.primary_turns * own - core.passes * through
    flux = winding.mutual / (core.primary_turns * core.passes)
    leak = winding.primary / core.primary_turns**2 - flux
    leaking = core.primary_turns**2 * np.outer(own, own) + core.passes**2 * _dyad(through, through)
    return CoreShare(
        impedance=flux[:, None, None] * _dyad(turns, turns) + leak[:, None, None] * leaking,
        power=flux.real[:, None, None] * _dyad(turns.conj(), turns),
    )


def _dyad(a: ComplexArray, b: ComplexArray) -> ComplexArray:
    return np.asarray(a[:, :, None] * b[:, None, :])
