# SPDX-License-Identifier: BSD-3-Clause
import itertools

import numpy as np
import pytest
from scipy.optimize import curve_fit

from ringwright.tuner.brain.fit import Prior, fit_dip
from tests.tuner.brain.dips import reading

PRIOR = Prior(centre=0.0, sigma=6.0, low=-18.0, high=18.0, bottom=0.01, noise=0.03, step=0.05)


def across(centre, width=1.0, *, low=-18.0, high=18.0, span=1.0, **ring):
    edges = np.arange(low, high, span)
    return tuple(reading(a, a + span, centre=centre, width=width, **ring) for a in edges)


@pytest.mark.parametrize("centre", [-11.3, -2.0, 0.37, 8.05])
def test_readings_without_noise_show_the_centre(centre):
    fit = fit_dip(across(centre, 1.1), PRIOR)
    assert fit.centre == pytest.approx(
        centre, abs=0.03
    )  # of a half-width: an SWR of 1.06 for a perfect match
    assert fit.width == pytest.approx(1.1, rel=0.15)
    assert fit.excess > 100.0


@pytest.mark.parametrize("span", [0.5, 2.0, 4.0])
def test_no_dip_falls_between_readings_made_on_the_way(span):
    fit = fit_dip(across(3.3, 0.8, span=span), PRIOR)
    assert fit.centre == pytest.approx(3.3, abs=0.15 * span)


def test_least_squares_on_the_same_readings_agree():
    # The outside check: scipy's curve_fit of a Lorentzian to readings at rest, meter without diodes.
    rng = np.random.default_rng(5)
    places = np.linspace(-3.0, 5.0, 17)
    readings = tuple(reading(u, u, centre=1.2, width=0.9, noise=0.02, rng=rng) for u in places)
    ratios = [r.reflected / r.forward for r in readings]

    def lorentzian(u, floor, depth, c, w):
        return floor - depth / (1.0 + ((u - c) / w) ** 2)

    found, covariance = curve_fit(lorentzian, places, ratios, p0=(1.0, 1.0, 1.0, 1.0), sigma=ratios)
    fit = fit_dip(readings, PRIOR)
    assert abs(fit.centre - found[2]) < 3.0 * np.hypot(np.sqrt(covariance[2, 2]), fit.sigma)
    assert fit.depth == pytest.approx(1.0, abs=0.12)  # the prior's own spread: diodes may have hidden some


def test_the_stated_sigma_covers_the_error():
    rng = np.random.default_rng(11)
    scores = []
    for _ in range(60):
        centre, width = rng.normal(0.0, 4.0), np.exp(rng.normal(0.0, 0.15))
        ring = {"coupling": np.exp(rng.normal(0.0, 0.2)), "knee": rng.choice([0.05, 0.4, 1.0]), "noise": 0.03}
        readings = across(centre, width, low=centre - 5.2, high=centre + 1.5, rng=rng, **ring)
        fit = fit_dip(readings, PRIOR)
        scores.append((fit.centre - centre) / fit.sigma)
    assert np.mean(np.abs(scores) < 2.0) > 0.9
    assert np.mean(np.abs(scores) < 4.0) == 1.0


def test_readings_far_from_any_dip_leave_the_rest_of_the_window():
    fit = fit_dip(across(30.0, low=-18.0, high=0.0), PRIOR)
    assert fit.excess < 3.0
    assert fit.centre > 2.0  # not where it was looked for
    assert fit.sigma > 1.5


def test_without_a_reading_the_fit_is_the_prior():
    fit = fit_dip((), PRIOR)
    assert fit.centre == pytest.approx(0.0, abs=1e-6)
    assert fit.sigma == pytest.approx(6.0, rel=0.03)  # the window cuts three of them off
    assert fit.excess == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("knee", [0.3, 0.8])
def test_a_meter_whose_diodes_read_too_little_does_not_move_the_dip(knee):
    edges = [*np.arange(-8.0, 1.5, 1.0), 1.5, 1.9, 2.2, 2.5, 2.7, 2.8, 2.9]  # from one side only
    readings = [reading(a, b, centre=3.0, width=1.0, knee=knee) for a, b in itertools.pairwise(edges)]
    fit = fit_dip(tuple(readings), PRIOR)
    assert fit.centre == pytest.approx(3.0, abs=0.04)
    assert fit.width == pytest.approx(1.0, rel=0.08)


@pytest.mark.parametrize("span", [1.5, 3.0])
def test_a_transmitter_that_folds_back_on_the_way_does_not_move_the_dip(span):
    ends = 2.5 - span * np.arange(6)[::-1]  # from one side only, and fast
    readings = [reading(end - span, end, centre=3.0, width=1.0) for end in ends]
    assert fit_dip(tuple(readings), PRIOR).centre == pytest.approx(3.0, abs=0.1)
