# SPDX-License-Identifier: BSD-3-Clause
import pytest
import scipy.constants as codata

from ringwright.physics.constants import C_0, EPS_0, ETA_0, MU_0


def test_constants_are_those_of_codata_2022():
    # scipy.constants ships the CODATA table; the derived ones may differ in its last printed digit (1e-10).
    assert codata.c == C_0
    assert pytest.approx(codata.value("vacuum mag. permeability"), rel=1e-11, abs=0) == MU_0
    assert pytest.approx(codata.value("vacuum electric permittivity"), rel=1e-10, abs=0) == EPS_0
    assert pytest.approx(codata.value("characteristic impedance of vacuum"), rel=1e-10, abs=0) == ETA_0


def test_constants_agree_with_one_another():
    assert pytest.approx(1.0, rel=1e-15, abs=0) == C_0**2 * MU_0 * EPS_0
    assert pytest.approx((MU_0 / EPS_0) ** 0.5, rel=1e-15, abs=0) == ETA_0
