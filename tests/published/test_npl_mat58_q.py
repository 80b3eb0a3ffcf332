# SPDX-License-Identifier: BSD-3-Clause
"""A. P. Gregory, Q-factor Measurement by using a Vector Network Analyser, NPL Report MAT 58, 2021: its measured data.

Table 6(c), span 27 MHz: a reflection cavity with a small coupling loop, 201 points of calibrated S11. Published:
f_L = 3.652 938 00 GHz, Q_L = 708, Q_0 = 862, circle diameter 0.3573 of the reflection off resonance.
Figure 6(b): transmission between two probes, 201 points, uncalibrated; a through in its place shows 0.874. Published:
Q_L = 7454, Q_0 = 7546.
"""

from pathlib import Path

import numpy as np
import pytest

from ringwright.proof.files import load_sweep
from ringwright.proof.fit_result import ResonanceFit
from ringwright.proof.resonance_fit import fit_resonance
from ringwright.proof.sweep import Sweep, SweepKind

DATA = Path(__file__).parent / "data"
THROUGH = 0.874


@pytest.fixture(scope="module")
def fit() -> ResonanceFit:
    return fit_resonance(load_sweep(DATA / "npl_mat58_table_6c_27mhz.txt"))


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


@pytest.fixture(scope="module")
def between_probes() -> ResonanceFit:
    f, real, imaginary = np.loadtxt(DATA / "npl_mat58_figure_6b.txt", comments="%", unpack=True)
    return fit_resonance(
        Sweep(
            source="figure 6(b)",
            kind=SweepKind.TRANSMISSION,
            frequency=f * 1e9,
            response=(real + 1j * imaginary) / THROUGH,
        )
    )


def test_loaded_q_between_probes(between_probes):
    # Four digits are printed; our delay and weights are others.
    assert between_probes.q_loaded.value == pytest.approx(7454.0, rel=1.5e-3, abs=0)
    assert between_probes.q_loaded.low < 7454.0 < between_probes.q_loaded.high


def test_unloaded_q_between_probes(between_probes):
    assert between_probes.q_unloaded.value == pytest.approx(7546.0, rel=1.5e-3, abs=0)
    assert between_probes.q_unloaded.low < 7546.0 < between_probes.q_unloaded.high
