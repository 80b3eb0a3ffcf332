# SPDX-License-Identifier: BSD-3-Clause
"""What a right design file reads as. Expected numbers are the file's own text, converted by hand."""

import math
from pathlib import Path

import pytest

from ringwright.antenna.design import (
    ConductorKind,
    CouplingPlace,
    CouplingShape,
    Design,
    FeedSide,
    PersonKind,
    RingShape,
    SiteMesh,
    SiteWire,
    Target,
)
from ringwright.antenna.design_file import load_design, parse_design

EXAMPLE = Path(__file__).with_name("contract_example.toml")
LEAST = """
format = 1
name = "Least"
{top}
[ring]
{ring}
[coupling]
{coupling}
[capacitor]
minimum = "15 pF"
maximum = "250 pF"
{capacitor}
{rest}
"""


def design(
    *,
    top='bands = ["40m"]',
    ring='perimeter = "3.2 m"',
    coupling='diameter = "0.18 m"',
    capacitor="",
    rest="",
):
    text = LEAST.format(top=top, ring=ring, coupling=coupling, capacitor=capacitor, rest=rest)
    return parse_design(text, source="design.toml")


@pytest.fixture(scope="module")
def example():
    return load_design(EXAMPLE)


def test_example_targets_are_the_bands_of_region_1(example):
    assert example.name == "Terrace octagon"
    assert example.targets == (
        Target(band="60m", frequency=5_359_000.0, low=5_351_500.0, high=5_366_500.0),
        Target(band="40m", frequency=7_100_000.0, low=7_000_000.0, high=7_200_000.0),
        Target(band="30m", frequency=10_125_000.0, low=10_100_000.0, high=10_150_000.0),
    )


def test_example_power_and_averaging(example):
    assert (example.power, example.mode, example.mode_factor, example.transmit_share) == (
        25.0,
        "SSB voice",
        0.2,
        0.5,
    )
    assert example.region == 1


def test_example_ring(example):
    ring = example.ring
    assert (ring.shape, ring.perimeter, ring.turns) == (RingShape.OCTAGON, 4.4, 1)
    assert (ring.tilt, ring.gap_angle) == (0.0, 0.0)
    assert (ring.joints, ring.joint_resistance) == (8, 0.1e-3)
    conductor = ring.conductor
    assert (conductor.kind, conductor.diameter, conductor.wall) == (ConductorKind.TUBE, 0.022, 0.001)
    assert (conductor.material, conductor.conductivity) == ("water tube copper", 48e6)


def test_example_coupling(example):
    coupling = example.coupling
    assert (coupling.shape, coupling.diameter, coupling.squash) == (CouplingShape.CIRCLE, 0.15, 1.0)
    assert (coupling.place, coupling.clearance) == (CouplingPlace.OPPOSITE_GAP, 0.015)
    assert coupling.feed_side is FeedSide.FAR
    assert (coupling.conductor.kind, coupling.conductor.diameter) == (ConductorKind.SOLID, 0.006)
    assert coupling.conductor.conductivity == 58e6


def test_example_capacitor_and_drive(example):
    capacitor = example.capacitor
    assert (capacitor.kind, capacitor.minimum, capacitor.maximum, capacitor.stray) == (
        "vacuum",
        8e-12,
        500e-12,
        4e-12,
    )
    assert (capacitor.q, capacitor.esr, capacitor.rated_voltage) == (3000.0, None, 5000.0)
    assert (capacitor.travel, capacitor.travel_unit, capacitor.law) == (16.0, "turns", ())
    drive = example.drive
    assert (drive.steps_per_turn, drive.microsteps, drive.reduction) == (200, 8, 5.0)
    assert drive.backlash == pytest.approx(0.4 * math.pi / 180, rel=1e-15, abs=0)
    assert drive.windup == pytest.approx(0.6 * math.pi / 180, rel=1e-15, abs=0)


def test_example_feedline(example):
    feedline = example.feedline
    assert (feedline.impedance, feedline.length, feedline.choke) == (50.0, 10.0, 2000.0)
    assert (feedline.loss, feedline.loss_frequency) == (0.048, 10e6)


