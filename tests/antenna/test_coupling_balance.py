# SPDX-License-Identifier: BSD-3-Clause
"""Conservation of energy for the tapped and the transformer coupling: far field, earth and heat are the accepted power.

As in test_power_balance: none of it is taken from the input. 0.1 % is promised, 0.03 % reached up to 0.14 wavelength of
wire. Near the ring's own resonance, which a core's leakage brings nearer, the conductors' loss to first order shows.
"""

import numpy as np
import pytest

from ringwright.antenna.design import Core, CouplingKind, Feedline, RingShape, SiteWire
from ringwright.antenna.earths import EARTHS
from tests.antenna.builds import AVERAGE, at, built
from tests.antenna.test_power_balance import ANY, REACHED, worst

TAPPED = {"kind": CouplingKind.TAPPED, "diameter": None, "tap_at": 0.3, "clearance": 0.03}
BANDS = (at(1.8e6), at(7.1e6), at(14.2e6))
PROMISED = 1e-3


def wound(**core):
    usual = {"inductance_factor": 1.1e-6, "q": 8.0, "primary_turns": 12, "coupling_factor": 0.97}
    return {
        "kind": CouplingKind.TRANSFORMER,
        "diameter": None,
        "conductor": None,
        "core": Core(**(usual | core)),
    }


KINDS = {
    "tapped": TAPPED,
    "tapped close and far": TAPPED | {"tap_at": 0.9, "clearance": 0.008},
    "transformer": wound(),
    "more core than ferrite": wound(q=0.5, inductance_factor=0.05e-6),
    "two passes, loose": wound(passes=2, coupling_factor=0.6, primary_turns=7, inductance_factor=0.2e-6),
}


def on(coupling, *, ground=AVERAGE, height=1.5, targets=BANDS, ring=None, metal=(), feedline=None):
    return built(
        *targets,
        ring=ring,
        coupling=coupling,
        capacitor=ANY,
        site={"earth": ground, "height": height, "metal": metal},
        feedline=feedline or Feedline(),
    )


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("ground", ["free space", "average", "sea water", "very dry ground"])
def test_on_every_ground(kind, ground):
    earth = None if ground == "free space" else EARTHS[ground].earth
    assert worst(on(KINDS[kind], ground=earth)) < REACHED
    assert worst(on(KINDS[kind], ground=earth, targets=(at(24.9e6),))) < PROMISED


@pytest.mark.parametrize("kind", ["tapped", "transformer"])
@pytest.mark.parametrize(
    ("ring", "height"),
    [
        ({"shape": RingShape.OCTAGON, "joints": 8, "joint_resistance": 1e-3}, 1.5),
        ({"tilt": np.pi / 2.0}, 0.3),
        ({"gap_angle": np.pi}, 0.1),
        ({"shape": RingShape.OVAL, "aspect": 1.5, "gap_angle": 0.6}, 1.0),
    ],
    ids=["octagon with joints", "lying", "gap below, low", "oval"],
)
def test_ring_of_every_kind(kind, ring, height):
    assert worst(on(KINDS[kind], ring=ring, height=height)) < REACHED


@pytest.mark.parametrize("kind", ["tapped", "transformer"])
def test_several_turns(kind):
    ring = {"turns": 2, "turn_spacing": 0.06, "perimeter": 2.0}
    assert worst(on(KINDS[kind], ring=ring, targets=BANDS[:2])) < REACHED


@pytest.mark.parametrize("kind", ["tapped", "transformer"])
@pytest.mark.parametrize("choke", [None, 2e3])
def test_outside_of_the_cable_and_a_railing(kind, choke):
    rail = SiteWire(
        kind="railing",
        start=(-2.0, 1.2, 0.9),
        end=(2.0, 1.2, 0.9),
        diameter=0.04,
        conductivity=7e6,
        mu_r=100.0,
    )
    feedline = Feedline(runs_down=True, choke=choke)
    assert worst(on(KINDS[kind], metal=(rail,), feedline=feedline, height=1.8)) < REACHED
