# SPDX-License-Identifier: BSD-3-Clause
"""The prediction: a design solved full-wave, band by band."""

import math
from dataclasses import replace

import numpy as np

from ringwright.antenna.budget import Watts
from ringwright.antenna.calibration import as_declared
from ringwright.antenna.capacitor import (
    missing_capacitance,
    range_at_gap,
    travel_of,
)
from ringwright.antenna.capacitor_stress import capacitor_figures, power_limits
from ringwright.antenna.cross_check import cross_check
from ringwright.antenna.design import Design, Target
from ringwright.antenna.drive import drift_per_kelvin, find_drive
from ringwright.antenna.drive_resolution import hertz_per_turn, turns_per_step
from ringwright.antenna.far_side import far_side
from ringwright.antenna.geometry import Wires, alone, build_wires
from ringwright.antenna.network import (
    HIGHEST_SOLVED,
    LONG_RING,
    LOWEST_SOLVED,
    NODES_OF_LONG_RING,
    NODES_PER_BAND,
    RingNetwork,
    chebyshev_nodes,
)
from ringwright.antenna.notices import find_notices
from ringwright.antenna.operating_point import OperatingPoint
from ringwright.antenna.pattern import find_pattern
from ringwright.antenna.prediction import (
    BandPrediction,
    Limits,
    MatchFigures,
    Prediction,
    Tuning,
)
from ringwright.antenna.ranges import with_ranges, with_safe_ends
from ringwright.antenna.reach import reach_ends
from ringwright.antenna.solution import SolutionMemory
from ringwright.antenna.tuning import TunedRing, best_capacitance, find_match
from ringwright.errors import OutOfRangeError
from ringwright.physics.constants import C_0
from ringwright.physics.graph import FloatArray
from ringwright.physics.thin_wire import PortSolution
from ringwright.units import format_quantity

BAND_MARGIN = 0.06
"""Of the frequency, on either side of a band: a lossy ring's SWR curve reaches beyond the band's edges."""


def predict(design: Design, memory: SolutionMemory | None = None) -> Prediction:
    """Solve a design.

    Parameters
    ----------
    design : Design
        What is built, with or without a layer of what was measured (`Design.load`).
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
    laid = design.calibration
    bands = _bands_of(design, memory)
    if laid is not None:
        bands = with_safe_ends(bands, _bands_of(as_declared(design), memory))
    bands = _driven(design, bands)
    return Prediction(
        design=design.name,
        calibration=None if laid is None else laid.layer.name,
        defaults_used=design.defaults_used,
        warnings=find_notices(design, bands),
        bands=bands,
    )


def _bands_of(design: Design, memory: SolutionMemory) -> tuple[BandPrediction, ...]:
    """Each target with its ranges, the drive's figures left out."""
    wires = build_wires(design)
    on_site = design.site.earth is not None or bool(design.site.metal)
    lone = build_wires(alone(design)) if on_site else wires
    # The reach asks for the highest frequencies, and with them for all terms of the kernel's series at once.
    ends = reach_ends(design, lone=lone, wires=wires, memory=memory)
    low, high = (None if end is None else end.of(design) for end in ends)
    points = operating_points(design, wires, memory)
    alone_points = _in_free_space(design, lone, memory) if on_site else [None] * len(points)
    bands = tuple(
        _predict_band(design, point, tunes=(low, high), lone=lone_point)
        for point, lone_point in zip(points, alone_points, strict=True)
    )
    return with_ranges(design, bands, lone=alone_points, ends=ends, memory=memory)


def operating_points(design: Design, wires: Wires, memory: SolutionMemory) -> list[OperatingPoint]:
    """Each target tuned on its site, at the design's power."""
    length = wires.ring_length
    per_target = [_solved_frequencies(target, length) for target in design.targets]
    solution = memory.solution(wires, np.concatenate(per_target), design.site.earth)
    parts = _split(solution, [len(nodes) for nodes in per_target])
    return [
        _operate(design, wires, part, target=target)
        for target, part in zip(design.targets, parts, strict=True)
    ]


def _solved_frequencies(target: Target, ring_length: float) -> FloatArray:
    low, high = target.low * (1.0 - BAND_MARGIN), target.high * (1.0 + BAND_MARGIN)
    high = min(high, HIGHEST_SOLVED)
    count = NODES_PER_BAND if ring_length * high / C_0 < LONG_RING else NODES_OF_LONG_RING
    return chebyshev_nodes(max(low, LOWEST_SOLVED), high, count)


def _in_free_space(design: Design, lone: Wires, memory: SolutionMemory) -> list[OperatingPoint]:
    """The ring re-tuned without earth and metal, target by target."""
    solution = memory.solution(lone, np.array([target.frequency for target in design.targets]))
    parts = _split(solution, [1] * len(design.targets))
    return [
        _operate(design, lone, part, target=target)
        for target, part in zip(design.targets, parts, strict=True)
    ]


def _split(solution: PortSolution, counts: list[int]) -> list[PortSolution]:
    """One solution per band from the one over all bands' frequencies."""
    ends = np.cumsum(counts)
    return [
        PortSolution(
            frequency=solution.frequency[end - count : end],
            impedance=solution.impedance[end - count : end],
            current=solution.current[end - count : end],
        )
        for count, end in zip(counts, ends, strict=True)
    ]


def _operate(design: Design, wires: Wires, solution: PortSolution, *, target: Target) -> OperatingPoint:
    network = RingNetwork.of(design, wires, solution)
    try:
        tuned = TunedRing.at(
            network,
            design.capacitor,
            frequency=target.frequency,
            reference=design.feedline.impedance,
        )
    except OutOfRangeError as exc:
        size = f"ring.perimeter of {format_quantity(design.ring.perimeter, 'm', digits=4)}"
        raise OutOfRangeError(f"{size}: {exc}") from exc
    return OperatingPoint.at_power(tuned, target=target, wires=wires, solution=solution, power=design.power)


def _predict_band(
    design: Design,
    point: OperatingPoint,
    *,
    tunes: tuple[float | None, float | None],
    lone: OperatingPoint | None,
) -> BandPrediction:
    """`lone`: its ring without earth and metal, None where the site is free space."""
    f0, q = point.tuned.resonance()
    match = find_match(point.tuned, f0 / q)
    far = far_side(point, earth=design.site.earth)
    watts = Watts.of(point, far)
    pattern = find_pattern(far.field_at, design.power, lowest_elevation=far.lowest_elevation)
    sky_pct = 100.0 * far.sky / design.power
    return BandPrediction(
        band=point.target.band,
        frequency=point.target.frequency,
        tuning=_tuning(design, point, tunes),
        resistance=watts.resistance(point.gap_current),
        watts_pct=watts.share(design.power),
        efficiency_free_space_pct=sky_pct if lone is None else _sky_pct(lone),
        efficiency_sky_pct=sky_pct,
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
        limits=_limits(design, point, pattern.gain_max_dbi),
        capacitor=capacitor_figures(design, point),
        cross_check=cross_check(design, point.target.frequency),
        point=point,
    )


def _driven(design: Design, bands: tuple[BandPrediction, ...]) -> tuple[BandPrediction, ...]:
    """With the drive's figures, which need to know the next band."""
    places = [band.tuning.at_travel for band in bands]
    ways = [
        None if here is None or there is None else abs(there - here)
        for here, there in zip(places, [*places[1:], None], strict=True)
    ]
    return tuple(
        replace(
            band,
            drive=find_drive(
                design,
                band.point.tuned,
                band.point.target,
                half_power=band.bandwidth_half_power,
                swr2=band.bandwidth_swr2,
                moved=moved,
                must_stand=band.capacitor.must_stand_peak,
            ),
        )
        for band, moved in zip(bands, ways, strict=True)
    )


def _sky_pct(lone: OperatingPoint) -> float:
    return 100.0 * far_side(lone, earth=None).sky / lone.power


def _tuning(design: Design, point: OperatingPoint, tunes: tuple[float | None, float | None]) -> Tuning:
    capacitor, tuned = design.capacitor, point.tuned
    low, high = range_at_gap(capacitor)
    edges = np.array([point.target.low, point.target.high])
    needed = best_capacitance(tuned.network, capacitor, edges, reference=tuned.reference)
    return Tuning(
        capacitance=tuned.capacitance,
        reachable=bool(np.all((needed >= low) & (needed <= high))),
        at_travel=travel_of(capacitor, tuned.capacitance),
        tunes_from=tunes[0],
        tunes_to=tunes[1],
        capacitor_voltage_peak=point.gap_voltage_peak,
        capacitor_current_rms=point.gap_current,
        ring_current_max_rms=point.ring_current_max,
        step=_hertz_per_step(design, tuned),
        missing=missing_capacitance(capacitor, needed),
        capacitance_lower_edge=float(needed[0]),
        capacitance_upper_edge=float(needed[1]),
        drift_per_kelvin=drift_per_kelvin(design, tuned),
    )


def _hertz_per_step(design: Design, tuned: TunedRing) -> float | None:
    """Change of resonance for one microstep of the drive [Hz]; None without drive, travel, or reach."""
    if design.drive is None:
        return None
    per_turn = float(hertz_per_turn(tuned, design.capacitor, np.array([tuned.frequency]))[0])
    return per_turn * turns_per_step(design.drive) if math.isfinite(per_turn) else None


def _limits(design: Design, point: OperatingPoint, gain_max_dbi: float) -> Limits:
    """Power goes with the square of voltage and current, so each rating gives a power."""
    allowed = power_limits(design, point)
    power_max, set_by = min(allowed) if allowed else (None, None)
    return Limits(
        power_max=power_max, set_by=set_by, eirp=float(design.power * 10.0 ** (gain_max_dbi / 10.0))
    )