def test_example_site(example):
    site = example.site
    assert (site.height, site.turn, site.locator, site.altitude) == (1.8, 0.0, "JJ00", 50.0)
    assert site.x_bearing == pytest.approx(math.pi / 2, rel=1e-15, abs=0)
    assert (site.earth.name, site.earth.conductivity, site.earth.permittivity) == ("average", 5e-3, 13.0)
    (railing,) = site.metal
    assert isinstance(railing, SiteWire)
    assert (railing.start, railing.end, railing.diameter) == ((-2.0, 1.2, 0.9), (2.0, 1.2, 0.9), 0.04)
    (neighbour,) = site.people
    assert (neighbour.name, neighbour.at, neighbour.kind) == (
        "neighbour's window",
        (3.5, 1.0, 2.0),
        PersonKind.PUBLIC,
    )


def test_example_tolerance(example):
    tolerance = example.tolerance
    assert (tolerance.capacitor_q, tolerance.joint_resistance, tolerance.earth) == (0.3, 0.5, 0.5)


def test_example_leaves_only_keys_open_that_it_does_not_show(example):
    assert [note.split(" = ")[0] for note in example.defaults_used] == [
        "ring.conductor.temperature",
        "coupling.conductor.temperature",
        "capacitor.fixed",
        "drive.speed",
        "drive.motor_torque",
        "drive.shaft_torque",
        "drive.efficiency",
        "feedline.outside",
    ]


def test_design_load_reads_a_file():
    assert Design.load(EXAMPLE) == load_design(EXAMPLE)
    assert Design.load(str(EXAMPLE)) == load_design(EXAMPLE)


def test_line_ends_and_byte_order_mark_of_other_systems_do_not_matter(tmp_path):
    copy = tmp_path / "copy.toml"
    copy.write_bytes(b"\xef\xbb\xbf" + EXAMPLE.read_bytes().replace(b"\n", b"\r\n"))
    assert load_design(copy) == load_design(EXAMPLE)


def test_the_least_file_has_its_defaults_stated_with_reasons():
    notes = dict(note.split(" = ", 1) for note in design().defaults_used)
    assert notes["power"].startswith("100 W (")
    assert notes["mode"].startswith("carrier (")
    assert notes["ring.shape"].startswith("circle (")
    assert notes["ring.conductor.material"].startswith("water tube copper (")
    assert notes["coupling.clearance"].startswith("15 mm (")
    assert notes["capacitor.q"].startswith("500 (")
    assert notes["site.earth"].startswith("free space (")
    assert all(note.endswith(")") for note in notes.values())


def test_without_a_site_the_ring_is_in_free_space_and_with_one_over_average_earth():
    assert design().site.earth is None
    over_earth = design(rest='[site]\nheight = "2 m"')
    assert over_earth.site.earth is not None
    assert over_earth.site.earth.name == "average"
    assert any(note.startswith("site.earth = average (") for note in over_earth.defaults_used)
    assert design(rest='[site]\nearth = "free space"').site.earth is None


def test_an_earth_may_be_stated_by_its_constants():
    earth = design(rest='[site]\nconductivity = "8 mS/m"\npermittivity = 17').site.earth
    assert earth is not None
    assert (earth.conductivity, earth.permittivity, earth.perfect) == (8e-3, 17.0, False)


def test_perfect_earth_is_a_mirror():
    earth = design(rest='[site]\nearth = "perfect earth"').site.earth
    assert earth is not None
    assert earth.perfect


def test_tune_to_knows_the_band_it_lies_in():
    read = design(top='[[tune_to]]\nfrequency = "7.05 MHz"\n[[tune_to]]\nfrequency = "6 MHz"')
    assert read.targets == (
        Target(band="40m", frequency=7.05e6, low=7.05e6, high=7.05e6),
        Target(band=None, frequency=6e6, low=6e6, high=6e6),
    )


