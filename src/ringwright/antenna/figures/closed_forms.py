# SPDX-License-Identifier: BSD-3-Clause
"""Figures of the cross-check: closed forms, each with the size up to which it holds."""

from ringwright.antenna.figures.figure import (
    KILOHERTZ,
    KILOVOLT,
    MICROHENRY,
    MILLIMETRE,
    MILLIOHM,
    NUMBER,
    PER_CENT,
    PICOFARAD,
    Figure,
)
from ringwright.antenna.figures.sources import EXACT, POZAR, ROUND_WIRE, YAGHJIAN_BEST
from ringwright.physics.small_loop import GAP_FIT_LIMIT, LINE_LIMIT, LUMPED_LIMIT, SMALL_LOOP_LIMIT

_ROSA_GROVER = "E. B. Rosa, F. W. Grover, Bull. Bureau of Standards 8, 1-237, 1912 (Sci. Paper 169)"
_GROVER = "F. W. Grover, Sci. Papers Bureau of Standards 18, 737-762, 1922 (no. 468)"
_BALANIS = "C. A. Balanis, Antenna Theory: Analysis and Design, 4th ed., Wiley, 2016, sec. 5.2"
_AWADALLA_SHARSHAR = (
    "K. H. Awadalla, A. A. Sharshar, IEEE Trans. Antennas Propag. 32, 1248-1251, 1984, "
    "doi 10.1109/TAP.1984.1143239"
)
_ONE_CURRENT = (
    f"one uniform current: 3 % low at {SMALL_LOOP_LIMIT:g}, 6 % at 0.07, "
    "21 % at 0.14 wavelengths of perimeter"
)
_ONE_TURN = "one turn; circle or regular polygon, conductor up to a fifth of radius or side"
_SUM = "cross_check.radiation_resistance_small_loop_ohm", "cross_check.ring_resistance_skin_ohm"
_TOTAL = "R = R_rad + R_skin + joints + capacitor's"

