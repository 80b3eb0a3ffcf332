# SPDX-License-Identifier: BSD-3-Clause
"""Two windings on one core as a coupling: their impedances, and wires driven through them.

Windings see each other through the core's flux; what leaks runs through the air and loses nothing. The core's loss is
that of its flux, in series with the inductance it makes, as a data sheet states the complex permeability.
"""

from dataclasses import dataclass

import numpy as np

from ringwright.errors import OutOfRangeError
from ringwright.physics.checks import positive
from ringwright.physics.graph import FloatArray
from ringwright.physics.thin_wire import PortSolution, ShortedPorts
from ringwright.physics.wave_kernel import ComplexArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Windings:
    """Impedances of a transformer's windings [ohm], each (f,): primary, between the windings, secondary."""

    primary: ComplexArray
    mutual: ComplexArray
    secondary: ComplexArray


def core_impedance(
    frequency: FloatArray, *, inductance_factor: float, q: float, share: float
) -> ComplexArray:
    r"""Impedance that a core's flux gives one turn round it.

    .. math:: z = j \omega k A_L (1 - j / Q)

    Parameters
    ----------
    frequency : ndarray of float64, shape (f,)
        > 0. [Hz]
    inductance_factor : float
        A_L, inductance of one turn, > 0. [H]
    q : float
        Q of the core's material, the inverse of its loss tangent, > 0. [1]
    share : float
        Share k of the flux that stays in the core and links both windings, above 0 and up to 1. [1]

    Returns
    -------
    ndarray of complex128, shape (f,)
        [ohm]

    Raises
    ------
    OutOfRangeError
        If an input is not finite and positive, or the share is above 1.

    Notes
    -----
    Small flux, where the permeability does not follow it. A_L and Q hold at the frequency they are stated for.

    References
    ----------
    .. [1] E. C. Snelling, Soft Ferrites: Properties and Applications, 2nd ed., Butterworths, 1988, ch. 2 (from
           memory): series complex permeability, loss tangent.
    """
    f, a, core_q = (
        positive("frequency", frequency),
        positive("inductance_factor", inductance_factor),
        positive("q", q),
    )
    if not 0.0 < share <= 1.0:
        raise OutOfRangeError(f"share must be above 0 and at most 1, got {share}")
    return np.asarray(2j * np.pi * f * share * a * (1.0 - 1j / core_q))


def windings(
    frequency: FloatArray,
    *,
    turns: tuple[int, int],
    inductance_factor: float,
    q: float,
    coupling_factor: float,
) -> Windings:
    r"""Impedances of two windings on a core.

    .. math:: z_{pq} = N_p N_q z_{core}, \quad z_{pp} = N_p^2 [z_{core} + j \omega (1 - k) A_L]

    Parameters
    ----------
    frequency : ndarray of float64, shape (f,)
        > 0. [Hz]
    turns : tuple of int
        Of primary and secondary; a conductor that passes through a ring core once is one turn. [1]
    inductance_factor : float
        A_L, inductance of one turn, > 0. [H]
    q : float
        Q of the core's material, > 0. [1]
    coupling_factor : float
        Mutual inductance over the root of both inductances, above 0 and up to 1. [1]

    Returns
    -------
    Windings
        [ohm]

    Notes
    -----
    The leakage 1 - k is that of each winding, in air. The windings' own resistance and capacitance are left out.
    """
    core = core_impedance(frequency, inductance_factor=inductance_factor, q=q, share=coupling_factor)
    leak = 2j * np.pi * np.asarray(frequency) * (1.0 - coupling_factor) * inductance_factor
    first, second = turns
    return Windings(
        primary=np.asarray(first**2 * (core + leak)),
        mutual=np.asarray(first * second * core),
        secondary=np.asarray(second**2 * (core + leak)),
    )


def driven_through(wires: ShortedPorts, through: Windings) -> PortSolution:
    r"""Wires whose first port is closed by a secondary winding, seen from the primary and the second port.

    With the secondary in the conductor, :math:`V_1 = z_m I_f - z_s I_1`; the primary has
    :math:`V_f = z_p I_f - z_m I_1`.

    Parameters
    ----------
    wires : ShortedPorts
        Two ports in series in one conductor or not. [S]
    through : Windings
        At the frequencies of `wires`. [ohm]

    Returns
    -------
    PortSolution
        Ports: the primary, and the second port of `wires`. [ohm]

    Notes
    -----
    Exact. Written in admittances: with two ports in one small ring the open-circuit impedances are those of two
    half rings' capacitances, large and nearly equal, and their difference would have lost the ring's resistance.
    """
    y11, y12, y22 = wires.admittance[:, 0, 0], wires.admittance[:, 0, 1], wires.admittance[:, 1, 1]
    loaded = 1.0 + through.secondary * y11
    second = y22 - through.secondary * y12**2 / loaded
    # Columns: one ampere into the primary, one into the second port.
    drive = np.stack([through.mutual, 0.0 * y11], axis=1)
    voltage_2 = (np.array([0.0, 1.0]) - (y12 / loaded)[:, None] * drive) / second[:, None]
    current_1 = (y11[:, None] * drive + y12[:, None] * voltage_2) / loaded[:, None]
    voltage_1 = drive - through.secondary[:, None] * current_1
    voltage_feed = np.stack([through.primary, 0.0 * y11], axis=1) - through.mutual[:, None] * current_1
    impedance = np.stack([voltage_feed, voltage_2], axis=1)
    return PortSolution(
        frequency=wires.frequency,
        impedance=impedance,
        current=wires.current @ np.stack([voltage_1, voltage_2], axis=1)[:, None],
    )