def test_bands_and_tune_to_stand_side_by_side():
    read = design(top='bands = ["40m"]\ntune_to = [{ frequency = "10.12 MHz" }]')
    assert [target.frequency for target in read.targets] == [7.1e6, 10.12e6]


def test_duty_is_mode_factor_times_transmit_share():
    read = design(top='bands = ["40m"]\nduty = 0.2')
    assert read.mode_factor * read.transmit_share == 0.2


@pytest.mark.parametrize(
    ("ring", "perimeter"),
    [
        ('diameter = "1 m"', math.pi),
        ('shape = "square"\nside = "0.8 m"', 3.2),
        ('shape = "square"\ndiameter = "0.8 m"', 3.2),  # from flat to flat
        ('shape = "hexagon"\ndiameter = "1 m"', 2 * math.sqrt(3)),
        ('shape = "octagon"\ndiameter = "1 m"', 8 * (math.sqrt(2) - 1)),
        ('shape = "octagon"\nside = "0.4 m"', 3.2),
        ('shape = "polygon"\npoints = [["0 m", "0 m"], ["0.8 m", "0 m"], ["0.8 m", "0.6 m"]]', 2.4),
        ('perimeter = "10 ft"', 3.048),
    ],
)
def test_perimeter_follows_from_the_size_given(ring, perimeter):
    assert design(ring=ring, coupling='diameter = "0.1 m"').ring.perimeter == pytest.approx(
        perimeter, rel=1e-14, abs=0
    )


@pytest.mark.parametrize(
    ("line", "tilt"),
    [('plane = "horizontal"', math.pi / 2), ('plane = "vertical"', 0.0), ('tilt = "30 deg"', math.pi / 6)],
)
def test_plane_or_tilt_says_how_the_ring_leans(line, tilt):
    assert design(ring=f'perimeter = "3 m"\n{line}').ring.tilt == pytest.approx(tilt, rel=1e-15, abs=0)


@pytest.mark.parametrize(("text", "angle"), [("top", 0.0), ("bottom", math.pi), ("90 deg", math.pi / 2)])
def test_gap_sits_at_a_named_place_or_an_angle(text, angle):
    assert design(ring=f'perimeter = "3 m"\ngap_at = "{text}"').ring.gap_angle == pytest.approx(
        angle, rel=1e-15, abs=0
    )


def test_several_turns_have_spacing_and_leads():
    ring = design(ring='perimeter = "2.4 m"\nturns = 2\nturn_spacing = "60 mm"').ring
    assert (ring.turns, ring.turn_spacing, ring.turn_lead) == (2, 0.06, 0.08)


@pytest.mark.parametrize(
    ("lines", "kind", "radius"),
    [
        ('kind = "tube"\ndiameter = "7/8 in"\nwall = "0.045 in"', ConductorKind.TUBE, 0.0111125),
        ('kind = "solid"\ndiameter = "10 mm"', ConductorKind.SOLID, 0.005),
        ('kind = "strip"\nwidth = "40 mm"\nthickness = "0.5 mm"', ConductorKind.STRIP, 0.010),
        ('kind = "braid"\ndiameter = "9 mm"\nbraid_factor = 2.5', ConductorKind.BRAID, 0.0045),
    ],
)
def test_conductor_of_each_kind(lines, kind, radius):
    conductor = design(ring=f'perimeter = "3 m"\n[ring.conductor]\n{lines}').ring.conductor
    assert conductor.kind is kind
    assert conductor.electrical_radius == pytest.approx(radius, rel=1e-14, abs=0)
    assert conductor.roughness_factor == (2.5 if kind is ConductorKind.BRAID else 1.0)


def test_conductivity_stands_in_place_of_a_material_everywhere():
    read = design(
        ring='perimeter = "3 m"\n[ring.conductor]\ndiameter = "22 mm"\nconductivity = "58 MS/m"',
        coupling='diameter = "0.18 m"\n[coupling.conductor]\ndiameter = "5 mm"\nconductivity = "30 MS/m"',
        rest='[site]\n[[site.metal]]\nfrom = ["0 m", "2 m", "1 m"]\nto = ["1 m", "2 m", "1 m"]\n'
        'diameter = "10 mm"\nconductivity = "6 MS/m"\nmu_r = 80',
    )
    assert read.ring.conductor.conductivity == 58e6
    assert read.ring.conductor.material is None
    assert read.coupling.conductor.conductivity == 30e6
    assert (read.site.metal[0].conductivity, read.site.metal[0].mu_r) == (6e6, 80.0)


