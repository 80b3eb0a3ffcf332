# SPDX-License-Identifier: BSD-3-Clause
"""How the addresses of the watt budget are told apart wherever they are drawn: order, letter, colour."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AddressMark:
    """`name` as in `watts_pct`; the letter doubles the colour for eyes and printers that see no colour.

    `ink` is readable on the colour.
    """

    name: str
    letter: str
    colour: str
    ink: str
    words: str


# Colours: M. Okabe, K. Ito, Color Universal Design, 2008. The sky comes first, in the copper of the set.
ADDRESS_MARKS = (
    AddressMark("sky", "S", "#D55E00", ink="#000000", words="sky"),
    AddressMark("earth", "E", "#009E73", ink="#000000", words="earth"),
    AddressMark("ring", "R", "#56B4E9", ink="#000000", words="ring"),
    AddressMark("joints", "J", "#F0E442", ink="#000000", words="joints"),
    AddressMark("capacitor", "C", "#0072B2", ink="#FFFFFF", words="capacitor"),
    AddressMark("coupling", "L", "#CC79A7", ink="#000000", words="coupling"),
    AddressMark("metal", "M", "#E69F00", ink="#000000", words="nearby metal"),
)
