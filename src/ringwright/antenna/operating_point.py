# SPDX-License-Identifier: BSD-3-Clause
"""A tuned ring at power: the currents everywhere, and the watts that each address takes."""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.capacitor_parts import Losses, losses
from ringwright.antenna.design import Target
from ringwright.antenna.geometry import Address, Wires
from ringwright.antenna.network import GAP, barycentric, metal_impedance
from ringwright.antenna.tuning import TunedRing
from ringwright.physics.thin_wire import PortSolution, current_overlap
from ringwright.physics.wave_kernel import ComplexArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OperatingPoint:
    """One target at its power.

    `ports` (2,) are the rms currents into feed and gap [A]; `current` (n_segments, 2) those at the start and end
    of each segment, along it [A]; `per_ampere` (n_segments, 2, 2) the same for 1 A into feed or gap alone [1].
    """

    target: Target
    wires: Wires
    tuned: TunedRing
    power: float
    ports: ComplexArray
    current: ComplexArray
    per_ampere: ComplexArray

    @classmethod
    def at_power(
        cls, tuned: TunedRing, *, target: Target, wires: Wires, solution: PortSolution, power: float
    ) -> "OperatingPoint":
        """Scale a tuned ring's currents to `power` [W] accepted at the feed."""
        frequency = np.array([target.frequency])
        accepted_per_ampere = float(tuned.input_impedance(frequency)[0].real)
        ports = tuned.port_currents() * np.sqrt(power / accepted_per_ampere)
        per_ampere = np.tensordot(barycentric(solution.frequency, frequency)[0], solution.current, axes=1)
        return cls(
            target=target,
            wires=wires,
            tuned=tuned,
            power=power,
            ports=ports,
            current=per_ampere @ ports,
            per_ampere=per_ampere,
        )

    @property
    def gap_current(self) -> float:
        """RMS current through the capacitor [A]."""
        return float(abs(self.ports[GAP]))

    @property
    def gap_voltage_peak(self) -> float:
        """Peak voltage across the capacitor, without its leads [V]."""
        omega = 2.0 * np.pi * self.target.frequency
        resistance = self.gap_losses().capacitors[0]
        return float(
            np.sqrt(2.0) * self.gap_current * np.hypot(resistance, 1.0 / (omega * self.tuned.capacitance))
        )

    @property
    def ring_current_max(self) -> float:
        """Largest rms current anywhere on the ring [A]."""
        on_ring = self.wires.graph.address == Address.RING
        return float(abs(self.current[on_ring]).max())

    def gap_losses(self) -> Losses:
        """Ohms at the gap, by what loses, each of shape (1,)."""
        return losses(self.tuned.capacitor, self.tuned.capacitance, np.array([self.target.frequency]))

    def heat(self) -> dict[str, float]:
        """Watts that stay in each conductor and the capacitor, by address [W]."""
        forms = self.tuned.network.power(self.target.frequency)
        watts = {name: float((self.ports.conj() @ form @ self.ports).real) for name, form in forms.items()}
        lost = self.gap_losses()
        contact = float(lost.contact[0])
        # A rotor's contact is a joint like any other.
        watts["joints"] += contact * self.gap_current**2
        capacitor = float(lost.total[0]) - contact
        return watts | {"capacitor": capacitor * self.gap_current**2, "metal": self._metal_heat()}

    def metal_resistance(self) -> ComplexArray:
        """Power matrix of the ports for the metal nearby, the feedline's outside and its choke (2, 2) [ohm]."""
        per_metre = metal_impedance(self.wires, np.array([self.target.frequency]))
        if per_metre is None:
            return np.zeros((2, 2), dtype=np.complex128)
        graph = self.wires.graph
        matrix = current_overlap(self.per_ampere, per_metre[0].real * graph.lengths, slice(None))
        if self.wires.choke is not None:
            node, ohms = self.wires.choke
            there = np.flatnonzero(graph.segments[:, 0] == node)
            through = self.per_ampere[there[np.argmax(abs(self.current[there, 0]))], 0]
            matrix = matrix + ohms * np.outer(through.conj(), through)
        return matrix

    def _metal_heat(self) -> float:
        return float((self.ports.conj() @ self.metal_resistance() @ self.ports).real)
