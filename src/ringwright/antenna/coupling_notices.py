# SPDX-License-Identifier: BSD-3-Clause
"""What the person should know about a tapped or transformer coupling."""

from collections.abc import Iterable

from ringwright.antenna.design import Core, CouplingKind, Design
from ringwright.antenna.prediction import BandPrediction, Notice

WARM = 1.0
"""Average watts in a ferrite core from which it grows noticeably warm: a core of some 30 mm, common practice."""


def coupling_notices(design: Design, bands: Iterable[BandPrediction]) -> Iterable[Notice]:
    """Joints of an arm; heat of a core, which limits what it takes."""
    if design.coupling.kind is CouplingKind.TAPPED:
        yield Notice(
            code="tap-is-a-joint",
            text="The arm's end and the bond of the cable's screen are joints on the ring's conductor: solder or braze "
            "them, or clamp them over a wide clean face. Their own resistance is not in these figures.",
        )
    if design.coupling.core is not None:
        yield _unseen(design.coupling.core)
        yield from _heat(design, bands)


def _unseen(core: Core) -> Notice:
    return Notice(
        code="core-small-signal",
        text=f"The core is taken as {core.inductance_factor * 1e9:.4g} nH for one turn with a Q of {core.q:.3g}, on "
        "every band and at every power. Saturation, the core's temperature and the winding's own loss and capacitance "
        "are not computed.",
    )


def _heat(design: Design, bands: Iterable[BandPrediction]) -> Iterable[Notice]:
    share = design.mode_factor * design.transmit_share
    hottest = max(bands, key=lambda band: band.watts_pct.coupling)
    watts = hottest.watts_pct.coupling / 100.0 * design.power
    if watts * share >= WARM:
        yield Notice(
            code="core-heats",
            text=f"The core takes {watts:.3g} W at {design.power:.4g} W, {watts * share:.3g} W on the average: a hot "
            "ferrite loses its permeability, detunes the ring and may crack. Feel it only with the transmitter off; "
            "take a larger core or less power.",
            band=hottest.band,
        )
