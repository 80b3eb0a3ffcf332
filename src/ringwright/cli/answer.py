# SPDX-License-Identifier: BSD-3-Clause
"""One prediction as an answer to a builder's questions: where the watts go, what it reaches, takes and must stand."""

from collections.abc import Iterator

from ringwright.antenna.design import Design
from ringwright.antenna.figures import FIGURES
from ringwright.antenna.figures.figure import cost_in_decibels, in_decibels
from ringwright.antenna.geometry import Wires
from ringwright.antenna.prediction import BandPrediction, Prediction
from ringwright.cli.calibration_words import layer_line
from ringwright.cli.capacitor_words import capacitor_replies
from ringwright.cli.terminal import Terminal
from ringwright.cli.watt_bar import shares, watt_bar
from ringwright.cli.words import CAUTION, band_name, cautions, design_in_words

_INDENT = "  "
WORTH_MATCHING = 1.5
"""SWR up to which nobody bothers; common practice, no source."""
_ALIKE = ("with the stated tolerances", "that fit its sweeps")
_NO_RATING = "unknown: the design states no rated voltage or current and no plate gap of the capacitor"


def show_answer(design: Design, prediction: Prediction, terminal: Terminal, *, is_imperial: bool) -> None:
    """Print everything a builder asks first."""
    terminal.say(terminal.strong(prediction.design))
    terminal.say(terminal.wrapped(design_in_words(design, is_imperial=is_imperial)))
    layer = layer_line(design)
    if layer is not None:
        terminal.say(terminal.wrapped(layer))
    for notice in prediction.warnings:
        if notice.band is None:
            terminal.say(terminal.wrapped(notice.text, first="! "))
    for band in prediction.bands:
        terminal.say()
        for line in _band(design, prediction, band, terminal=terminal):
            terminal.say(line)
    worst = max(prediction.bands, key=lambda band: band.match.swr_min)
    if worst.match.swr_min > WORTH_MATCHING:
        terminal.say()
        terminal.say(
            terminal.wrapped(
                f"ringwright match finds one coupling for all bands; {band_name(worst)} misses most."
            )
        )
    terminal.say()
    for caution in cautions(design, prediction.bands):
        terminal.say(terminal.wrapped(caution, first=f"{CAUTION} "))
    terminal.say()
    terminal.say(
        terminal.wrapped(
            f"Beside a figure stands what four of five rings {_ALIKE[layer is not None]} have. "
            f"{len(prediction.defaults_used)} values were left to defaults. --explain lists them, and says of every "
            "figure what it is, how it is found, from what, how far it holds, and which tolerance leads its range."
        )
    )


def _band(
    design: Design, prediction: Prediction, band: BandPrediction, *, terminal: Terminal
) -> Iterator[str]:
    name = f"{band.band} " if band.band else ""
    yield terminal.strong(f"{name}{_text('frequency_hz', band)}")
    yield _INDENT + watt_bar(band, terminal, cells=terminal.width - 2 * len(_INDENT))
    yield from _budget(design, band, terminal)
    for question, reply in _replies(band):
        yield terminal.wrapped(reply, first=f"{_INDENT}{question:<12}", rest=" " * 14)
    for notice in prediction.warnings:
        if band.band is not None and notice.band == band.band:
            yield terminal.wrapped(notice.text, first=f"{_INDENT}! ")


def _budget(design: Design, band: BandPrediction, terminal: Terminal) -> Iterator[str]:
    for mark, share in shares(band):
        per_cent = FIGURES[f"watts_pct.{mark.name}"].text(share)
        watts = FIGURES["limits.power_max_w"].text(design.power * share / 100.0)
        letter = terminal.coloured(mark.letter, mark.colour)
        cost = cost_in_decibels(share)
        alone = f"alone costs {cost}" if cost is not None else ""
        meaning = f"= {in_decibels(share)}" if mark.name == "sky" else alone
        span = _range(f"watts_pct.{mark.name}", band)
        yield f"{_INDENT}{letter} {mark.words:<12} {per_cent:>8} {span:<9} {watts:>8} {meaning}".rstrip()


