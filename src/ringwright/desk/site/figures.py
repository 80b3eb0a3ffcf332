# SPDX-License-Identifier: BSD-3-Clause
"""The figures of a site: what each number beside the picture is, where it comes from, how far it holds.

Keys are paths in the keep-out document below a band (`by_limit`, `people`) and in the parts of a site's picture.
"""

from collections.abc import Mapping
from types import MappingProxyType

from ringwright.antenna.figures.directions import DIRECTION_FIGURES
from ringwright.antenna.figures.figure import DECIBEL, NUMBER, WATT, WORD, Figure, Scale
from ringwright.antenna.figures.sources import SOLUTION
from ringwright.safety.keepout import ADVISED_POWER, ADVISED_STEP, GROUND_FACTOR

METRE = Scale("m", "m", 1.0)
MILLISIEMENS_PER_METRE = Scale("S/m", "mS/m", 1e3)
VOLT_PER_METRE = Scale("V/m", "V/m", 1.0)
MILLIAMPERE_PER_METRE = Scale("A/m", "mA/m", 1e3)

_FIELD = ("ring", "coupling", "site", "power", "mode", "transmit_share")
_NEAR = SOLUTION + "; near fields of the same currents, over real earth"
_HOLDS = (
    "for the site as described, from 0.1 m off conductors to 100 m; people, walls and cables that are not in it "
    "change it"
)
_LIMIT = "the limit's own table, named beside it"
_TOLERANCES = "the stated tolerances, docs/explanation/ranges.md"


def _distance(name: str, label: str, where: str) -> Figure:
    return Figure(
        key=f"by_limit.distance_{name}_m",
        label=label,
        scale=METRE,
        digits=2,
        definition=f"From the ring's centre to the last point {where} where the rms of the whole vector exceeds the "
        "limit, E or H, whichever reaches farther. No margin is in it.",
        formula="max r with E(r) > E_limit or H(r) > H_limit; averaged limits see power x mode factor x transmit "
        "share, instantaneous ones the peak envelope power",
        inputs=_FIELD,
        source=f"{_NEAR}; {_LIMIT}",
        validity=_HOLDS,
    )


