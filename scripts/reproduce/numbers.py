# SPDX-License-Identifier: BSD-3-Clause
"""What is read out of measurements: a laboratory's cavity, bandwidths of a match, a curve that must not overshoot."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
from scipy.interpolate import CubicSpline

from ringwright.physics.networks import matched_bandwidth
from ringwright.proof.files import load_sweep
from ringwright.proof.resonance_fit import fit_resonance
from ringwright.tuner.table_monotone import Monotone
from scripts.line_chart import Chart, Curve
from scripts.page_tables import Table
from tests.published.test_fritsch_carlson_1980 import RPN_14, X, Y

CAVITY = Path("tests/published/data/npl_mat58_table_6c_27mhz.txt")


def cavity() -> Iterator[list[str]]:
    """NPL Report MAT 58, Table 6(c)."""
    fit = fit_resonance(load_sweep(CAVITY))
    k = fit.coupling.value
    yield ["figure", "printed", "computed here", "95 % interval"]
    for name, printed, one in (("loaded Q", "708", fit.q_loaded), ("unloaded Q", "862", fit.q_unloaded)):
        yield [name, printed, f"{one.value:.1f}", f"{one.low:.1f} to {one.high:.1f}"]
    yield ["circle over the off-resonance reflection", "0.3573", f"{2.0 * k / (1.0 + k):.4f}", ""]
    f = fit.frequency
    yield [
        "loaded resonance",
        "3.652938 GHz",
        f"{f.value / 1e9:.6f} GHz",
        f"{f.low / 1e9:.6f} to {f.high / 1e9:.6f} GHz",
    ]


def bandwidth() -> Iterator[list[str]]:
    """Width of a match between equal SWR, over f0/Q0."""
    yield ["SWR", "(s − 1)/√s", "computed here"]
    for ratio in (1.5, 2.0, 2.618034, 3.0):
        found = float(matched_bandwidth(14.2e6, unloaded_q=1000.0, ratio=ratio)) / 14.2e3
        yield [f"{ratio:.4g}", f"{(ratio - 1.0) / ratio**0.5:.6f}", f"{found:.6f}"]


def draw_monotone() -> str:
    """RPN 14 by the tuning table's curve and by an ordinary spline."""
    at = np.linspace(X[0], X[-1], 240)
    ours, spline = Monotone(X, Y), CubicSpline(X, Y)
    curves = (
        Curve(name="the tuning table's curve", x=at, y=np.array([ours.at(float(x)) for x in at])),
        Curve(name="an ordinary cubic spline", x=at, y=np.asarray(spline(at))),
        Curve(name="RPN 14", x=RPN_14[:, 0], y=RPN_14[:, 1], is_printed=True),
    )
    title = "A curve that must not turn back"
    return Chart(title=title, across="x", up="y", curves=curves, low=-0.1, high=1.4, names_left=True).drawn()


TABLES: dict[str, Table] = {"cavity": cavity, "bandwidth": bandwidth}
PICTURES = {"monotone": draw_monotone}
