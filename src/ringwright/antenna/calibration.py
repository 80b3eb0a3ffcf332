# SPDX-License-Identifier: BSD-3-Clause
"""What measuring taught of a design's uncertain inputs: a named layer over the design, which stays as it was declared.

The layer is a normal distribution of natural logarithms, in all inputs at once. A measured sum of two resistances ties
them together: were one larger, the other would be smaller. Without that the ranges of a band that was not measured
come out wrong (docs/explanation/calibration.md).
"""

from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np

from ringwright.antenna.design import Capacitor, Design, Earth, Part, Tolerance
from ringwright.errors import OutOfRangeError
from ringwright.physics.graph import FloatArray

INPUTS = ("capacitor_q", "joint_resistance", "earth_conductivity", "earth_permittivity")
"""What a layer moves, in the order of all its rows and columns."""
LEAST_PERMITTIVITY, GREATEST_PERMITTIVITY = 1.0, 81.0
"""Of an earth: air's and cold water's; whatever is drawn or moved ends there."""
_LEAST_EIGENVALUE = -1e-9
"""Of a matrix of correlations: rounding in a file, and no more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SweepTaken:
    """One sweep behind a layer: its file's name and checksum (SHA-256), what it measured where [Hz]."""

    file: str
    sha256: str
    frequency: float
    q_unloaded: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """A layer: where the logarithm of each of `INPUTS` lies from what is declared, how sure that is, and how they hang
    together.

    `shift` and `spread` (4,), `correlation` (4, 4) as rows. `text_sha256` is the checksum of the design's text,
    `build_sha256` that of what the layer holds for, whatever else changes there (`design_file.belonging`).
    """

    name: str
    accepted: datetime
    design: str
    text_sha256: str
    build_sha256: str
    shift: tuple[float, ...]
    spread: tuple[float, ...]
    correlation: tuple[tuple[float, ...], ...]
    sweeps: tuple[SweepTaken, ...] = ()

    def __post_init__(self) -> None:
        matrix, spread = np.array(self.correlation), np.array(self.spread)
        if matrix.shape != (len(INPUTS), len(INPUTS)) or not len(self.shift) == len(spread) == len(INPUTS):
            raise OutOfRangeError(f"a calibration has {len(INPUTS)} inputs: {', '.join(INPUTS)}")
        if not (np.all(np.isfinite([*self.shift, *spread])) and np.all(spread >= 0.0)):
            raise OutOfRangeError("shifts of a calibration are finite, standard deviations 0 or more")
        is_one = np.allclose(np.diag(matrix), 1.0, rtol=0.0, atol=1e-12) and np.array_equal(matrix, matrix.T)
        if not is_one or float(np.linalg.eigvalsh(matrix)[0]) < _LEAST_EIGENVALUE:
            raise OutOfRangeError("the correlations of a calibration contradict each other")

    @property
    def root(self) -> FloatArray:
        """Turns independent standard normal numbers, as a row, into ones that are correlated: `row @ root`."""
        value, vector = np.linalg.eigh(np.array(self.correlation))
        return np.asarray((np.sqrt(np.maximum(value, 0.0)) * vector) @ vector.T)

    @property
    def factor(self) -> FloatArray:
        """By which each input is multiplied (4,)."""
        return np.exp(self.shift)


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibrated:
    """On a design that carries a layer: the layer, and what the design declares of what it moves."""

    layer: Calibration
    capacitor: Capacitor
    joint_resistance: float
    earth: Earth | None


def calibrated(design: Design, layer: Calibration) -> Design:
    """The design with its uncertain inputs where the layer has them; one that has a layer already loses that.

    Whether a layer belongs to a design is judged where the design's text is: `Design.load`.
    """
    design = as_declared(design)
    q, joint, conductivity, permittivity = (float(each) for each in layer.factor)
    earth = design.site.earth
    if earth is not None and not earth.perfect:
        earth = replace(
            earth,
            conductivity=earth.conductivity * conductivity,
            permittivity=_possible(earth.permittivity, earth.permittivity * permittivity),
        )
    return replace(
        design,
        capacitor=_with_quality(design.capacitor, q),
        ring=replace(design.ring, joint_resistance=design.ring.joint_resistance * joint),
        site=replace(design.site, earth=earth),
        calibration=Calibrated(
            layer=layer,
            capacitor=design.capacitor,
            joint_resistance=design.ring.joint_resistance,
            earth=design.site.earth,
        ),
    )


def as_declared(design: Design) -> Design:
    """The design without its layer, all else as it is now."""
    laid = design.calibration
    if laid is None:
        return design
    return replace(
        design,
        capacitor=laid.capacitor,
        ring=replace(design.ring, joint_resistance=laid.joint_resistance),
        site=replace(design.site, earth=laid.earth),
        calibration=None,
    )


def declared_spread(tolerance: Tolerance, earth: Earth | None) -> FloatArray:
    """Standard deviations of the logarithms of `INPUTS` (4,); an earth there is not, or a mirror, is certain."""
    of_earth = 0.0 if earth is None or earth.perfect else tolerance.earth
    return np.array([tolerance.capacitor_q, tolerance.joint_resistance, of_earth, of_earth])


def _possible(declared: float, moved: float) -> float:
    return float(np.clip(moved, LEAST_PERMITTIVITY, max(GREATEST_PERMITTIVITY, declared)))


def _with_quality(capacitor: Capacitor, factor: float) -> Capacitor:
    """All Q and ESR that are stated; the rotor's contact and the leads are no part of them."""

    def of_part(part: Part) -> Part:
        return replace(part, q=_times(part.q, factor), esr=_times(part.esr, 1.0 / factor))

    return replace(
        capacitor,
        q=_times(capacitor.q, factor),
        esr=_times(capacitor.esr, 1.0 / factor),
        variable=of_part(capacitor.variable),
        fixed_part=of_part(capacitor.fixed_part),
        series_part=of_part(capacitor.series_part),
    )


def _times(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor
