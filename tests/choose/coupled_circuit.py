# SPDX-License-Identifier: BSD-3-Clause
"""The textbook's coupled circuits: a coupling coil beside a series resonant circuit, and what they do in closed form.

Zin = j w Lf + (w M)^2/(R + j X) runs round a circle as X is tuned; it meets the feedline's R0 where
(w M)^2 = R0 R (1 + (w Lf/R0)^2), and the least SWR on it is the ratio of both sides (F. E. Terman, Radio Engineers'
Handbook, McGraw-Hill, 1943, sec. 3, coupled circuits; the ratio is the coupling coefficient of D. Kajfez, Q Factor,
1994, and of NPL Report MAT 58, 2021; both from memory).
"""

import numpy as np

from ringwright.antenna.network import RingNetwork

R0 = 50.0


def network(frequency, mutual, *, coil, ring, resistance):
    """The two-port of coil [H] and ring [H, ohm] at frequencies [Hz]."""
    omega = 2.0 * np.pi * np.asarray(frequency, dtype=float)
    matrix = np.zeros((len(omega), 2, 2), dtype=complex)
    matrix[:, 0, 0] = 1j * omega * coil
    matrix[:, 0, 1] = matrix[:, 1, 0] = 1j * omega * mutual
    matrix[:, 1, 1] = resistance + 1j * omega * ring
    return RingNetwork(nodes=np.asarray(frequency, dtype=float), parts_at_nodes={}, total_at_nodes=matrix)


def coupling_coefficient(frequency, mutual, *, coil, resistance):
    """(w M)^2 over its value at the match."""
    omega = 2.0 * np.pi * np.asarray(frequency, dtype=float)
    return (omega * mutual) ** 2 / (R0 * np.asarray(resistance) * (1.0 + (omega * coil / R0) ** 2))
