# SPDX-License-Identifier: BSD-3-Clause
"""What is predicted: plain values whose names are the contract's JSON keys less their SI suffix.

None stands for what cannot be had. Keys, labels, units and sources of every figure are in
`ringwright.antenna.figures`, which also writes the JSON.
"""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ringwright.antenna.cross_check import CrossCheck
from ringwright.antenna.drive import DriveFigures
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.pattern import Pattern
from ringwright.antenna.scikit_rf import open_network, tuned_network
from ringwright.physics.graph import FloatArray

if TYPE_CHECKING:
    import skrf


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """Something the person should know; `band` None where it concerns the whole design."""

    code: str
    text: str
    band: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuning:
    """Setting of the capacitor [F], its stress [V peak, A rms], reach [Hz], resolution [Hz] and drift [Hz/K].

    `missing` [F]: negative to be taken off, positive to be added for the whole band; None where nothing is or can be.
    """

    capacitance: float
    reachable: bool
    at_travel: float | None
    tunes_from: float | None
    tunes_to: float | None
    capacitor_voltage_peak: float
    capacitor_current_rms: float
    ring_current_max_rms: float
    step: float | None
    missing: float | None
    capacitance_lower_edge: float
    capacitance_upper_edge: float
    drift_per_kelvin: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Resistance:
    """Watts at each address over the square of the rms gap current [ohm]."""

    radiation: float
    ring: float
    joints: float
    capacitor: float
    earth: float | None
    metal: float | None
    coupling: float
    total: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WattsPct:
    """Share of the accepted power at each address [%]; `sum` is far field plus losses, not forced to 100."""

    sky: float
    earth: float | None
    ring: float
    joints: float
    capacitor: float
    coupling: float
    metal: float | None
    sum: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchFigures:
    """Least SWR at the feed, where [Hz], and the edges at SWR 2 [Hz]."""

    swr_min: float
    frequency: float
    swr2_low: float | None
    swr2_high: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Greatest peak envelope power [W] and what sets it; radiated power over isotropic [W]."""

    power_max: float | None
    set_by: str | None
    eirp: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CapacitorFigures:
    """What the capacitor stands and must stand [V peak], must carry [A rms], its heat at the averaged power [W], and
    its parts' stress.

    `variable` [F] is the variable one's own setting. None for a part there is not, and for what is not known.
    """

    stands_peak: float | None
    stands_set_by: str | None
    must_stand_peak: float
    must_carry_rms: float
    heat: float
    contact_heat: float | None
    temperature_rise: float | None
    variable: float
    variable_voltage_peak: float
    variable_current_rms: float
    fixed_current_rms: float | None
    fixed_heat: float | None
    series_voltage_peak: float | None
    series_heat: float | None
    lead_inductance: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BandPrediction:
    """Everything about one frequency; `point` lets faces draw curves and fields without a new solution."""

    band: str | None
    frequency: float
    tuning: Tuning
    resistance: Resistance
    watts_pct: WattsPct
    efficiency_free_space_pct: float
    efficiency_sky_pct: float
    q_unloaded: float
    bandwidth_half_power: float
    bandwidth_swr2: float | None
    match: MatchFigures
    pattern: Pattern
    limits: Limits
    capacitor: CapacitorFigures
    drive: DriveFigures | None = None
    cross_check: CrossCheck
    point: OperatingPoint = field(repr=False)
    range: dict[str, tuple[float, float]] = field(default_factory=dict)
    range_led_by: dict[str, str] = field(default_factory=dict)

    @property
    def is_whole_band(self) -> bool:
        """Whether a band was asked for and not a single frequency, which may lie in the same band as another."""
        return self.point.target.low < self.point.target.high

    def tuned_network(self, frequency: FloatArray) -> "skrf.Network":
        """One-port at the coupling over `frequency` [Hz] for scikit-rf, the capacitor left at its setting."""
        return tuned_network(self.point.tuned, frequency)

    def open_network(self, frequency: FloatArray) -> "skrf.Network":
        """Two-port of coupling and gap without the capacitor over `frequency` [Hz], for scikit-rf."""
        return open_network(self.point.tuned, frequency)


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction:
    """A design, predicted; `calibration` is the name of the layer over it, None for the design as declared."""

    design: str
    defaults_used: tuple[str, ...]
    warnings: tuple[Notice, ...]
    bands: tuple[BandPrediction, ...]
    calibration: str | None = None

    def __repr__(self) -> str:
        """Name and what each band sends; everything else is in the fields."""
        bands = ", ".join(
            f"{band.band or ''} {band.frequency / 1e6:.6g} MHz sky {band.watts_pct.sky:.3g} %".strip()
            for band in self.bands
        )
        return f"<Prediction {self.design!r}: {bands}>"

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from ringwright.antenna.charts.html import (
            prediction_html,
        )  # it reads the table, which describes this class

        return prediction_html(self)
