# SPDX-License-Identifier: BSD-3-Clause
"""What can hurt near a ring, in short sentences that pages, reports and the command line share."""

from typing import Final

HIGH_VOLTAGE: Final = (
    "The capacitor carries kilovolts at a few watts, and they burn, also across air: never touch or adjust the ring "
    "while transmitting, and keep it out of others' reach."
)
IMPLANTS: Final = (
    "People with a pacemaker or another active implant stay farther away than any distance here: these limits do not "
    "protect implants. Their physician or the maker decides."
)
NEARBY_METAL: Final = (
    "Railings, gutters and cables near the ring can burn a hand that touches them while you transmit, also where the "
    "field is below the limits."
)
DISTANCES: Final = (
    "Distances count from the ring's centre and hold for the site as described; a cable, a wall or a person not in the "
    "description changes the field. Where in doubt they err to the safe side: keep the advised distance."
)
NEAR_FIELD: Final = (
    "The far-field formula and the null of a small loop do not hold this close: along the axis, where a station far "
    "away hears nothing, the magnetic field is strongest."
)
AUTHORITY: Final = (
    "Limits and codes differ by country and change: the conditions of your licence and your local codes decide, and "
    "licensed practice goes before this text."
)

CAUTIONS: Final = (HIGH_VOLTAGE, DISTANCES, NEARBY_METAL, IMPLANTS, NEAR_FIELD, AUTHORITY)
"""All of them, in the order in which they are shown beside keep-out distances."""
