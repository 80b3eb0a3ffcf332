# SPDX-License-Identifier: BSD-3-Clause
"""How the addresses of the watt budget are told apart wherever they are drawn: order, letter, colour."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AddressMark:
    """`name` as in `watts_pct`; the letter doubles the colour for eyes and printers that see no colour."""

    name: str
    letter: str
    colour: str
    words: str


# Colours: M. Okabe, K. Ito, Color Universal Design, 2008. The sky comes first, in the copper of the set.
ADDRESS_MARKS = (
    AddressMark("sky", "S", "#D55E00", "sky"),
    AddressMark("earth", "E", "#009E73", "earth"),
    AddressMark("ring", "R", "#56B4E9", "ring"),
    AddressMark("joints", "J", "#F0E442", "joints"),
    AddressMark("capacitor", "C", "#0072B2", "capacitor"),
    AddressMark("coupling", "L", "#CC79A7", "coupling loop"),
    AddressMark("metal", "M", "#E69F00", "nearby metal"),
)
