# SPDX-License-Identifier: BSD-3-Clause
"""The capacitor as a circuit at the gap: what each part sees of current and voltage, and where its watts stay.

The variable capacitor stands in series with `series`; that branch, `fixed` and `stray` share the gap's voltage. Shares
are those of the capacitances alone, which leaves an error of 1/Q squared. A setting beyond the capacitor's ends is
judged at the nearer end.
"""

from dataclasses import dataclass

import numpy as np

from ringwright.antenna.design import Capacitor, Part
from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.leads import strap_pair_inductance
from ringwright.physics.strip import strip_impedance

LEAD_CONDUCTIVITY, LEAD_THICKNESS = 58e6, 0.5e-3
"""Of a strap: copper sheet [S/m, m]. The resistance hardly depends on the thickness."""
GAP_WIDTH = 0.030
"""Between the ring's ends where nothing is stated [m]: what the solver's gap stands for."""
_LOWEST_LEAD_LOSS = 1.7e6
"""Below [Hz] only the search for the reach looks, to which a lead's loss means nothing and whose skin is too thick for
the formula."""


def branch_of(capacitor: Capacitor, own: FloatArray | float) -> FloatArray | float:
    """Capacitance of the variable one at `own` [F] with what is in series [F]."""
    return own if capacitor.series is None else own * capacitor.series / (own + capacitor.series)


def range_at_gap(capacitor: Capacitor) -> tuple[float, float]:
    """Least and greatest capacitance across the gap, with what is fixed and stray [F]."""
    always = capacitor.stray + capacitor.fixed
    return float(branch_of(capacitor, capacitor.minimum)) + always, float(
        branch_of(capacitor, capacitor.maximum)
    ) + always


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """At one setting: the variable one's own capacitance [F]; each part's share of the gap's current or voltage."""

    own: FloatArray
    variable_current: FloatArray
    fixed_current: FloatArray
    variable_voltage: FloatArray
    series_voltage: FloatArray

    @classmethod
    def at(cls, capacitor: Capacitor, capacitance: FloatArray | float) -> "Shares":
        """With `capacitance` [F] across the gap in all."""
        whole = np.clip(capacitance, *range_at_gap(capacitor))
        branch = whole - capacitor.stray - capacitor.fixed
        over = branch / capacitor.series if capacitor.series is not None else np.zeros_like(branch)
        return cls(
            own=branch / (1.0 - over),
            variable_current=branch / whole,
            fixed_current=capacitor.fixed / whole,
            variable_voltage=1.0 - over,
            series_voltage=over,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Losses:
    """Watts of each part over the square of the gap's current [ohm]; `whole` where only that is known."""

    whole: FloatArray
    variable: FloatArray
    fixed: FloatArray
    series: FloatArray
    contact: FloatArray
    leads: FloatArray

    @property
    def capacitors(self) -> FloatArray:
        """What warms capacitors [ohm]."""
        return self.whole + self.variable + self.fixed + self.series

    @property
    def total(self) -> FloatArray:
        """Everything at the gap [ohm]."""
        return self.capacitors + self.contact + self.leads


def losses(capacitor: Capacitor, capacitance: FloatArray | float, frequency: FloatArray) -> Losses:
    """At a setting of `capacitance` [F] in all, for each `frequency` [Hz]."""
    shares = Shares.at(capacitor, capacitance)
    nothing = np.zeros(np.broadcast_shapes(np.shape(capacitance), np.shape(frequency)))
    esr, loss_tangent = loss_terms(capacitor)

    with np.errstate(divide="ignore", invalid="ignore"):  # no capacitor tunes a ring past its own resonance
        whole = esr + loss_tangent / (2.0 * np.pi * frequency * capacitance)

    def of_part(part: Part, farads: FloatArray | float, share: FloatArray) -> FloatArray:
        if not part.states_loss:
            return nothing
        if part.esr is not None:
            return np.asarray(nothing + part.esr * share**2)
        assert part.q is not None
        with np.errstate(divide="ignore", invalid="ignore"):
            ohms = share**2 / (2.0 * np.pi * frequency * farads * part.q)
        return np.asarray(nothing + np.where(share > 0.0, ohms, 0.0))

    return Losses(
        whole=np.asarray(nothing + whole),
        variable=of_part(capacitor.variable, shares.own, shares.variable_current),
        fixed=of_part(capacitor.fixed_part, capacitor.fixed, shares.fixed_current),
        series=of_part(capacitor.series_part, capacitor.series or 0.0, shares.variable_current),
        contact=np.asarray(nothing + capacitor.contact_resistance * shares.variable_current**2),
        leads=np.asarray(nothing + lead_impedance(capacitor, frequency).real),
    )


def loss_terms(capacitor: Capacitor) -> tuple[float, float]:
    """Series resistance [ohm] and loss tangent of the whole; both 0 where the parts state theirs."""
    return capacitor.esr or 0.0, 0.0 if capacitor.q is None else 1.0 / capacitor.q


def losses_follow_setting(capacitor: Capacitor) -> bool:
    """Whether the resistance at the gap, less that of a constant Q, depends on where the capacitor stands."""
    parts = capacitor.variable, capacitor.fixed_part, capacitor.series_part
    return capacitor.contact_resistance > 0.0 or any(part.states_loss for part in parts)


def lead_inductance(capacitor: Capacitor) -> float:
    """Of both straps [H]: what they add to the straight conductor across the gap, which the solver has."""
    if capacitor.lead_length is None:
        return 0.0
    assert capacitor.lead_width is not None
    return float(
        strap_pair_inductance(
            capacitor.lead_length, width=capacitor.lead_width, distance=capacitor.gap_width or GAP_WIDTH
        )
    )


def lead_impedance(capacitor: Capacitor, frequency: FloatArray) -> ComplexArray:
    """Of both straps [ohm], same shape as `frequency` [Hz]."""
    if capacitor.lead_length is None:
        return np.zeros(np.shape(frequency), dtype=np.complex128)
    assert capacitor.lead_width is not None
    per_metre = strip_impedance(
        np.maximum(frequency, _LOWEST_LEAD_LOSS),
        width=capacitor.lead_width,
        thickness=LEAD_THICKNESS,
        conductivity=LEAD_CONDUCTIVITY,
    )
    outside = 2j * np.pi * frequency * lead_inductance(capacitor)
    return np.asarray(outside + 2.0 * capacitor.lead_length * per_metre)
