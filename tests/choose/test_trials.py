# SPDX-License-Identifier: BSD-3-Clause
"""A coupling tried: against coupled circuits, against the mutual inductance of filaments, against the prediction."""

from dataclasses import replace

import numpy as np
import pytest

from ringwright.antenna.design import CouplingPlace, CouplingShape
from ringwright.antenna.predict import predict
from ringwright.choose.trials import Trials, match_band, match_bands
from ringwright.errors import DesignError, OutOfRangeError
from tests.antenna.builds import AVERAGE, at, band, built, solid, tube
from tests.choose.coupled_circuit import coupling_coefficient, network

LOSSLESS = {"esr": 0.0}


@pytest.mark.parametrize(
    ("mutual", "swr", "is_over_coupled"),
    [(27.818e-9, 1.574, False), (34.901e-9, 1.000, None), (38.279e-9, 1.203, True), (45e-9, 1.663, True)],
)
def test_a_ring_of_2310_nanohenries_and_123_milliohms(mutual, swr, is_over_coupled):
    # Coupled circuits worked by hand: f = 14.2 MHz, R = 0.123 153 ohm, Lf = 424.826 nH. The first is (w M)^2 = 50 R,
    # the second 50 R (1 + (w Lf/50)^2), the third a centred loop of a fifth of the diameter. Printed to 0.001; at the
    # match itself 1.0000 is met to the 5 digits of M.
    target = at(14.2e6)
    circuit = network([14.2e6], mutual, coil=424.826e-9, ring=2310.022e-9, resistance=0.123153)
    found = match_band(built(target, capacitor=LOSSLESS), circuit, target)
    assert found.swr_min == pytest.approx(swr, rel=4e-4, abs=0)
    assert is_over_coupled is None or found.is_over_coupled is is_over_coupled


@pytest.mark.parametrize("mutual", np.geomspace(5e-9, 200e-9, 9))
def test_the_miss_is_the_logarithm_of_the_coupling_coefficient(mutual):
    target = at(7.1e6)
    circuit = network([7.1e6], mutual, coil=500e-9, ring=2600e-9, resistance=0.09)
    found = match_band(built(target, capacitor=LOSSLESS), circuit, target)
    expected = np.log(coupling_coefficient(7.1e6, mutual, coil=500e-9, resistance=0.09))
    assert found.miss == pytest.approx(expected, rel=1e-7, abs=1e-7)  # rounding about the resonance


def test_the_same_loop_near_the_conductor_couples_as_grovers_filaments_do():
    # Radii 0.5 and 0.1 m, coplanar: M = 40.085 844 nH in the centre, 96.151 429 nH with the rim 20 mm from the other
    # filament (Maxwell's integral by quadrature; Butterworth 1916, Grover 1944). The coefficient goes with M^2,
    # all else is the same loop, here without loss, on the same ring. At 1.9 MHz the ring is 0.02 wavelengths long, so
    # that its current is even to 1e-3; the 48- and 16-gons leave 2e-3 of M.
    lossless = replace(solid(0.004), conductivity=1e15)
    loop = {"conductor": lossless, "diameter": 0.2, "clearance": 0.020 - 0.002 - 0.002}
    ring = {"perimeter": np.pi, "conductor": solid(0.004)}
    near, centred = (
        match_bands(built(at(1.9e6), ring=ring, coupling=loop | {"place": place}))
        for place in (CouplingPlace.OPPOSITE_GAP, CouplingPlace.CENTRE)
    )
    ratio = np.exp(near.bands[0].miss - centred.bands[0].miss)
    assert ratio == pytest.approx((96.151429 / 40.085844) ** 2, rel=5e-3, abs=0)


DESIGNS = {
    "circle, far too small": built(
        band("40m"), band("20m"), coupling={"diameter": 0.08}, capacitor={"esr": 0.05}
    ),
    "circle, far too large": built(
        band("40m"), band("20m"), coupling={"diameter": 0.5}, capacitor={"esr": 0.05}
    ),
    "over earth, lossy": built(
        band("20m"), band("10m"), site={"earth": AVERAGE, "height": 1.0}, capacitor={"esr": 0.3}
    ),
    "oval, tube": built(
        band("30m"),
        coupling={"shape": CouplingShape.OVAL, "squash": 2.0, "conductor": tube(0.01)},
        site={"earth": AVERAGE},
    ),
}


@pytest.mark.parametrize("name", DESIGNS)
def test_one_frequency_tells_the_lowest_swr_of_the_prediction(name):
    # The SWR is least over capacitance and over frequency at once, but for what changes over the resonance's width: of
    # the order of 1/Q^2. Q is above 100 here.
    design = DESIGNS[name]
    trial = match_bands(design)
    predicted = predict(design).bands
    for found, expected in zip(trial.bands, predicted, strict=True):
        assert found.swr_min == pytest.approx(expected.match.swr_min, rel=1e-4, abs=0)
        assert found.capacitance == pytest.approx(expected.tuning.capacitance, rel=1e-4, abs=0)
    assert trial.worst.swr_min == trial.swr_worst == max(found.swr_min for found in trial.bands)


def test_two_targets_on_one_frequency_are_one_and_the_same():
    single = match_bands(built(at(7.1e6)))
    double = match_bands(built(at(7.1e6), band("40m")))  # the middle of 7.0 to 7.2 MHz
    assert [found.swr_min for found in double.bands] == [single.swr_worst] * 2


def test_what_cannot_be_built_is_no_trial_and_nothing_is_tried_twice():
    design = built(at(14.2e6))
    told = []
    trials = Trials(design, lambda tried, best: told.append((tried, best.coupling.diameter)))
    sizes = {
        size: built(at(14.2e6), coupling={"diameter": size}).coupling for size in (0.15, 0.2, 0.97, 0.004)
    }
    first = trials.of(sizes[0.15])
    assert trials.of(sizes[0.97]) is None  # leaves the ring of 0.955 m
    assert trials.of(sizes[0.004]) is None  # all conductor, no opening
    assert trials.of(sizes[0.15]) is first
    trials.of(sizes[0.2])
    assert [trial.coupling.diameter for trial in trials.known] == [0.15, 0.2]
    assert told[-1][0] == 2
    assert told[0] == (1, 0.15)


def test_a_ring_past_its_resonance_names_its_size():
    with pytest.raises(OutOfRangeError, match=r"ring.perimeter of 8 m: .* past its own resonance"):
        match_bands(built(at(28e6), ring={"perimeter": 8.0}))


def test_a_coupling_that_does_not_fit_says_so():
    with pytest.raises(DesignError, match="coupling"):
        match_bands(built(at(14.2e6), coupling={"diameter": 1.2}))
