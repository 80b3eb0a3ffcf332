# SPDX-License-Identifier: BSD-3-Clause
"""The prediction: a design solved full-wave, band by band."""

import numpy as np

from ringwright.antenna.capacitor import capacitance_per_travel, range_at_gap, travel_of
from ringwright.antenna.cross_check import cross_check
from ringwright.antenna.design import Design, Target
from ringwright.antenna.geometry import Address, Wires, build_wires
from ringwright.antenna.network import GAP, RingNetwork, barycentric, chebyshev_nodes
from ringwright.antenna.notices import find_notices
from ringwright.antenna.pattern import find_pattern
from ringwright.antenna.prediction import (
    BandPrediction,
    Limits,
    MatchFigures,
    Prediction,
    Resistance,
    Tuning,
    WattsPct,
)
from ringwright.antenna.reach import tuning_reach
from ringwright.antenna.solution import SolutionMemory
from ringwright.antenna.tuning import TunedRing, best_capacitance, find_match
from ringwright.physics.far_field import current_elements, free_space_field, sphere_order, sphere_power
from ringwright.physics.graph import FloatArray
from ringwright.physics.thin_wire import PortSolution
from ringwright.physics.wave_kernel import ComplexArray

BAND_MARGIN = 0.06
"""Of the frequency, on either side of a band: a lossy ring's SWR curve reaches beyond the band's edges."""


def predict(design: Design, memory: SolutionMemory | None = None) -> Prediction:
    """Solve a design.

    Parameters
    ----------
    design : Design
        What is built.
    memory : SolutionMemory, optional
        Keeps solutions between calls; a fresh one without it.

    Returns
    -------
    Prediction

    Raises
    ------
    DesignError
        If the design cannot be built.
    OutOfRangeError
        If a target lies past the ring's own resonance.
    """
    memory = memory or SolutionMemory()
    wires = build_wires(design)
    per_target = [_solved_frequencies(target) for target in design.targets]
    solution = memory.solution(wires, np.concatenate(per_target))
    tunes = tuning_reach(design, wires, memory)
    bands = []
    for number, target in enumerate(design.targets):
        count = len(per_target[number])
        chosen = slice(number * count, (number + 1) * count)
        part = PortSolution(
            frequency=solution.frequency[chosen],
            impedance=solution.impedance[chosen],
            current=solution.current[chosen],
        )
        bands.append(_predict_band(design, wires, part, target, tunes))
    return Prediction(
        design=design.name,
        defaults_used=design.defaults_used,
        warnings=find_notices(design, bands),
        bands=tuple(bands),
    )


def _solved_frequencies(target: Target) -> FloatArray:
    return chebyshev_nodes(target.low * (1.0 - BAND_MARGIN), target.high * (1.0 + BAND_MARGIN))


def _predict_band(
    design: Design,
    wires: Wires,
    solution: PortSolution,
    target: Target,
    tunes: tuple[float | None, float | None],
) -> BandPrediction:
    network = RingNetwork.of(design, wires, solution)
    reference = design.feedline.impedance
    tuned = TunedRing.at(network, design.capacitor, target.frequency, reference)
    f0, q = tuned.resonance()
    match = find_match(tuned, f0 / q)
    ports = _currents_at_power(tuned, design.power)
    there = np.tensordot(
        barycentric(solution.frequency, np.array([target.frequency]))[0], solution.current, axes=1
    )
    current = there @ ports
    points, moments = current_elements(wires.graph, current)
    field_at = free_space_field(points, moments, target.frequency)
    sky = sphere_power(field_at, sphere_order(points, target.frequency))
    watts = _watts(tuned, ports) | {"sky": sky}
    gap_squared = float(abs(ports[GAP]) ** 2)
    pattern = find_pattern(field_at, design.power, lowest_elevation=-np.pi / 2.0)
    tuning = _tuning(design, tuned, ports, tunes, target, ring_current(wires, current))
    efficiency = 100.0 * watts["sky"] / design.power
    return BandPrediction(
        band=target.band,
        frequency=target.frequency,
        tuning=tuning,
        resistance=_resistance(watts, gap_squared),
        watts_pct=_watts_pct(watts, design.power),
        efficiency_free_space_pct=efficiency,
        efficiency_sky_pct=efficiency,
        q_unloaded=q,
        bandwidth_half_power=f0 / q,
        bandwidth_swr2=match.bandwidth_swr2,
        match=MatchFigures(
            swr_min=match.swr_min,
            frequency=match.frequency,
            swr2_low=match.swr2_low,
            swr2_high=match.swr2_high,
        ),
        pattern=pattern,
        limits=_limits(design, tuning, pattern.gain_max_dbi),
        cross_check=cross_check(design, target.frequency),
        network=network,
        tuned=tuned,
    )


