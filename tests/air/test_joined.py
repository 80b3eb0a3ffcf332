# SPDX-License-Identifier: BSD-3-Clause
"""Reports of the record and of the table as one; and the light at both ends of each."""

from dataclasses import replace

import numpy as np

from ringwright.air.joined import joined
from ringwright.air.locator import Place, place_of
from ringwright.air.summary import LIGHTS, light_table, lights
from ringwright.air.sun import Light
from tests.air.campaigns import START, reports_of


def some(count, *, start=0, names=("A", "B")):
    order = np.arange(start, start + count)
    found = reports_of(
        START + 60.0 * order,
        receiver=order % 5,
        snr=-10.0 - order % 7,
        power=np.full(count, 5.0),
        antenna=order % 2,
    )
    return replace(found, antennas=names)


def told(reports):
    return {
        (time, reports.receivers[who], reports.antennas[which] if which >= 0 else "", snr)
        for time, who, which, snr in zip(
            reports.time, reports.receiver, reports.antenna, reports.snr, strict=True
        )
    }


def test_each_report_counts_once_and_names_stay_with_their_reports():
    first, second = some(30), some(30, start=20, names=("A", "B", "spare"))
    # The same receivers and antennas, in another order.
    turned = replace(
        second,
        receivers=second.receivers[::-1],
        receiver=(4 - second.receiver).astype(np.int32),
        antennas=("B", "A", "spare"),
        antenna=(1 - second.antenna).astype(np.int32),
    )
    both = joined(first, turned)
    assert (len(both.reports), both.new) == (50, 20)
    assert told(both.reports) == told(first) | told(second)
    assert joined(both.reports, first).new == 0


def test_times_are_alike_to_the_second_and_what_is_not_told_stays_untold():
    first = some(10)
    second = replace(first, time=first.time + 0.3, antenna=np.full(10, -1, dtype=np.int32))
    assert joined(first, replace(first, time=first.time + 0.3)).new == 0
    both = joined(first, second)
    assert both.new == 10
    assert (both.reports.antenna[10:] == -1).all()
    assert (both.reports.place == -1).all()


def test_the_light_table_counts_every_report_once():
    reports = some(1000)
    place = np.arange(1000) % 3 - 1
    places = (place_of("RE78ir"), Place(latitude=0.0, longitude=0.0, uncertainty=1.0))
    reports = replace(reports, place=place.astype(np.int32), places=places)
    home = place_of("JJ00aa")
    table, (here, there) = light_table(reports, home), lights(reports, home)
    assert sum(map(sum, table.both)) + sum(table.placeless) == 1000
    assert table.here == tuple(int((here == each.value).sum()) for each in LIGHTS)
    assert table.there == tuple(int((there == each.value).sum()) for each in LIGHTS)
    assert LIGHTS[0] is Light.DAY
    assert sum(table.placeless) == int((place < 0).sum())
