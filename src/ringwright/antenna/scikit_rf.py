# SPDX-License-Identifier: BSD-3-Clause
"""A prediction's networks as those of scikit-rf, where that library is installed."""

from typing import TYPE_CHECKING

import numpy as np

from ringwright.antenna.tuning import TunedRing
from ringwright.errors import MissingLibraryError
from ringwright.physics.graph import FloatArray
from ringwright.physics.wave_kernel import ComplexArray

if TYPE_CHECKING:
    import skrf


def tuned_network(tuned: TunedRing, frequency: FloatArray) -> "skrf.Network":
    """The one-port that the feedline sees at the coupling loop, the capacitor left at its setting."""
    return _network(frequency, s=tuned.reflection(frequency)[:, None, None], reference=tuned.reference)


def open_network(tuned: TunedRing, frequency: FloatArray) -> "skrf.Network":
    """The two-port of coupling loop (port 1) and gap without the capacitor (port 2)."""
    z = tuned.network.impedance(frequency)
    unit = tuned.reference * np.eye(2)
    s = np.asarray((z - unit) @ np.linalg.inv(z + unit))
    return _network(frequency, s=s, reference=tuned.reference)


def _network(frequency: FloatArray, *, s: ComplexArray, reference: float) -> "skrf.Network":
    try:
        import skrf
    except ImportError as exc:
        raise MissingLibraryError("scikit-rf is not installed; networks of its kind need it") from exc
    return skrf.Network(f=frequency, f_unit="Hz", s=s, z0=reference)
