# SPDX-License-Identifier: BSD-3-Clause
"""What loss costs on receive, by the limits of the system noise formula."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ringwright.antenna.reception import NoisePlace, external_noise_figure, reception
from ringwright.errors import OutOfRangeError

places = st.sampled_from(NoisePlace)
frequencies = st.floats(1.8e6, 54e6)
efficiencies = st.floats(1e-4, 1.0)


def test_an_efficiency_of_one_per_cent_costs_nothing_on_40_m_in_a_suburb():
    # By hand: Fa = 72.5 - 27.7 log10 7.1 = 48.92 dB, 78 000; receiver 15 dB, 31.6, behind 20 dB of loss 3162:
    # (78 000 + 3162)/(78 000 + 32) is 0.17 dB.
    found = reception(7.1e6, 0.01, NoisePlace.RESIDENTIAL)
    assert found.loss_db == pytest.approx(0.17, rel=0.02, abs=0)
    assert found.costs_nothing


def test_the_same_loss_is_heard_on_10_m_at_a_quiet_place():
    # 52 - 23 log10 28.5 = 18.5 dB, 70, and 11.9 dB, 16, less 1; receiver 31.6 and 3162: (85 + 3162)/(85 + 31.6).
    found = reception(28.5e6, 0.01, NoisePlace.QUIET_RURAL)
    assert found.loss_db == pytest.approx(14.4, rel=0.01, abs=0)
    assert not found.costs_nothing


@given(frequencies, efficiencies, places)
def test_loss_never_helps_and_never_costs_more_than_itself(frequency, efficiency, place):
    loss = reception(frequency, efficiency, place).loss_db
    assert -1e-9 <= loss <= -10.0 * np.log10(efficiency) + 1e-9


@given(frequencies, efficiencies, places)
def test_a_deaf_receiver_hears_all_of_the_loss_and_a_perfect_one_the_least(frequency, efficiency, place):
    deaf = reception(frequency, efficiency, place, receiver_noise_figure_db=200.0)
    assert deaf.loss_db == pytest.approx(-10.0 * np.log10(efficiency), rel=1e-6, abs=1e-9)
    perfect = reception(frequency, efficiency, place, receiver_noise_figure_db=0.0).loss_db
    assert perfect <= reception(frequency, efficiency, place).loss_db + 1e-12
    # The ring itself at T0: (fa - 1 + 1/eta)/fa.
    external = 10.0 ** (external_noise_figure(frequency, place) / 10.0)
    by_hand = 10.0 * np.log10((external - 1.0 + 1.0 / efficiency) / external)
    assert perfect == pytest.approx(by_hand, rel=1e-9, abs=1e-12)


@given(frequencies, places)
def test_at_the_least_efficiency_the_cost_is_just_noticed(frequency, place):
    least = reception(frequency, 0.5, place).least_efficiency
    assert 0.0 < least < 1.0
    assert reception(frequency, least, place).loss_db == pytest.approx(1.0, rel=1e-9, abs=0)


@pytest.mark.parametrize("efficiency", [0.0, -0.1, 1.1, float("nan")])
def test_refuses_what_is_no_efficiency(efficiency):
    with pytest.raises(OutOfRangeError, match="efficiency"):
        reception(7.1e6, efficiency, NoisePlace.CITY)


def test_refuses_frequencies_without_noise_figures():
    with pytest.raises(OutOfRangeError, match="external noise"):
        external_noise_figure(150e6, NoisePlace.CITY)
