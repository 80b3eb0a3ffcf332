# SPDX-License-Identifier: BSD-3-Clause
"""What the capacitor stands, how warm it gets, and what each part of it sees, in a line or two."""

from collections.abc import Iterator

from ringwright.antenna.capacitor_rating import PLATE_GAP
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.prediction import BandPrediction


def capacitor_replies(band: BandPrediction) -> Iterator[tuple[str, str]]:
    """Question and reply."""
    capacitor = band.capacitor

    def text(key: str) -> str:
        figure = FIGURES[f"capacitor.{key}"]
        return figure.text(figure.of(band))

    warmth = f"{text('heat_w')} of heat in it"
    if capacitor.temperature_rise is not None:
        warmth += f", {text('temperature_rise_k')} above the air"
    if capacitor.stands_peak is None:
        yield "stands", f"unknown; {warmth}"
    else:
        guess = ", a guide" if capacitor.stands_set_by == PLATE_GAP else ""
        stands = f"{text('stands_peak_v')} peak by its {text('stands_set_by')}{guess}"
        yield "stands", f"{stands}; at worst {text('must_stand_peak_v')} is on it; {warmth}"
    shares = [f"{text('variable_current_rms_a')} in the variable one"]
    if capacitor.fixed_current_rms is not None:
        shares.append(f"{text('fixed_current_rms_a')} in the fixed one")
    if capacitor.series_voltage_peak is not None:
        shares += [
            f"{text('variable_voltage_peak_v')} on it",
            f"{text('series_voltage_peak_v')} on the series one",
        ]
    if len(shares) > 1:
        yield "shares", ", ".join(shares)