def test_squash_makes_the_coupling_loop_an_oval():
    coupling = design(coupling='diameter = "0.18 m"\nsquash = 1.8').coupling
    assert (coupling.shape, coupling.squash) == (CouplingShape.OVAL, 1.8)


def test_clearance_of_a_centred_loop_is_what_the_sizes_leave():
    read = design(ring='diameter = "1 m"', coupling='at = "centre"\ndiameter = "0.2 m"')
    # Half a metre less the loop's radius and both conductors' radii.
    assert read.coupling.clearance == pytest.approx(0.5 - 0.1 - 0.011 - 0.003, rel=1e-12, abs=0)


def test_capacitor_with_esr_fixed_part_and_measured_law():
    capacitor = design(
        capacitor='kind = "butterfly"\nfixed = "50 pF"\nesr = "40 mohm"\ntravel = "90 deg"\n'
        'table = [[0, "15 pF"], [40.5, "70 pF"], [90, "250 pF"]]'
    ).capacitor
    assert (capacitor.fixed, capacitor.esr, capacitor.q) == (50e-12, 0.04, None)
    assert (capacitor.travel_unit, capacitor.law) == ("deg", ((0.0, 15e-12), (40.5, 70e-12), (90.0, 250e-12)))
    assert capacitor.travel == pytest.approx(90.0, rel=1e-15, abs=0)


def test_a_falling_table_is_a_law_too():
    law = design(capacitor='travel = "16 turns"\ntable = [[0, "250 pF"], [16, "15 pF"]]').capacitor.law
    assert law == ((0.0, 250e-12), (16.0, 15e-12))


def test_mesh_is_two_edges_from_a_corner():
    (mesh,) = design(
        rest='[site]\n[[site.metal]]\nkind = "mesh"\ncorner = ["-2 m", "2 m", "0.2 m"]\nalong = ["4 m", "0 m", "0 m"]\n'
        'across = ["0 m", "0 m", "2.4 m"]\nspacing = "0.4 m"\ndiameter = "8 mm"'
    ).site.metal
    assert isinstance(mesh, SiteMesh)
    assert (mesh.corner, mesh.along, mesh.across) == ((-2.0, 2.0, 0.2), (4.0, 0.0, 0.0), (0.0, 0.0, 2.4))
    assert (mesh.spacing, mesh.diameter, mesh.material) == (0.4, 0.008, "steel")


def test_a_feedline_without_loss_needs_no_frequency_for_it():
    feedline = design(rest='[feedline]\nlength = "10 m"').feedline
    assert (feedline.impedance, feedline.loss, feedline.loss_frequency, feedline.length) == (
        50.0,
        0.0,
        None,
        10.0,
    )


def test_a_zero_esr_is_an_ideal_capacitor():
    assert design(capacitor='esr = "0 ohm"').capacitor.esr == 0.0


@pytest.mark.parametrize(
    ("ring", "site", "absent"),
    [
        ("", "", ("site.height", "site.x_bearing", "site.turn")),
        ("", '[site]\nearth = "free space"', ("site.height", "site.x_bearing")),
        ('plane = "horizontal"', "", ("the coupling loop at the bottom",)),
    ],
)
def test_a_default_that_plays_no_part_is_not_listed(ring, site, absent):
    text = (
        f'format = 1\nname = "least"\nbands = ["40m"]\n[ring]\nperimeter = "3.2 m"\n{ring}\n'
        '[coupling]\ndiameter = "0.18 m"\n[capacitor]\nminimum = "15 pF"\nmaximum = "250 pF"\n' + site
    )
    notes = " ".join(parse_design(text, source="least").defaults_used)
    assert not [name for name in absent if name in notes]
