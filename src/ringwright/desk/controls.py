# SPDX-License-Identifier: BSD-3-Clause
"""What a person may drag or choose on a page: keys of the design file, with handy ranges.

The ranges are what small rings are built of, common practice, no source; what is allowed is the reader's affair.
"""

from dataclasses import dataclass

from ringwright.antenna.design import (
    ConductorKind,
    CouplingKind,
    CouplingPlace,
    CouplingShape,
    FeedSide,
    RingShape,
)
from ringwright.antenna.design_file.models import (
    BAND_NAMES,
    CAPACITOR_KINDS,
    LAWS,
    OUTSIDES,
    PLANES,
)
from ringwright.antenna.earths import EARTHS, FREE_SPACE
from ringwright.antenna.materials import MATERIALS
from ringwright.antenna.modes import MODE_FACTORS


@dataclass(frozen=True, slots=True, kw_only=True)
class Slider:
    """A number from `low` to `high` in `unit` (None: a bare one), with `digits` after the point."""

    key: str
    label: str
    unit: str | None
    low: float
    high: float
    digits: int = 0
    is_logarithmic: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A key with a fixed set of words; `is_multiple` where its value is a list of them."""

    key: str
    label: str
    options: tuple[str, ...]
    is_multiple: bool = False


SLIDERS = (
    Slider(key="ring.perimeter", label="perimeter", unit="m", low=0.8, high=12.0, digits=2, is_logarithmic=True),
    Slider(key="ring.conductor.diameter", label="tube", unit="mm", low=2.0, high=60.0, digits=1),
    Slider(key="site.height", label="height", unit="m", low=0.1, high=20.0, digits=2, is_logarithmic=True),
    Slider(key="coupling.diameter", label="coupling", unit="m", low=0.05, high=1.0, digits=3, is_logarithmic=True),
    Slider(key="coupling.squash", label="squash", unit=None, low=0.3, high=3.0, digits=2, is_logarithmic=True),
    Slider(key="coupling.clearance", label="clearance", unit="mm", low=2.0, high=200.0, digits=0, is_logarithmic=True),
    Slider(key="coupling.conductor.diameter", label="coupling wire", unit="mm", low=1.0, high=20.0, digits=1),
    Slider(key="coupling.tap_at", label="tap at", unit="m", low=0.05, high=3.0, digits=3, is_logarithmic=True),
    Slider(key="coupling.turns", label="primary", unit=None, low=1.0, high=60.0),
    Slider(key="coupling.passes", label="passes of the ring", unit=None, low=1.0, high=5.0),
    Slider(key="coupling.inductance_factor", label="one turn's inductance", unit="uH", low=0.02, high=20.0, digits=2,
           is_logarithmic=True),
    Slider(key="coupling.core_q", label="core's Q", unit=None, low=0.1, high=300.0, digits=1, is_logarithmic=True),
    Slider(key="capacitor.minimum", label="minimum", unit="pF", low=2.0, high=100.0, digits=1),
    Slider(key="capacitor.maximum", label="maximum", unit="pF", low=20.0, high=2000.0, is_logarithmic=True),
    Slider(key="capacitor.stray", label="stray", unit="pF", low=0.0, high=30.0, digits=1),
    Slider(key="capacitor.q", label="capacitor Q", unit=None, low=100.0, high=20_000.0, is_logarithmic=True),
    Slider(key="capacitor.rated_voltage", label="rated voltage", unit="kV", low=0.5, high=30.0, digits=1,
           is_logarithmic=True),
    Slider(key="capacitor.fixed", label="fixed, parallel", unit="pF", low=0.0, high=1000.0),
    Slider(key="capacitor.series", label="fixed, in series", unit="pF", low=5.0, high=5000.0, is_logarithmic=True),
    Slider(key="capacitor.contact_resistance", label="rotor contact", unit="mohm", low=0.0, high=50.0, digits=1),
    Slider(key="drive.reduction", label="reduction", unit=None, low=1.0, high=500.0, digits=1, is_logarithmic=True),
    Slider(key="drive.microsteps", label="microsteps", unit=None, low=1.0, high=32.0),
    Slider(key="drive.steps_per_turn", label="steps a turn", unit=None, low=20.0, high=400.0),
    Slider(key="drive.backlash", label="play", unit="deg", low=0.0, high=10.0, digits=2),
    Slider(key="drive.windup", label="twist", unit="deg", low=0.0, high=10.0, digits=2),
    Slider(key="ring.joints", label="joints", unit=None, low=0.0, high=32.0),
    Slider(key="ring.joint_resistance", label="each joint", unit="mohm", low=0.01, high=20.0, digits=2,
           is_logarithmic=True),
    Slider(key="power", label="power", unit="W", low=1.0, high=1500.0, is_logarithmic=True),
    Slider(key="transmit_share", label="transmitting", unit=None, low=0.05, high=1.0, digits=2),
    Slider(key="site.turn", label="turned", unit="deg", low=-180.0, high=180.0),
    Slider(key="site.x_bearing", label="x points to", unit="deg", low=0.0, high=360.0),
    Slider(key="site.conductivity", label="conductivity", unit="mS/m", low=0.1, high=5000.0, digits=1,
           is_logarithmic=True),
    Slider(key="site.permittivity", label="permittivity", unit=None, low=1.0, high=80.0),
    Slider(key="feedline.choke", label="choke", unit="kohm", low=0.1, high=20.0, digits=1, is_logarithmic=True),
)  # fmt: skip

_CURVED = tuple(shape.value for shape in RingShape if shape is not RingShape.POLYGON)

CHOICES = (
    Choice(key="bands", label="bands", options=BAND_NAMES, is_multiple=True),
    Choice(key="ring.shape", label="shape", options=_CURVED),
    Choice(key="ring.plane", label="plane", options=PLANES),
    Choice(key="ring.gap_at", label="gap", options=("top", "bottom")),
    Choice(key="ring.conductor.kind", label="conductor", options=tuple(kind.value for kind in ConductorKind)),
    Choice(key="ring.conductor.material", label="metal", options=tuple(MATERIALS)),
    Choice(key="coupling.kind", label="kind", options=tuple(kind.value for kind in CouplingKind)),
    Choice(key="coupling.shape", label="coupling shape", options=tuple(s.value for s in CouplingShape)),
    Choice(key="coupling.at", label="coupling at", options=tuple(place.value for place in CouplingPlace)),
    Choice(key="coupling.feed_at", label="feed at", options=tuple(side.value for side in FeedSide)),
    Choice(key="capacitor.kind", label="capacitor", options=CAPACITOR_KINDS),
    Choice(key="capacitor.law", label="law", options=LAWS),
    Choice(key="site.earth", label="earth", options=(FREE_SPACE, *EARTHS)),
    Choice(key="feedline.outside", label="cable's outside", options=OUTSIDES),
    Choice(key="mode", label="mode", options=tuple(MODE_FACTORS)),
)
