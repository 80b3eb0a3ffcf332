# SPDX-License-Identifier: BSD-3-Clause
"""A. P. Gregory, Q-factor Measurement by using a Vector Network Analyser, NPL Report MAT 58, 2021: its measured data.

Table 6(c), span 27 MHz: a reflection cavity with a small coupling loop, 201 points of calibrated S11. Published:
f_L = 3.652 938 00 GHz, Q_L = 708, Q_0 = 862, circle diameter 0.3573 of the reflection off resonance.
"""

from pathlib import Path

import pytest

from ringwright.proof.files import load_sweep
from ringwright.proof.fit_result import ResonanceFit
from ringwright.proof.resonance_fit import fit_resonance

DATA = Path(__file__).parent / "data" / "npl_mat58_table_6c_27mhz.txt"


@pytest.fixture(scope="module")
def fit() -> ResonanceFit:
    return fit_resonance(load_sweep(DATA))


def test_loaded_q(fit):
    # Three digits are printed, half a unit is 7e-4; the report weights the points otherwise than we do.
    assert fit.q_loaded.value == pytest.approx(708.0, rel=1.5e-3, abs=0)
    assert fit.q_loaded.low < 708.0 < fit.q_loaded.high


def test_unloaded_q(fit):
    assert fit.q_unloaded.value == pytest.approx(862.0, rel=1.5e-3, abs=0)
    assert fit.q_unloaded.low < 862.0 < fit.q_unloaded.high


def test_diameter_of_the_circle(fit):
    k = fit.coupling.value
    assert 2 * k / (1 + k) == pytest.approx(0.3573, rel=1e-3, abs=0)


def test_loaded_resonance(fit):
    # 1/500 of the loaded width of 5.2 MHz; the two weightings differ by 6.6 kHz.
    assert fit.frequency.value == pytest.approx(3.652938e9, rel=2.8e-6, abs=0)
    assert fit.frequency.low < 3.652938e9 < fit.frequency.high


def test_the_cavity_is_under_coupled(fit):
    assert fit.coupling.high < 1.0
    assert fit.swr_min.value == pytest.approx(1.0 / fit.coupling.value, rel=5e-3, abs=0)
