# SPDX-License-Identifier: BSD-3-Clause
"""What a ring tunes with its capacitor: a prediction at either end must ask for just that capacitance."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.capacitor import range_at_gap
from ringwright.antenna.design import CouplingPlace, RingShape, SiteWire
from ringwright.antenna.predict import predict
from tests.antenna.builds import AVERAGE, at, band, built, solid
from tests.published.ring_series import ring_impedance

RAILING = SiteWire(
    kind="railing", start=(-2.0, 0.5, 1.5), end=(2.0, 0.5, 1.5), diameter=0.04, conductivity=6e6, mu_r=100.0
)

DESIGNS = {
    "circle": built(),
    "octagon over earth": built(
        ring={"shape": RingShape.OCTAGON, "perimeter": 4.4}, site={"earth": AVERAGE, "height": 1.0}
    ),
    "beside a railing": built(site={"earth": AVERAGE, "metal": (RAILING,)}),
    "two turns": built(ring={"turns": 2, "turn_spacing": 0.08, "perimeter": 2.0}, coupling={"diameter": 0.1}),
    "overcoupled": built(coupling={"diameter": 0.4}),
    "fixed and stray": built(capacitor={"fixed": 30e-12, "stray": 5e-12}),
    "q": built(capacitor={"esr": None, "q": 300.0}),
    "leads": built(
        capacitor={"lead_length": 0.1, "lead_width": 0.02}, site={"earth": AVERAGE, "height": 1.0}
    ),
}


@pytest.mark.parametrize("name", DESIGNS)
def test_reach_is_where_the_capacitor_ends(name):
    design = DESIGNS[name]
    tuning = predict(design).bands[0].tuning
    low, high = range_at_gap(design.capacitor)
    assert tuning.tunes_from is not None
    assert tuning.tunes_to is not None
    for frequency, farads in ((tuning.tunes_from, high), (tuning.tunes_to, low)):
        there = predict(replace(design, targets=(at(frequency),))).bands[0]
        # One Newton step from the ring alone: what it leaves of earth and metal is second order. 1e-4 of the
        # capacitance is 5e-5 of the frequency, a tenth of a bandwidth.
        assert there.tuning.capacitance == pytest.approx(farads, rel=1e-4, abs=0)


def test_reach_does_not_depend_on_the_bands():
    one, other = (predict(built(target)).bands[0].tuning for target in (band("40m"), band("15m")))
    assert (one.tunes_from, one.tunes_to) == (other.tunes_from, other.tunes_to)


@pytest.mark.parametrize("picofarad", [30.0, 60.0, 200.0])
def test_reach_by_the_ring_s_fourier_series(picofarad):
    """The top end of a capacitor whose minimum is that: where the series' reactance is the capacitor's."""
    # A centred loop of 30 mm moves the best match by its own detuning only a little.
    design = built(
        capacitor={"minimum": picofarad * 1e-12, "maximum": 400e-12},
        coupling={"diameter": 0.03, "place": CouplingPlace.CENTRE, "clearance": 0.4},
    )
    top = predict(design).bands[0].tuning.tunes_to
    assert top is not None
    reactance = ring_impedance(top, circumference=3.0, wire_radius=0.011).imag
    series = 1.0 / (2.0 * np.pi * top * reactance)
    # Gap capacitance: 20 terms of the series against 48 segments, half a picofarad; (a/b)^2 of the tube.
    assert series == pytest.approx(picofarad * 1e-12, rel=1e-3 + 0.5 / picofarad, abs=0)


def test_no_end_beyond_the_method():
    """Past 0.45 wavelengths of wire, or below 0.004, there is no figure rather than a wrong one."""
    thin = built(ring={"conductor": solid(0.002)}, capacitor={"minimum": 0.02e-12})
    assert predict(thin).bands[0].tuning.tunes_to is None  # a thin ring's own resonance is at 0.48
    large = predict(built(capacitor={"maximum": 1e-6})).bands[0].tuning
    assert large.tunes_from is None
    assert large.tunes_to is not None


def test_more_capacitance_reaches_lower_and_less_reaches_higher():
    wide, usual = (
        predict(built(capacitor=capacitor)).bands[0].tuning
        for capacitor in ({"minimum": 5e-12, "maximum": 800e-12}, {})
    )
    ends = [wide.tunes_from, usual.tunes_from, usual.tunes_to, wide.tunes_to]
    assert np.all(np.diff(np.array(ends, dtype=float)) > 0.0)
