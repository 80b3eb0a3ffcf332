# SPDX-License-Identifier: BSD-3-Clause
"""A prediction of three bands with SWR curves and watt budget, warm, and a cold command line."""

import itertools
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

from ringwright.antenna.charts import trace
from ringwright.antenna.design import Design, Drive, Part, Shaft, Site, Tolerance
from ringwright.antenna.figures import to_json
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import FIRST_RING, TERRACE_OCTAGON, shipped_design, shipped_text
from ringwright.antenna.solution import SolutionMemory


def bench_new_geometry() -> Callable[[], object]:
    """Predict three bands, free space, a geometry not seen before."""
    return _predicting(_new_perimeters(_in_free_space()))


def bench_new_q() -> Callable[[], object]:
    """Predict three bands, free space, the same geometry with another Q: no new solution."""
    design, memory = _in_free_space(), SolutionMemory()
    predict(design, memory)
    qualities = (1000.0 + number for number in itertools.count())
    call = _predicting((replace(design, capacitor=replace(design.capacitor, q=q)) for q in qualities), memory)
    return _without_solving(call, memory)


def bench_new_capacitor_parts() -> Callable[[], object]:
    """Predict three bands, another loss of each part, contact, leads and law of the capacitor: no new solution."""
    design, memory = _in_free_space(), SolutionMemory()
    own = replace(design.capacitor, q=None, esr=None, fixed=20e-12, series=1e-9)
    predict(replace(design, capacitor=own), memory)
    before = memory.solves
    changed = (
        replace(
            own,
            variable=Part(q=1000.0 + number),
            fixed_part=Part(esr=0.01 + 1e-4 * number),
            series_part=Part(q=2000.0 + number),
            contact_resistance=1e-3 + 1e-5 * number,
            lead_length=0.02 + 1e-4 * number,
            lead_width=0.02,
            straight_line_frequency=bool(number % 2),
            rated_voltage=None,
            plate_gap=1e-3 + 1e-5 * number,
        )
        for number in itertools.count()
    )
    call = _predicting((replace(design, capacitor=each) for each in changed), memory)

    def once() -> object:
        answer = call()
        if memory.solves != before:
            raise AssertionError(
                f"{memory.solves - before} new solutions for a change of the capacitor's parts"
            )
        return answer

    return once


def bench_new_parts_over_earth() -> Callable[[], object]:
    """Predict three bands over earth, the same geometry, other joints, ESR, law and tolerances: no new solution."""
    design, memory = shipped_design(FIRST_RING), SolutionMemory()
    predict(design, memory)
    return _without_solving(_predicting(_new_parts(design), memory), memory)


def bench_cold_command_line() -> Callable[[], object]:
    """ringwright predict, three bands over earth beside a railing, a new process each time."""
    folder = tempfile.TemporaryDirectory()
    path = Path(folder.name) / "ring.toml"
    path.write_text(shipped_text(TERRACE_OCTAGON), encoding="utf-8")
    program = Path(sys.executable).with_name("ringwright")

    def once() -> object:
        assert folder.name  # held, so that the file stays until the last call
        return subprocess.run([program, "predict", path], check=True, capture_output=True)

    return once


def _without_solving(call: Callable[[], object], memory: SolutionMemory) -> Callable[[], object]:
    """The same call, which must not cost a full-wave solution."""
    before = memory.solves

    def once() -> object:
        answer = call()
        if memory.solves != before:
            raise AssertionError(
                f"{memory.solves - before} new solutions for other parts of the same geometry"
            )
        return answer

    return once


def _predicting(designs: Iterator[Design], memory: SolutionMemory | None = None) -> Callable[[], object]:
    """A call that predicts the next design, document and curves included, in a process that has answered before."""
    kept = memory or SolutionMemory()

    def once() -> object:
        prediction = predict(next(designs), kept)
        return to_json(prediction), [trace(band, label="", number=0) for band in prediction.bands]

    return once


def _in_free_space() -> Design:
    return replace(shipped_design(TERRACE_OCTAGON), site=Site())


def _new_parts(design: Design) -> Iterator[Design]:
    """Whatever needs no new solution, all of it changed at once."""
    for number in itertools.count(1):
        little = 1e-3 * number
        yield replace(
            design,
            ring=replace(design.ring, joint_resistance=little),
            capacitor=replace(
                design.capacitor, q=None, esr=0.02 + little, straight_line_frequency=number % 2 == 0
            ),
            tolerance=Tolerance(capacitor_q=0.2 + little, joint_resistance=0.4 + little, earth=0.5 + little),
        )


def _new_perimeters(design: Design) -> Iterator[Design]:
    for number in itertools.count():
        yield replace(design, ring=replace(design.ring, perimeter=4.0 + number * 1e-4))


def bench_new_drive() -> Callable[[], object]:
    """Predict three bands, free space, another gear, shaft, travel and law: no new solution."""
    design, memory = _in_free_space(), SolutionMemory()
    predict(design, memory)
    before = memory.solves
    changed = (
        replace(
            design,
            capacitor=replace(
                design.capacitor, travel=10.0 + 0.01 * number, straight_line_frequency=bool(number % 2)
            ),
            drive=Drive(
                microsteps=8,
                reduction=5.0 + 0.01 * number,
                shaft=Shaft(material="birch", length=0.08 + 1e-4 * number, diameter=0.012),
            ),
        )
        for number in itertools.count()
    )
    call = _predicting(changed, memory)

    def once() -> object:
        answer = call()
        if memory.solves != before:
            raise AssertionError(f"{memory.solves - before} new solutions for a change of the drive")
        return answer

    return once
