# SPDX-License-Identifier: BSD-3-Clause
"""A ring whose tolerances all matter, and designs drawn from them as their definition says."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from ringwright.antenna.design import Design, Tolerance
from tests.antenna.builds import AVERAGE, at, built

CERTAIN = Tolerance(capacitor_q=0.0, joint_resistance=0.0, earth=0.0)


def uncertain(*, tolerance: Tolerance | None = None, coupling: float = 0.2, **site: Any) -> Design:
    """On 30 m, 1 m above average earth unless `site` says otherwise."""
    return built(
        at(10.125e6),
        ring={"joints": 8, "joint_resistance": 2e-3},
        coupling={"diameter": coupling},
        capacitor={"esr": None, "q": 800.0, "rated_voltage": 3e3, "rated_current": 30.0},
        site={"earth": AVERAGE, "height": 1.0} | site,
        tolerance=tolerance or Tolerance(),
    )


def moved(
    design: Design, *, q: float = 0.0, joint: float = 0.0, sigma: float = 0.0, eps: float = 0.0
) -> Design:
    """The design with standard scores of its uncertain inputs, and certain itself."""
    spread, site, ring, capacitor = design.tolerance, design.site, design.ring, design.capacitor
    if site.earth is not None:
        there = replace(
            site.earth,
            conductivity=site.earth.conductivity * float(np.exp(spread.earth * sigma)),
            permittivity=float(np.clip(site.earth.permittivity * np.exp(spread.earth * eps), 1.0, 81.0)),
        )
        site = replace(site, earth=there)
    better = float(np.exp(spread.capacitor_q * q))
    return replace(
        design,
        capacitor=replace(
            capacitor,
            q=None if capacitor.q is None else capacitor.q * better,
            esr=None if capacitor.esr is None else capacitor.esr / better,
        ),
        ring=replace(
            ring, joint_resistance=ring.joint_resistance * float(np.exp(spread.joint_resistance * joint))
        ),
        site=site,
        tolerance=CERTAIN,
    )


def drawn(design: Design, count: int, rng: np.random.Generator) -> Iterator[Design]:
    """Independent, lognormal, the tolerances standard deviations of the natural logarithm."""
    for q, joint, sigma, eps in rng.standard_normal((count, 4)):
        yield moved(design, q=q, joint=joint, sigma=sigma, eps=eps)