CLOSED_FORM_FIGURES = (
    Figure(
        key="cross_check.perimeter_wavelengths",
        label="perimeter in wavelengths",
        scale=NUMBER,
        digits=4,
        definition="Perimeter of one turn over the wavelength: every formula of this group has its limit in it.",
        formula="perimeter f/c",
        inputs=("ring.perimeter", "frequency_hz"),
        source="definition of the wavelength",
        validity=EXACT,
    ),
    Figure(
        key="cross_check.inductance_h",
        label="inductance, low frequency",
        scale=MICROHENRY,
        digits=4,
        definition="Inductance of the ring at low radio frequency, all current on the surface; none for other shapes.",
        formula="circle: mu0 R [(1 + q) log - 2 - q (log - 1/2)^2], q = a^2/4R^2, log = ln(8R/a); N sides s: "
        "(mu0/2 pi) N s [ln(s/a) + c_N]",
        inputs=("ring.shape", "ring.perimeter", "ring.conductor"),
        source=f"circle: {_ROSA_GROVER}, less an own term for crowding; polygon: {_GROVER}",
        validity=f"{_ONE_TURN}; 0.1 % for a circle, 0.5 % for the corners of a polygon",
    ),
    Figure(
        key="cross_check.tuning_capacitance_lumped_f",
        label="capacitance, inductance alone",
        scale=PICOFARAD,
        digits=4,
        definition="Capacitance that would tune the ring if it were an inductance and nothing else.",
        formula="1/((2 pi f)^2 L)",
        inputs=("frequency_hz", "cross_check.inductance_h"),
        source="definition of resonance",
        validity=f"{_ONE_TURN}; 3 % too large at {LUMPED_LIMIT:g} wavelengths of perimeter",
        limit=LUMPED_LIMIT,
    ),
    Figure(
        key="cross_check.tuning_capacitance_line_f",
        label="capacitance, ring as a line",
        scale=PICOFARAD,
        digits=4,
        definition="Capacitance that would tune the ring if it were a shorted line folded open.",
        formula="1/(2 pi f Z0 tan(pi p/lambda)), Z0 = 2 c L/p, p the perimeter",
        inputs=("frequency_hz", "ring.perimeter", "cross_check.inductance_h"),
        source=_AWADALLA_SHARSHAR,
        validity=f"{_ONE_TURN}; 3 % at {LINE_LIMIT:g} wavelengths of perimeter",
        limit=LINE_LIMIT,
    ),
    Figure(
        key="cross_check.radiation_resistance_small_loop_ohm",
        label="radiation resistance, small loop",
        scale=MILLIOHM,
        digits=3,
        definition="Radiation resistance of a small loop of this area and number of turns with one uniform current.",
        formula="(eta0/6 pi) k^4 (turns x area)^2",
        inputs=("ring", "frequency_hz"),
        source=_BALANIS,
        validity=_ONE_CURRENT,
        limit=SMALL_LOOP_LIMIT,
    ),
    Figure(
        key="cross_check.radiation_resistance_gap_fit_ohm",
        label="radiation resistance, fit at the gap",
        scale=MILLIOHM,
        digits=3,
        definition="Radiation resistance at the gap of a circle with its true current, by a published fit.",
        formula="1.793 tan(pi p/lambda)^3.928 ohm",
        inputs=("ring.perimeter", "frequency_hz"),
        source=_AWADALLA_SHARSHAR + " (constants from memory)",
        validity=f"circle of one turn; 5 % from 0.05 to 0.15 wavelengths, none above {GAP_FIT_LIMIT:g}",
        limit=0.15,
    ),
    Figure(
        key="cross_check.ring_resistance_skin_ohm",
        label="ring resistance, skin effect",
        scale=MILLIOHM,
        digits=3,
        definition="Resistance of the ring's conductor, stretched straight, with the same current all along.",
        formula="Re z x perimeter x turns x turn_crowding, z the internal impedance per metre",
        inputs=(
            "ring.conductor",
            "ring.perimeter",
            "ring.turns",
            "cross_check.turn_crowding",
            "frequency_hz",
        ),
        source=ROUND_WIRE,
        validity="3 % low at 0.06, 9 % at 0.1 wavelengths of perimeter: the true current is larger opposite the gap",
        limit=0.06,
    ),
    Figure(
        key="cross_check.ring_crowding",
        label="crowding to the inner side",
        scale=NUMBER,
        digits=4,
        definition="Factor by which bending the conductor into this circle raises its loss, which no figure above has.",
        formula="1 + (a/R)^2 l (l/2 - 1), l = ln(8R/a) - 1/2",
        inputs=("ring.perimeter", "ring.conductor"),
        source="own derivation, checked against a closed-surface solution of the torus",
        validity="circle of one turn of tube or solid wire, thick against the skin depth",
    ),
    Figure(
        key="cross_check.turn_crowding",
        label="crowding of close turns",
        scale=NUMBER,
        digits=4,
        definition="Factor by which close turns raise the loss of each other's conductor, the mean over all turns, "
        "which every figure of the ring's loss has in it. None for one turn.",
        formula="1 + (2/N) sum over turns and m of (m beta_m)^2, beta the multipoles of equal currents in a flat row",
        inputs=("ring.turns", "ring.turn_spacing", "ring.conductor"),
        source="own solution, src/ringwright/physics/proximity.py, checked against the table of G. S. Smith, J. Appl. "
        "Phys. 43, 2196-2203, 1972, doi 10.1063/1.1661474",
        validity="round conductors thick against the skin, the row short against the ring's radius; a strip counts "
        "as a tube of half its width, which for two turns edge to edge is up to 6 % of the ring's loss too high",
    ),
    Figure(
        key="cross_check.efficiency_lumped_pct",
        label="efficiency by closed forms",
        scale=PER_CENT,
        digits=3,
        definition="Free-space efficiency by the closed forms alone.",
        formula=f"100 R_rad/R, {_TOTAL}",
        inputs=(*_SUM, "ring.joints", "ring.joint_resistance", "capacitor"),
        source=_BALANIS,
        validity=f"{_ONE_TURN}; {_ONE_CURRENT}",
        limit=SMALL_LOOP_LIMIT,
    ),
    Figure(
        key="cross_check.q_unloaded_lumped",
        label="unloaded Q by closed forms",
        scale=NUMBER,
        digits=4,
        definition="Unloaded Q in free space by the closed forms alone.",
        formula=f"2 pi f L/R, {_TOTAL}",
        inputs=(*_SUM, "cross_check.inductance_h", "ring.joints", "ring.joint_resistance", "capacitor"),
        source=f"{POZAR}, sec. 6.1",
        validity=f"{_ONE_TURN}; {_ONE_CURRENT}",
        limit=SMALL_LOOP_LIMIT,
    ),
    Figure(
        key="cross_check.bandwidth_swr2_matched_hz",
        label="width at SWR 2 of a perfect match",
        scale=KILOHERTZ,
        digits=3,
        definition="Width below SWR 2 that a perfectly matched ring of that Q would have.",
        formula="f/(sqrt(2) Q)",
        inputs=("frequency_hz", "cross_check.q_unloaded_lumped"),
        source=YAGHJIAN_BEST,
        validity=f"{_ONE_TURN}; a perfect match; {_ONE_CURRENT}",
        limit=SMALL_LOOP_LIMIT,
    ),
    Figure(
        key="cross_check.capacitor_voltage_peak_lumped_v",
        label="capacitor voltage by closed forms, peak",
        scale=KILOVOLT,
        digits=3,
        definition="Peak voltage across the gap at the design's power by the closed forms alone.",
        formula=f"2 pi f L sqrt(2 power/R), {_TOTAL}",
        inputs=("power", *_SUM, "cross_check.inductance_h"),
        source="Ohm's law in a series circuit",
        validity=f"{_ONE_TURN}; {_ONE_CURRENT}",
        limit=SMALL_LOOP_LIMIT,
    ),
    Figure(
        key="cross_check.q_over_efficiency_least",
        label="least Q over efficiency",
        scale=NUMBER,
        digits=4,
        definition="Lower bound of unloaded Q over efficiency of any loop in the sphere that just holds the ring.",
        formula="1/x^3 + 1/x + the energy inside, x = k r; three times 1/x^3 for a small ring",
        inputs=("ring", "frequency_hz"),
        source="H. L. Thal, IEEE Trans. Antennas Propag. 54, 2757-2763, 2006, doi 10.1109/TAP.2006.882194",
        validity="k r up to 1, none above; a ring below it has been computed or measured wrongly",
    ),
    Figure(
        key="cross_check.coupling_diameter_one_fifth_m",
        label="one fifth of the ring's diameter",
        scale=MILLIMETRE,
        digits=3,
        definition="Coupling loop by the one-fifth rule, the ring's diameter taken as perimeter over pi.",
        formula="perimeter/(5 pi)",
        inputs=("ring.perimeter",),
        source="common practice, no source",
        validity="a centred coupling loop or a lossy ring; 15 to 30 mm from the conductor a tenth to a fifth is right",
    ),
)
