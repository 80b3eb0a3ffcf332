# SPDX-License-Identifier: BSD-3-Clause
"""What a table of keep-out distances does not say by itself, in sentences."""

from collections.abc import Iterator

from ringwright.safety.keepout import BandKeepOut
from ringwright.units import format_quantity


def set_by_metal(found: BandKeepOut, unit: str) -> Iterator[str]:
    """Why advised distances reach as far as they do where metal is why, a sentence for each kind of it."""
    for kind in dict.fromkeys(row.advised_beside for row in found.by_limit if row.advised_beside):
        rows = [row for row in found.by_limit if row.advised_beside == kind]
        ends = sorted(float(format_quantity(row.distance_advised, unit).split()[0]) for row in rows)
        least, most = (f"{each:.1f}" for each in (ends[0], ends[-1]))
        far = most if least == most else f"{least} to {most}"
        limits = ", ".join(f"{row.limit.name} {row.limit.tier.value}" for row in rows)
        which = "all advised ones" if len(rows) == len(found.by_limit) else limits
        yield f"Set by the field at the {kind}, {far} {unit} from the ring's centre: {which}."
