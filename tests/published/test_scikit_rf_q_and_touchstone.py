# SPDX-License-Identifier: BSD-3-Clause
"""scikit-rf, a general-purpose RF library, as oracle: its own Q algorithm, and its reader on files we wrote ourselves.

Its reader is only ever given files made here, and never by name to its constructor, which would unpickle them.
"""

import numpy as np
import pytest
import skrf
from skrf.qfactor import Qfactor

from ringwright.proof.resonance_fit import fit_resonance
from ringwright.proof.touchstone import parse_touchstone
from tests.proof.sweeps import Truth, complex_noise, grid, ring_and_loop, sweep_of


@pytest.mark.parametrize("coupling", [0.5, 0.9, 1.6])
@pytest.mark.parametrize("q", [250.0, 1500.0])
def test_same_q_as_its_seven_parameter_fit(q, coupling):
    truth = Truth(frequency=14.2e6, q=q, coupling=coupling, cable=5.0)
    f = grid(truth, widths=6.0, points=101)
    s = ring_and_loop(f, f0=14.2e6, q=q, coupling=coupling, cable=5.0)
    theirs = Qfactor(skrf.Network(f=f, s=s, f_unit="Hz"), res_type="reflection")
    result = theirs.fit(method="NLQFIT7")
    ours = fit_resonance(sweep_of(f, s))
    # No noise: what is left is its linear cable against ours with the root of frequency, and its weights.
    assert ours.q_loaded.value == pytest.approx(float(np.squeeze(result.Q_L)), rel=2e-3, abs=0)
    assert ours.q_unloaded.value == pytest.approx(
        float(np.squeeze(theirs.Q_unloaded(result))), rel=2e-3, abs=0
    )
    assert ours.frequency.value == pytest.approx(
        float(np.squeeze(result.f_L)), rel=0.01 / truth.q_loaded, abs=0
    )


def test_same_q_from_a_noisy_sweep():
    truth = Truth(frequency=7.1e6, q=600.0, coupling=0.7)
    f = grid(truth, widths=8.0, points=201, off_centre=0.1)
    s = truth.reflection(f) + complex_noise(np.random.default_rng(58), len(f), 2e-3)
    theirs = Qfactor(skrf.Network(f=f, s=s, f_unit="Hz"), res_type="reflection")
    result = theirs.fit(method="NLQFIT7")
    ours = fit_resonance(sweep_of(f, s))
    # It weights the points, we do not: both are right within their noise.
    assert ours.q_unloaded.value == pytest.approx(
        float(np.squeeze(theirs.Q_unloaded(result))), rel=8e-3, abs=0
    )


@pytest.mark.parametrize("form", ["ri", "ma", "db"])
@pytest.mark.parametrize("ports", [1, 2])
def test_reads_what_it_writes(tmp_path, form, ports):
    rng = np.random.default_rng(ports)
    f = np.linspace(7e6, 7.3e6, 11)
    s = 0.3 * (rng.normal(size=(11, ports, ports)) + 1j * rng.normal(size=(11, ports, ports))) / 2.0
    skrf.Network(f=f, s=s, z0=75.0, f_unit="Hz").write_touchstone("made", dir=str(tmp_path), form=form)
    path = tmp_path / f"made.s{ports}p"
    found = parse_touchstone(path.read_bytes(), source=path.name)
    # Files carry the digits of a double; decibels and degrees lose one.
    assert found.frequency == pytest.approx(f, rel=1e-14, abs=0)
    assert abs(found.s - s).max() < 1e-13
    assert set(found.references) == {75.0}


@pytest.mark.parametrize(
    "options", ["# MHz S MA R 75", "# kHz Z RI R 50", "# GHz Z MA R 25", "# Hz S DB R 50"]
)
def test_reads_the_same_from_a_file_as_it_does(tmp_path, options):
    # Y parameters are left out: version 2.2.0 multiplies by R where version 1 files hold Y R already.
    scale = {"MHz": 1e6, "kHz": 1e3, "GHz": 1e9, "Hz": 1.0}[options.split()[1]]
    rows = [(7.0e6, 0.5, 0.1), (7.1e6, 0.3, 0.2), (7.2e6, 0.4, 0.3)]
    path = tmp_path / "made.s1p"
    path.write_text(options + "\n" + "\n".join(f"{f / scale!r} {a} {b}" for f, a, b in rows) + "\n")
    theirs = skrf.Network()
    theirs.read_touchstone(str(path))
    found = parse_touchstone(path.read_bytes(), source=path.name)
    assert found.frequency == pytest.approx(theirs.f, rel=1e-14, abs=0)
    z = np.asarray(found.references[0]) * (1 + found.s[:, 0, 0]) / (1 - found.s[:, 0, 0])
    assert z == pytest.approx(theirs.z[:, 0, 0], rel=1e-9, abs=0)
