# SPDX-License-Identifier: BSD-3-Clause
"""What a ring's losses cost on receive: external noise against efficiency and the receiver's own noise.

Loss weakens signal and external noise alike; only the noise that the ring and the receiver add themselves is then
stronger by comparison. Where external noise is far above that, a lossy ring costs nothing.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

import numpy as np

from ringwright.antenna.design import Design
from ringwright.antenna.prediction import BandPrediction
from ringwright.errors import OutOfRangeError
from ringwright.physics.feedline import attenuation_at


class NoisePlace(StrEnum):
    """Environmental categories of Recommendation ITU-R P.372 for man-made noise."""

    CITY = "city"
    RESIDENTIAL = "residential"
    RURAL = "rural"
    QUIET_RURAL = "quiet rural"


MAN_MADE: Mapping[NoisePlace, tuple[float, float]] = MappingProxyType(
    {
        NoisePlace.CITY: (76.8, 27.7),
        NoisePlace.RESIDENTIAL: (72.5, 27.7),
        NoisePlace.RURAL: (67.2, 27.7),
        NoisePlace.QUIET_RURAL: (53.6, 28.6),
    }
)
"""Constants c and d of the median noise figure c - d log10(f/MHz) [dB], 0.3 to 250 MHz: ITU-R P.372, sec. 5."""
GALACTIC = (52.0, 23.0)
"""The same for galactic noise, ITU-R P.372, sec. 4: 52 - 23 log10(f/MHz) [dB], up to 100 MHz."""
GALACTIC_FROM = 10e6
"""Below, the ionosphere's critical frequency mostly keeps galactic noise out [Hz]; left out it errs to more loss."""
RECEIVER_NOISE_FIGURE = 15.0
"""Of a usual short-wave receiver [dB]. Common practice, no source."""
NOTICED = 1.0
"""A loss of signal-to-noise ratio that nobody hears is smaller than this [dB]. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reception:
    """One frequency at one kind of place: external noise figure [dB] and the decibels that the ring's loss costs.

    `least_efficiency` [1] is that at which the cost is just `NOTICED`; `costs_nothing` where the ring has more.
    """

    place: NoisePlace
    external_noise_figure_db: float
    loss_db: float
    least_efficiency: float
    costs_nothing: bool


def external_noise_figure(frequency: float, place: NoisePlace) -> float:
    """Median noise figure Fa of what arrives, man-made and galactic [dB over k T0 B]; lightning is not in it.

    Raises
    ------
    OutOfRangeError
        Outside 0.3 to 100 MHz.
    """
    if not 0.3e6 <= frequency <= 100e6:
        raise OutOfRangeError(f"external noise is known from 0.3 to 100 MHz, got {frequency / 1e6:.4g} MHz")
    decade = float(np.log10(frequency / 1e6))
    factor = 10.0 ** ((MAN_MADE[place][0] - MAN_MADE[place][1] * decade) / 10.0)
    if frequency >= GALACTIC_FROM:
        factor += 10.0 ** ((GALACTIC[0] - GALACTIC[1] * decade) / 10.0)
    return float(10.0 * np.log10(factor))


def reception(
    frequency: float,
    efficiency: float,
    place: NoisePlace,
    *,
    feedline_loss_db: float = 0.0,
    receiver_noise_figure_db: float = RECEIVER_NOISE_FIGURE,
) -> Reception:
    """Cost of a ring's loss in signal-to-noise ratio, against the same ring without loss on the same receiver.

    System noise factor f = fa - 1 + lc lt fr with everything at T0, lc = 1/efficiency: ITU-R P.372, sec. 2. Noise is
    taken as arriving from everywhere alike; what the pattern gains against one source is not in it.

    Parameters
    ----------
    frequency : float
        [Hz]
    efficiency : float
        Share that the ring would radiate into the sky, 0 to 1. [1]
    place : NoisePlace
        How much man-made noise there is.
    feedline_loss_db : float
        Between ring and receiver. [dB]
    receiver_noise_figure_db : float
        [dB]

    Returns
    -------
    Reception

    Raises
    ------
    OutOfRangeError
        If efficiency or frequency is outside its range.
    """
    if not 0.0 < efficiency <= 1.0:
        raise OutOfRangeError(f"efficiency must be above 0 and at most 1, got {efficiency:.4g}")
    noise_figure = external_noise_figure(frequency, place)
    external = 10.0 ** (noise_figure / 10.0) - 1.0
    own = 10.0 ** ((feedline_loss_db + receiver_noise_figure_db) / 10.0)
    loss_db = float(10.0 * np.log10((external + own / efficiency) / (external + own)))
    allowed = 10.0 ** (NOTICED / 10.0)
    return Reception(
        place=place,
        external_noise_figure_db=noise_figure,
        loss_db=loss_db,
        least_efficiency=own / (allowed * (external + own) - external),
        costs_nothing=loss_db < NOTICED,
    )


def receptions(design: Design, band: BandPrediction) -> tuple[Reception, ...]:
    """What a predicted ring's loss costs on receive, at each kind of place, through the design's feedline."""
    line, loss_db = design.feedline, 0.0
    if line.loss_frequency is not None:
        loss = line.loss * line.length
        loss_db = float(
            attenuation_at(band.frequency, attenuation=loss, reference_frequency=line.loss_frequency)
        )
    efficiency = min(band.efficiency_sky_pct / 100.0, 1.0)
    return tuple(
        reception(band.frequency, efficiency, place, feedline_loss_db=loss_db) for place in NoisePlace
    )
