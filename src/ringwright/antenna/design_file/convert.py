# SPDX-License-Identifier: BSD-3-Clause
"""From the validated tables to a `Design`: defaults that depend on other keys, and rules across keys."""

from collections import Counter
from dataclasses import replace

from ringwright.antenna.bands import band_of, bands_of
from ringwright.antenna.design import (
    SCREEN_DIAMETER,
    Design,
    Feedline,
    Ring,
    Site,
    Target,
    Tolerance,
)
from ringwright.antenna.design_file.building import read_building, read_parts, read_stand
from ringwright.antenna.design_file.capacitor import read_capacitor
from ringwright.antenna.design_file.conductor import greatest_thickness
from ringwright.antenna.design_file.coupling import read_coupling
from ringwright.antenna.design_file.drive import read_drive
from ringwright.antenna.design_file.made_capacitor import write_out
from ringwright.antenna.design_file.models import DesignTable, FeedlineTable
from ringwright.antenna.design_file.place import Place
from ringwright.antenna.design_file.ring import read_ring
from ringwright.antenna.design_file.site import read_site
from ringwright.antenna.modes import FULL_CARRIER, MODE_FACTORS
from ringwright.errors import DesignError
from ringwright.units import format_quantity


def to_design(table: DesignTable) -> Design:
    """Build the design a file describes, with a note for each default it left to us."""
    place = Place()
    place.note_unset(table)
    mode, mode_factor, transmit_share = _averaging(table, place)
    ring = read_ring(table.ring, place.under("ring"))
    coupling = read_coupling(table.coupling, ring, place.under("coupling"))
    targets = _targets(table)
    written, made = write_out(table.capacitor, targets, place.under("capacitor"))
    capacitor = replace(read_capacitor(written, place.under("capacitor")), made=made)
    drive = read_drive(table.drive, capacitor, place.under("drive"))
    feedline = _feedline(table.feedline, place.under("feedline"))
    site = read_site(table.site, place.under("site"))
    _hold_above_earth(ring, site)
    place.under("tolerance").note_unset(table.tolerance)
    building = read_building(table.build, ring, place.under("build"))
    stand = read_stand(table.stand, site, place.under("stand"))
    parts = read_parts(table.parts, place)
    return Design(
        name=table.name,
        targets=targets,
        ring=ring,
        coupling=coupling,
        capacitor=capacitor,
        power=table.power,
        mode=mode,
        mode_factor=mode_factor,
        transmit_share=transmit_share,
        region=table.region,
        drive=drive,
        feedline=feedline,
        site=site,
        tolerance=Tolerance(
            capacitor_q=table.tolerance.capacitor_q,
            joint_resistance=table.tolerance.joint_resistance,
            earth=table.tolerance.earth,
        ),
        building=building,
        stand=stand,
        parts=parts,
        defaults_used=tuple(place.notes),
    )


def _targets(table: DesignTable) -> tuple[Target, ...]:
    if table.bands is None and table.tune_to is None:
        raise DesignError(
            'bands is missing; say what to predict, as in bands = ["40m"], or write [[tune_to]]'
        )
    known = bands_of(table.region)
    targets = []
    for name in table.bands or []:
        band = known[name]
        targets.append(Target(band=name, frequency=band.centre, low=band.low, high=band.high))
    for entry in table.tune_to or []:
        within = band_of(entry.frequency, table.region)
        name_within = None if within is None else within.name
        targets.append(
            Target(band=name_within, frequency=entry.frequency, low=entry.frequency, high=entry.frequency)
        )
    for target, count in Counter(targets).items():
        if count > 1:
            twice = (
                f'bands names "{target.band}"'
                if target.low < target.high
                else f"tune_to names {format_quantity(target.frequency, 'MHz')}"
            )
            raise DesignError(f"{twice} {count} times; leave the repetition out")
    return tuple(targets)


def _averaging(table: DesignTable, place: Place) -> tuple[str | None, float, float]:
    """Mode, mode factor and transmit share; `duty` is the product of the last two."""
    if table.duty is not None:
        for key in ("mode", "transmit_share"):
            if getattr(table, key) is not None:
                raise DesignError(
                    f"duty and {key} are both given, but duty is mode factor times transmit share; leave one out"
                )
        return None, table.duty, 1.0
    if table.mode is None:
        place.note("mode", FULL_CARRIER, "factor 1, the safe side")
    if table.transmit_share is None:
        place.note("transmit_share", 1, "transmitting all the time, the safe side")
    return table.mode, MODE_FACTORS[table.mode or FULL_CARRIER], table.transmit_share or 1.0


def _hold_above_earth(ring: Ring, site: Site) -> None:
    radius = greatest_thickness(ring.conductor) / 2.0
    if site.earth is not None and site.height <= radius:
        raise DesignError(
            f"site.height of {format_quantity(site.height, 'm')} lays the ring into the earth; "
            f"raise it above {format_quantity(radius, 'm')}"
        )


def _feedline(table: FeedlineTable, place: Place) -> Feedline:
    if table.loss_per_100m > 0.0 and table.loss_at is None:
        raise DesignError(
            'feedline.loss_at is missing; say at which frequency the loss holds, as in "10 MHz"'
        )
    if table.outer_diameter is not None and table.outside == "ignored":
        raise DesignError(
            'feedline.outer_diameter counts only where the outside does; add outside = "straight down" or remove it'
        )
    place.note_unset(table)
    return Feedline(
        impedance=table.impedance,
        loss=table.loss_per_100m / 100.0,
        loss_frequency=table.loss_at,
        length=table.length,
        choke=table.choke,
        runs_down=table.outside == "straight down",
        outer_diameter=table.outer_diameter or SCREEN_DIAMETER,
    )