def _replies(band: BandPrediction) -> Iterator[tuple[str, str]]:
    def text(key: str) -> str:
        return _text(key, band)

    def with_range(key: str) -> str:
        span = _range(key, band)
        return f"{text(key)} ({span})" if span else text(key)

    yield "reaches", _reach(band)
    taken = f"{text('limits.power_max_w')}, set by the {text('limits.set_by')}"
    if _range("limits.power_max_w", band):
        taken += ", at the unfavourable end of the tolerances"
    yield (
        "takes",
        taken if band.limits.power_max is not None else _NO_RATING,
    )
    across, through = (
        with_range("tuning.capacitor_voltage_peak_v"),
        with_range("tuning.capacitor_current_rms_a"),
    )
    most = with_range("tuning.ring_current_max_rms_a")
    yield "must stand", f"{CAUTION} {across} peak on the capacitor, {through} in it, {most} in the ring"
    yield from capacitor_replies(band)
    yield "meets", _match(band)
    step = f"; one microstep is {text('tuning.step_hz')}" if band.tuning.step is not None else ""
    drift = f"{text('tuning.drift_per_kelvin_hz')} a kelvin"
    yield (
        "rings",
        f"Q {with_range('q_unloaded')}, half-power bandwidth {text('bandwidth_half_power_hz')}{step}; {drift}",
    )
    if band.drive is not None:
        yield "drives", _drive(band)
    best, low = with_range("pattern.gain_max_dbi"), text("pattern.gain_20deg_dbi")
    yield "sends", f"{best} at best, {low} at 20 deg elevation; EIRP {with_range('limits.eirp_w')}"


def _reach(band: BandPrediction) -> str:
    tuning = band.tuning
    ends = [_text(key, band) for key in ("tuning.tunes_from_hz", "tuning.tunes_to_hz")]
    span = f"from {ends[0]}" if tuning.tunes_to is None else f"up to {ends[1]}"
    if tuning.tunes_from is not None and tuning.tunes_to is not None:
        span = _span(*ends)
    if tuning.tunes_from is None and tuning.tunes_to is None:
        span = "beyond what the method can tell"
    where = f" at {_text('tuning.at_travel', band)} of the travel" if tuning.at_travel is not None else ""
    missed = "" if tuning.reachable else ", NOT all of this band"
    return f"{span}{missed}; here it needs {_text('tuning.capacitance_f', band)}{where}"


def _match(band: BandPrediction) -> str:
    span = _range("match.swr_min", band)
    best = f"SWR {_text('match.swr_min', band)}{f' ({span})' if span else ''} at best"
    if band.bandwidth_swr2 is None:
        is_over_coupled = band.point.tuned.is_over_coupled(band.match.frequency)
        where = _text("match.frequency_hz", band)
        return (
            f"{best} at {where}, never below 2: {_remedy(band.point.wires, is_over_coupled=is_over_coupled)}"
        )
    low, high = (_text(f"match.swr2_{edge}_hz", band) for edge in ("low", "high"))
    return f"{best}, below 2 for {_text('bandwidth_swr2_hz', band)}: {_span(low, high)}"


def _remedy(wires: Wires, *, is_over_coupled: bool) -> str:
    if wires.core is not None:
        return f"wind {'more' if is_over_coupled else 'fewer'} primary turns"
    if wires.beside is not None:
        return f"tap the ring {'nearer to' if is_over_coupled else 'further from'} the point opposite the gap"
    return f"make the coupling loop {'smaller' if is_over_coupled else 'larger'}"


def _drive(band: BandPrediction) -> str:
    drive = band.drive
    assert drive is not None
    if drive.lands_within is None:
        return "nowhere: the capacitor's travel is not stated or does not reach"
    lands, share = _text("drive.lands_within_hz", band), _text("drive.lands_within_pct", band)
    lost = f"windup {_text('drive.windup_worst_hz', band)}, backlash {_text('drive.backlash_worst_hz', band)}"
    on = (
        f"; {_text('drive.next_band_time_s', band)} to the next band"
        if drive.next_band_time is not None
        else ""
    )
    return f"lands within {lands} from one side, {share} of the width at SWR 2; {lost}{on}"


def _span(low: str, high: str) -> str:
    """Both ends with the unit said once."""
    return f"{low.rpartition(' ')[0]} to {high}"


def _text(key: str, band: BandPrediction) -> str:
    figure = FIGURES[key]
    return figure.text(figure.of(band))


def _range(key: str, band: BandPrediction) -> str:
    """Ends of a figure's range without its unit; empty where it has none worth a digit."""
    if key not in band.range:
        return ""
    return FIGURES[key].span(*band.range[key]) or ""