_FIGURES = (
    Figure(
        key="by_limit.distance_advised_m",
        label="keep away",
        scale=METRE,
        digits=1,
        definition="The distance to keep from the ring's centre in any direction: that of the limit at "
        f"{ADVISED_POWER:g} times the power (3 dB) at the unfavourable end of the stated tolerances, rounded up to "
        f"{ADVISED_STEP:g} m.",
        formula=f"distance_max at {ADVISED_POWER:g} x power x (I_gap at 90 %/I_gap)^2, upwards to {ADVISED_STEP:g} m",
        inputs=_FIELD,
        source=f"{_NEAR}; {_LIMIT}; the margin is common practice, no source",
        validity=_HOLDS,
    ),
    _distance("axis", "along the axis", "along the ring's axis, on its worse side,"),
    _distance("plane", "in the plane", "along the horizontal in the ring's plane, on its worse side,"),
    _distance("above", "above", "straight up"),
    _distance("below", "below", "straight down to the earth"),
    _distance("max", "in any direction", "in any direction"),
    Figure(
        key="by_limit.far_field_formula_m",
        label="far-field formula",
        scale=METRE,
        digits=2,
        definition="What the formula for distant points would say. It stands here to be compared, not to be used.",
        formula=f"r = sqrt({GROUND_FACTOR:g} EIRP/(4 pi S)), S the lesser of E_limit^2/eta and H_limit^2 eta",
        inputs=("limits.eirp_w", "mode", "transmit_share"),
        source="FCC OET Bulletin 65, edition 97-01, with its factor for reflection from the ground",
        validity="not valid here: it holds where the distance is large against the ring and against a sixth of the "
        "wavelength, and misses the field stored around the ring",
    ),
    Figure(
        key="by_limit.governed_by",
        label="set by",
        scale=WORD,
        digits=0,
        definition="Which field reaches farther over its limit, E (electric) or H (magnetic).",
        formula="the greater of E/E_limit and H/H_limit at the farthest point",
        inputs=_FIELD,
        source=_NEAR,
        validity=_HOLDS,
    ),
    Figure(
        key="by_limit.e_limit_v_per_m",
        label="limit of E, rms",
        scale=VOLT_PER_METRE,
        digits=3,
        definition="Electric field strength that just meets the limit at this frequency.",
        formula="as printed",
        inputs=("frequency_hz",),
        source=_LIMIT,
        validity="laws change; the licence's conditions and local codes decide",
    ),
    Figure(
        key="by_limit.h_limit_a_per_m",
        label="limit of H, rms",
        scale=MILLIAMPERE_PER_METRE,
        digits=3,
        definition="Magnetic field strength that just meets the limit at this frequency.",
        formula="as printed",
        inputs=("frequency_hz",),
        source=_LIMIT,
        validity="laws change; the licence's conditions and local codes decide",
    ),
    Figure(
        key="average_power_w",
        label="average power",
        scale=WATT,
        digits=3,
        definition="Mean power at the feed over the averaging time, which averaged limits see.",
        formula="power x mode factor x transmit share",
        inputs=("power", "mode", "transmit_share"),
        source="mode factors: FCC OET Bulletin 65, Supplement B, edition 97-01, Table 2",
        validity="instantaneous limits see the peak envelope power instead",
    ),
    Figure(
        key="people.margin_db",
        label="margin",
        scale=DECIBEL,
        digits=1,
        definition="By how much the field at this spot lies below the limit, the worse of E and H; below 0 it exceeds.",
        formula="-20 log10 max(E/E_limit, H/H_limit)",
        inputs=(*_FIELD, "site.people"),
        source=f"{_NEAR}; {_LIMIT}",
        validity=_HOLDS + "; at that spot, not beside it",
    ),
    Figure(
        key="people.margin_unfavourable_db",
        label="margin, unfavourable",
        scale=DECIBEL,
        digits=1,
        definition="The margin with the fields at the unfavourable end of their range: it tells who exceeds.",
        formula="margin_db - 20 log10(I_gap at 90 %/I_gap)",
        inputs=(*_FIELD, "site.people", "tolerance"),
        source=_TOLERANCES,
        validity=_HOLDS + "; all fields taken to grow with the current through the gap",
    ),
    Figure(
        key="people.power_allowed_w",
        label="power that just passes here",
        scale=WATT,
        digits=3,
        definition="Peak envelope power at which this spot would just meet the limit, all else equal.",
        formula="power/max(E/E_limit, H/H_limit)^2",
        inputs=(*_FIELD, "site.people"),
        source=f"{_NEAR}; {_LIMIT}",
        validity=_HOLDS,
    ),
    Figure(
        key="people.power_allowed_unfavourable_w",
        label="power that passes here, unfavourable",
        scale=WATT,
        digits=3,
        definition="Peak envelope power that passes here with the fields at the unfavourable end of their range.",
        formula="power_allowed_w/(I_gap at 90 %/I_gap)^2",
        inputs=(*_FIELD, "site.people", "tolerance"),
        source=_TOLERANCES,
        validity=_HOLDS + "; all fields taken to grow with the current through the gap",
    ),
    Figure(
        key="unfavourable_factor",
        label="fields at the unfavourable end",
        scale=NUMBER,
        digits=3,
        definition="How many times as strong the fields are with the gap's current at the upper end of its range.",
        formula="I_gap at 90 %/I_gap, not below 1",
        inputs=("tuning.capacitor_current_rms_a", "tolerance"),
        source=_TOLERANCES,
        validity="what another earth does to the fields' shape close by is not in it",
    ),
    Figure(
        key="earth.conductivity_s_per_m",
        label="conductivity of the earth",
        scale=MILLISIEMENS_PER_METRE,
        digits=3,
        definition="How well the soil conducts, to the depth that waves of this length reach.",
        formula="as stated, or that of the named earth",
        inputs=("site.earth", "site.conductivity"),
        source="named beside it",
        validity="soil changes with place and weather; the range of a prediction has that in it",
    ),
    Figure(
        key="earth.permittivity",
        label="relative permittivity of the earth",
        scale=NUMBER,
        digits=3,
        definition="Permittivity of the soil over that of empty space.",
        formula="as stated, or that of the named earth",
        inputs=("site.earth", "site.permittivity"),
        source="named beside it",
        validity="soil changes with place and weather; the range of a prediction has that in it",
    ),
)

SITE_FIGURES: Mapping[str, Figure] = MappingProxyType(
    {figure.key: figure for figure in (*_FIGURES, *DIRECTION_FIGURES.values())}
)
"""By key; those of the directions document are among them."""