def _currents_at_power(tuned: TunedRing, power: float) -> ComplexArray:
    """RMS currents into feed and gap [A] when the feed accepts `power` [W]."""
    accepted_per_ampere = float(tuned.input_impedance(np.array([tuned.frequency]))[0].real)
    return np.asarray(tuned.port_currents() * np.sqrt(power / accepted_per_ampere))


def _watts(tuned: TunedRing, ports: ComplexArray) -> dict[str, float]:
    """Heat at each address [W]; what leaves the wires is counted far away, not here."""
    f = np.array([tuned.frequency])
    parts = tuned.network.parts(tuned.frequency)
    watts = {
        name: float((ports.conj() @ parts[name].real @ ports).real) for name in ("ring", "coupling", "joints")
    }
    watts["capacitor"] = float(tuned.capacitor_impedance(f)[0].real * abs(ports[GAP]) ** 2)
    return watts


def _resistance(watts: dict[str, float], gap_squared: float) -> Resistance:
    return Resistance(
        radiation=watts["sky"] / gap_squared,
        ring=watts["ring"] / gap_squared,
        joints=watts["joints"] / gap_squared,
        capacitor=watts["capacitor"] / gap_squared,
        earth=None,
        metal=None,
        coupling=watts["coupling"] / gap_squared,
        total=sum(watts.values()) / gap_squared,
    )


def _watts_pct(watts: dict[str, float], power: float) -> WattsPct:
    share = {name: 100.0 * value / power for name, value in watts.items()}
    return WattsPct(
        sky=share["sky"],
        earth=None,
        ring=share["ring"],
        joints=share["joints"],
        capacitor=share["capacitor"],
        coupling=share["coupling"],
        metal=None,
        sum=sum(share.values()),
    )


def ring_current(wires: Wires, current: ComplexArray) -> FloatArray:
    """RMS current at the start of each ring segment [A]."""
    return np.asarray(abs(current[wires.graph.address == Address.RING, 0]))


def _tuning(
    design: Design,
    tuned: TunedRing,
    ports: ComplexArray,
    tunes: tuple[float | None, float | None],
    target: Target,
    along_ring: FloatArray,
) -> Tuning:
    gap_current = float(abs(ports[GAP]))
    reactance = abs(tuned.capacitor_impedance(np.array([target.frequency]))[0])
    low, high = range_at_gap(design.capacitor)
    edges = np.array([target.low, target.high])
    needed = best_capacitance(tuned.network, design.capacitor, edges, tuned.reference)
    return Tuning(
        capacitance=tuned.capacitance,
        reachable=bool(np.all((needed >= low) & (needed <= high))),
        at_travel=travel_of(design.capacitor, tuned.capacitance),
        tunes_from=tunes[0],
        tunes_to=tunes[1],
        capacitor_voltage_peak=float(np.sqrt(2.0) * gap_current * reactance),
        capacitor_current_rms=gap_current,
        ring_current_max_rms=float(max(along_ring.max(), gap_current)),
        step=_hertz_per_step(design, tuned),
    )


def _hertz_per_step(design: Design, tuned: TunedRing) -> float | None:
    """Change of resonance for one microstep of the drive [Hz]; None without drive, travel, or reach."""
    drive, capacitor = design.drive, design.capacitor
    slope = capacitance_per_travel(capacitor, tuned.capacitance)
    if drive is None or capacitor.travel is None or slope is None:
        return None
    turns = capacitor.travel if capacitor.travel_unit == "turns" else capacitor.travel / 360.0
    steps = turns * drive.steps_per_turn * drive.microsteps * drive.reduction
    span = tuned.frequency * 1e-4
    below, above = best_capacitance(
        tuned.network, capacitor, tuned.frequency + span * np.array([-1.0, 1.0]), tuned.reference
    )
    return float(abs(2.0 * span / (above - below) * slope / steps))


def _limits(design: Design, tuning: Tuning, gain_max_dbi: float) -> Limits:
    """Power scales with the square of voltage and current, so each rating gives a power."""
    capacitor = design.capacitor
    allowed: list[tuple[float, str]] = []
    if capacitor.rated_voltage is not None:
        allowed.append(((capacitor.rated_voltage / tuning.capacitor_voltage_peak) ** 2, "capacitor voltage"))
    if capacitor.rated_current is not None:
        allowed.append(((capacitor.rated_current / tuning.capacitor_current_rms) ** 2, "capacitor current"))
    factor, set_by = min(allowed) if allowed else (None, None)
    return Limits(
        power_max=None if factor is None else factor * design.power,
        set_by=set_by,
        eirp=float(design.power * 10.0 ** (gain_max_dbi / 10.0)),
    )
